/** By which of two habits cells were written, as far as those tell that can be read by one habit only. */
export interface Evidence<K extends string> {
  /** The habit with more such cells; absent when neither has. */
  habit?: K;
  /** Cells readable by one habit only, by habit. */
  counts: Record<K, number>;
  /** Whether at least 9 of 10 such cells are by the habit (the 9 of 10 is our choice). */
  clear: boolean;
}

/** What a cell says: its value, two values it may have, or a value that it has only by the habit that is not the file's. */
export type Resolved<V> = {value: V} | {ambiguous: readonly [V, V]} | {other: V};

/**
 * The evidence of cells for one of two habits, such as day-first or month-first, decimal point or decimal comma. Each cell is
 * given by its readings, one for each habit by which it can be read. A cell readable by both is no evidence, even if the two
 * readings are equal, nor is a cell readable by neither. `before` are cells that were counted already.
 *
 * Checked: tests/book/evidence.test.ts
 *
 * @example weigh([{point: 12.5}, {point: 1.234, comma: 1234}], ["point", "comma"]) // {habit: "point", counts: {point: 1, comma: 0}, clear: true}
 */
export function weigh<K extends string>(
  cells: Iterable<Partial<Record<K, unknown>>>,
  [first, second]: readonly [K, K],
  before: Partial<Record<K, number>> = {}
): Evidence<K> {
  const counts = {[first]: before[first] ?? 0, [second]: before[second] ?? 0} as Record<K, number>;
  for (const cell of cells) {
    const byFirst = cell[first] !== undefined;
    const bySecond = cell[second] !== undefined;
    if (byFirst !== bySecond) counts[byFirst ? first : second]++;
  }
  if (counts[first] === counts[second]) return {counts, clear: false};
  const [habit, rival] = counts[first] > counts[second] ? [first, second] : [second, first];
  return {habit, counts, clear: counts[habit] >= 9 * counts[rival]};
}

/**
 * What one cell says, given the evidence of its fellows.
 *
 * - Readable by one habit only: its value, or `other` if the evidence is for the other habit. Whoever asks refuses such a cell, as
 *   a decimal comma among decimal points is more likely a slip than a change of habit.
 * - Readable by both: its value if the two are equal or the evidence is clear, else both values, in the order of the habits.
 *
 * @returns undefined when the cell has no reading
 * @example resolve({point: 1.234, comma: 1234}, {habit: "point", counts: {point: 1, comma: 0}, clear: true}, ["point", "comma"]) // {value: 1.234}
 */
export function resolve<K extends string, V>(
  cell: Partial<Record<K, V>>,
  {habit, clear}: Evidence<K>,
  [first, second]: readonly [K, K]
): Resolved<V> | undefined {
  const byFirst: V | undefined = cell[first];
  const bySecond: V | undefined = cell[second];
  if (byFirst === undefined)
    return bySecond === undefined ? undefined : habit === first ? {other: bySecond} : {value: bySecond};
  if (bySecond === undefined) return habit === second ? {other: byFirst} : {value: byFirst};
  if (Object.is(byFirst, bySecond)) return {value: byFirst};
  if (clear) return {value: habit === first ? byFirst : bySecond};
  return {ambiguous: [byFirst, bySecond]};
}
