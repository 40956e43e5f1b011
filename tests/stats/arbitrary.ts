import fc from "fast-check";
import type {Spell} from "../../lib/stats/eventTable.ts";

/** Measurements such as a caliper or a scale gives: finite, of one magnitude. */
export const values = fc.array(
  fc.integer({min: -5000, max: 5000}).map((tenths) => tenths / 10),
  {
    minLength: 3,
    maxLength: 40
  }
);

/** Whole days with many ties, three causes, some still going on, some seen late. */
export const spell: fc.Arbitrary<Spell> = fc
  .record({
    exit: fc.integer({min: 0, max: 12}),
    cause: fc.constantFrom(undefined, "warp", "knot", "passed"),
    late: fc.integer({min: 0, max: 8})
  })
  .map(({exit, cause, late}) => ({
    exit,
    ...(cause !== undefined && {cause}),
    ...(late > 4 && late - 4 < exit && {entry: late - 4})
  }));

export const spells = fc.array(spell, {minLength: 1, maxLength: 40});

/** The same things in another order, drawn by a seed. */
export function shuffled<T>(things: readonly T[], seed: number): T[] {
  let state = seed;
  const keyed = things.map((thing) => {
    state = (state * 16807 + 12345) % 2147483647;
    return {thing, key: state};
  });
  return keyed.sort((a, b) => a.key - b.key).map(({thing}) => thing);
}

/** A list no function may change. */
export function frozen<T>(things: T[]): readonly T[] {
  return Object.freeze(things);
}
