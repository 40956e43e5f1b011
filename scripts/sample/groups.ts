/** The things under their names, names in order of first appearance. */
export function groups<T>(things: readonly T[], name: (thing: T) => string): Map<string, T[]> {
  const map = new Map<string, T[]>();
  for (const thing of things) {
    const group = map.get(name(thing));
    if (group) group.push(thing);
    else map.set(name(thing), [thing]);
  }
  return map;
}
