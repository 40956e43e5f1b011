import {expect, test} from "vitest";
import {chanceWithin} from "../../lib/stats/chanceWithin.ts";

// Printed table of the normal law: 0.954500 within two standard deviations, 0.841345 below one.
test("chanceWithin of a normal value is the printed table's", () => {
  const known = {mean: 320, sd: 5, freedom: Infinity};
  expect(chanceWithin(known, {low: 310, high: 330})).toBeCloseTo(0.9545, 6);
  expect(chanceWithin(known, {high: 325})).toBeCloseTo(0.841345, 6);
  expect(chanceWithin(known, {low: 325})).toBeCloseTo(0.158655, 6);
  expect(chanceWithin(known, {})).toBe(1);
});

// Printed table of t: 3.182446 with 3 degrees of freedom, 2.228139 with 10, each 95 % two-sided.
test.each([
  [3, 3.182446],
  [10, 2.228139]
])("chanceWithin with %i degrees of freedom and %s standard deviations each way is 95 percent", (freedom, t) => {
  expect(chanceWithin({mean: 10, sd: 2, freedom}, {low: 10 - 2 * t, high: 10 + 2 * t})).toBeCloseTo(0.95, 6);
});

test("chanceWithin of a value without doubt is 0 or 1, the ends included", () => {
  const sure = {mean: 5, sd: 0, freedom: Infinity};
  expect([{low: 5}, {high: 5}, {low: 5.1}, {high: 4.9}, {}].map((window) => chanceWithin(sure, window))).toEqual([
    1, 1, 0, 0, 1
  ]);
});

test("chanceWithin of a window turned round is 0, and a bad spread is refused", () => {
  expect(chanceWithin({mean: 5, sd: 1, freedom: Infinity}, {low: 6, high: 4})).toBe(0);
  expect(() => chanceWithin({mean: 5, sd: Number.NaN, freedom: 3}, {})).toThrow("chanceWithin: sd must be 0 or more");
  expect(() => chanceWithin({mean: 5, sd: 1, freedom: 0}, {})).toThrow(
    "chanceWithin: freedom must be positive, got 0."
  );
});
