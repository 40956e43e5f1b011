import fc from "fast-check";
import {expect, test} from "vitest";
import {brownForsythe} from "../../lib/stats/brownForsythe.ts";
import {shuffled, values} from "./arbitrary.ts";

// By hand: distances 1, 0, 1 and 3, 0, 3: means 2/3 and 2, between 8/3 on 1, within (2/3 + 6) on 4: F = 8/3 / (5/3) =
// 1.6.
test("brownForsythe([[1, 2, 3], [1, 4, 7]]), worked by hand", () => {
  const got = brownForsythe([
    [1, 2, 3],
    [1, 4, 7]
  ])!;
  expect(got.f).toBeCloseTo(1.6, 12);
  expect([got.df1, got.df2]).toEqual([1, 4]);
});

// By hand: distances from the means 1 and 4 are 1, 1, 2 and 3, 3, 6, their means 4/3 and 4: between 32/3 on 1, within
// (2/3 + 6) on 4: F = 32/5.
test("brownForsythe by mean, worked by hand", () => {
  const groups = [
    [0, 0, 3],
    [1, 1, 10]
  ];
  expect(brownForsythe(groups, {center: "mean"})!.f).toBeCloseTo(6.4, 12);
});

test("brownForsythe does not depend on order, on the groups' places or on the unit", () => {
  fc.assert(
    fc.property(values, values, fc.nat(), (a, b, seed) => {
      const got = brownForsythe([a, b]);
      const moved = brownForsythe([shuffled(b, seed), a.map((x) => x + 250)]);
      const scaled = brownForsythe([a.map((x) => 4 * x), b.map((x) => 4 * x)]);
      if (got === undefined) return;
      expect(Math.abs(moved!.f - got.f)).toBeLessThanOrEqual(1e-6 * got.f + 1e-9);
      expect(Math.abs(scaled!.f - got.f)).toBeLessThanOrEqual(1e-9 * got.f + 1e-12);
    })
  );
});

test("a group of equal values does no harm", () => {
  expect(
    brownForsythe([
      [5, 5, 5],
      [1, 4, 9]
    ])!.f
  ).toBeGreaterThan(0);
});

test("brownForsythe has no answer for one group, groups of two, or equal values throughout", () => {
  expect(brownForsythe([[1, 2, 3]])).toBeUndefined();
  expect(
    brownForsythe([
      [1, 2],
      [1, 9]
    ])
  ).toBeUndefined();
  expect(
    brownForsythe([
      [0.1, 0.2],
      [0.3, 0.7]
    ])
  ).toBeUndefined();
  expect(
    brownForsythe([
      [5, 5],
      [5, 5]
    ])
  ).toBeUndefined();
  expect(brownForsythe([[1], [2]])).toBeUndefined();
});

test("brownForsythe refuses an empty group and NaN", () => {
  expect(() => brownForsythe([[], [1]])).toThrow("brownForsythe: groups must be of at least one value, got 0.");
  expect(() => brownForsythe([[Number.NaN], [1]])).toThrow("brownForsythe: groups must be finite numbers, got NaN.");
});
