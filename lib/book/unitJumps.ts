import {sortedQuantile} from "../stats/quantile.ts";
import {gPerOunce, gPerPound, mmPerFoot, mmPerInch} from "../wood/units.ts";

/** A size that differs from the others of its column as one unit does from another. */
export interface UnitJump<K extends string> {
  key: K;
  wanted: string;
  mend: string;
}

/** How much of ours the units are that are mistaken for it in a workshop. */
const ratios = {
  mm: [
    {unit: "inches", ratio: mmPerInch},
    {unit: "centimetres", ratio: 10},
    {unit: "metres", ratio: 1000},
    {unit: "feet", ratio: mmPerFoot}
  ],
  g: [
    {unit: "ounces", ratio: gPerOunce},
    {unit: "pounds", ratio: gPerPound},
    {unit: "kilograms", ratio: 1000}
  ]
} as const;

/** The middles of columns; undefined of one with fewer than three sizes. */
export type Middles<K extends string> = Readonly<Record<K, number | undefined>>;

/** Nearer to the middle of its column than this, a size is a size: squares of one workshop are alike. */
const plain = 4;
/** So near to the middle must a size come once its unit is set right. */
const near = 1.3;

/**
 * Records with a size, mm, or a mass, g, that is far from the middle of its column and near to it once taken for inches,
 * centimetres, metres or feet, for ounces, pounds or kilograms. Far: more than 4 times off; near: within 1.3 times; both ours. Fewer than three sizes have no middle to go by.
 *
 * @param middles the middles of the columns, where the records are only some of a file's; those of the records unless given
 * @returns the first such size of each record that has one
 */
export function unitJumps<T, K extends keyof T & string>(
  records: readonly T[],
  keys: readonly K[],
  unit: keyof typeof ratios = "mm",
  middles?: Middles<K>
): Map<T, UnitJump<K>> {
  const jumps = new Map<T, UnitJump<K>>();
  for (const key of keys) {
    const middle = middles ? middles[key] : middleOf(records.map((record) => record[key]));
    if (middle === undefined) continue;
    const factor = (size: number) => Math.max(size / middle, middle / size);
    for (const record of records) {
      const size = record[key];
      if (typeof size !== "number" || jumps.has(record) || factor(size) <= plain) continue;
      const meant = ratios[unit].find(({ratio}) => factor(size * ratio) < near);
      if (!meant) continue;
      const mend = `Taken for ${meant.unit} it would be ${Number((size * meant.ratio).toPrecision(4))} ${unit}. Write it in the unit of its column.`;
      jumps.set(record, {
        key,
        wanted: `in the unit of the others, which lie around ${Number(middle.toPrecision(3))} ${unit}`,
        mend
      });
    }
  }
  return jumps;
}

/** The middle of the sizes of a column, undefined where fewer than three are given; blank ones may be NaN. */
export function middleOf(sizes: ArrayLike<unknown>): number | undefined {
  const known = new Float64Array(sizes.length);
  let count = 0;
  for (let i = 0; i < sizes.length; i++) {
    const size = sizes[i];
    if (typeof size === "number" && !Number.isNaN(size)) known[count++] = size;
  }
  return count < 3 ? undefined : sortedQuantile(known.subarray(0, count).sort(), 0.5);
}

/** Whether a size is so far from the middle of its column, if it has one, that it is looked at. */
export function isFarSize(size: number, middle: number | undefined): boolean {
  return middle !== undefined && Math.max(size / middle, middle / size) > plain;
}
