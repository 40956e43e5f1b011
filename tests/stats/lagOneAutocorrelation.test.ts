import fc from "fast-check";
import {expect, test} from "vitest";
import {lagOneAutocorrelation} from "../../lib/stats/lagOneAutocorrelation.ts";
import {values} from "./arbitrary.ts";

// By hand: mean 2, distances −1, 1, 0: (1·−1 + 0·1)/2.
test("lagOneAutocorrelation([1, 3, 2]), worked by hand", () => {
  expect(lagOneAutocorrelation([1, 3, 2])).toBe(-0.5);
});

test("lagOneAutocorrelation of one value, and of equal ones, is undefined", () => {
  expect(lagOneAutocorrelation([4])).toBeUndefined();
  expect(lagOneAutocorrelation([4, 4, 4])).toBeUndefined();
});

test("lagOneAutocorrelation stays within 1, is the same backwards and in any unit", () => {
  fc.assert(
    fc.property(values, (own) => {
      const got = lagOneAutocorrelation(own);
      if (got === undefined) return;
      expect(Math.abs(got)).toBeLessThanOrEqual(1);
      expect(lagOneAutocorrelation([...own].reverse())).toBeCloseTo(got, 10);
      expect(lagOneAutocorrelation(own.map((x) => 20 - 4 * x))).toBeCloseTo(got, 10);
    })
  );
});

test("lagOneAutocorrelation of a steady drift is above a half, of to and fro below minus a half", () => {
  expect(lagOneAutocorrelation([1, 2, 3, 4, 5, 6, 7, 8])).toBeGreaterThan(0.5);
  expect(lagOneAutocorrelation([1, 2, 1, 2, 1, 2, 1, 2])).toBeLessThan(-0.5);
});

test("lagOneAutocorrelation refuses NaN", () => {
  expect(() => lagOneAutocorrelation([1, Number.NaN])).toThrow(
    "lagOneAutocorrelation: values must be finite numbers, got NaN."
  );
});
