/**
 * A function that works out what the given one does, once for each value, and keeps it.
 *
 * Checked: tests/buying/remembered.test.ts
 */
export function remembered<In, Out>(f: (value: In) => Out): (value: In) => Out {
  const known = new Map<In, Out>();
  return (value) => {
    if (!known.has(value)) known.set(value, f(value));
    return known.get(value)!;
  };
}

/**
 * The same for a number, not NaN, of each of 0 … most: numbers side by side need no look into a map.
 *
 * Checked: tests/buying/remembered.test.ts
 */
export function rememberedUpTo(most: number, f: (k: number) => number): (k: number) => number {
  const known = new Float64Array(most + 1).fill(Number.NaN);
  return (k) => {
    const before = known[k]!;
    if (!Number.isNaN(before)) return before;
    const made = f(k);
    known[k] = made;
    return made;
  };
}
