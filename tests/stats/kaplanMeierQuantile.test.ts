import fc from "fast-check";
import {expect, test} from "vitest";
import {kaplanMeierQuantile} from "../../lib/stats/kaplanMeierQuantile.ts";
import {shuffled, spells} from "./arbitrary.ts";

const done = (exits: number[]) => exits.map((exit) => ({exit, cause: "turned"}));

test("kaplanMeierQuantile(p = 1/2) of five done pieces is the third", () => {
  expect(kaplanMeierQuantile(done([9, 1, 4, 6, 7]), 0.5)).toBe(6);
});

test("kaplanMeierQuantile meets 1 − p in thirds and tenths in spite of rounding", () => {
  // 1/3 of three is reached at 2 exactly: the curve stays at 2/3 until 5, the middle is 3.5.
  expect(kaplanMeierQuantile(done([2, 5, 9]), 1 / 3)).toBe(3.5);
  expect(kaplanMeierQuantile(done([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]), 0.3)).toBe(3.5);
});

test("kaplanMeierQuantile is undefined while too many are still going on", () => {
  expect(kaplanMeierQuantile([{exit: 1, cause: "turned"}, {exit: 5}, {exit: 6}], 0.5)).toBeUndefined();
  expect(kaplanMeierQuantile([], 0.5)).toBeUndefined();
});

test("kaplanMeierQuantile refuses the ends", () => {
  expect(() => kaplanMeierQuantile([], 0)).toThrow("kaplanMeierQuantile: p must be between 0 and 1, got 0.");
});

test("kaplanMeierQuantile does not depend on the order of spells", () => {
  fc.assert(
    fc.property(spells, fc.nat(), (own, seed) => {
      expect(kaplanMeierQuantile(shuffled(own, seed), 0.3)).toEqual(kaplanMeierQuantile(own, 0.3));
    })
  );
});
