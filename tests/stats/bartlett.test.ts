import fc from "fast-check";
import {expect, test} from "vitest";
import {bartlett} from "../../lib/stats/bartlett.ts";
import {shuffled, values} from "./arbitrary.ts";

// By hand: variances 2 and 8 from two values each: pooled 5, gap 2·ln 5 − ln 2 − ln 8 = ln(25/16); divisor 1 + (2 −
// 1/2)/3 = 1.5.
test("bartlett of two pairs, worked by hand", () => {
  const pairs = [
    [0, 2],
    [10, 14]
  ];
  expect(bartlett(pairs)).toMatchObject({chiSquare: expect.closeTo(Math.log(25 / 16) / 1.5, 12), df: 1});
});

test("bartlett is 0, and p is 1, when all spreads are equal", () => {
  const got = bartlett([
    [1, 2, 4],
    [11, 12, 14]
  ])!;
  expect(got.chiSquare).toBeCloseTo(0, 12);
  expect(got.p).toBeCloseTo(1, 6);
});

test("bartlett is undefined for one group, for single values and where a group has no spread", () => {
  expect(bartlett([[1, 2, 3]])).toBeUndefined();
  expect(bartlett([[1, 2, 3], [5]])).toBeUndefined();
  expect(
    bartlett([
      [1, 2, 3],
      [5, 5, 5]
    ])
  ).toBeUndefined();
});

test("bartlett does not depend on order, on where a group lies, or on the unit", () => {
  fc.assert(
    fc.property(values, values, fc.nat(), (a, b, seed) => {
      const got = bartlett([a, b]);
      if (got === undefined) return;
      const other = bartlett([shuffled(b, seed).map((x) => 10 * x + 300), shuffled(a, seed).map((x) => 10 * x)])!;
      expect(other.chiSquare).toBeCloseTo(got.chiSquare, 6);
      expect(got.p).toBeGreaterThanOrEqual(0);
      expect(got.p).toBeLessThanOrEqual(1);
    })
  );
});

test("bartlett refuses an empty group", () => {
  expect(() => bartlett([[], [1, 2]])).toThrow("bartlett: groups must be of at least one value, got 0.");
});
