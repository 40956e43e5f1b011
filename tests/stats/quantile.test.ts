import fc from "fast-check";
import {expect, test} from "vitest";
import {quantile, sortedQuantile} from "../../lib/stats/quantile.ts";
import {frozen, shuffled, values} from "./arbitrary.ts";

test("quantile([3, 8], 0.3) is 4.5: three tenths of the way", () => {
  expect(quantile([8, 3], 0.3)).toBeCloseTo(4.5, 12);
  expect(quantile([7], 0.9)).toBe(7);
  expect(quantile([], 0.5)).toBeUndefined();
});

test("quantile sorts by size, not by text, and leaves the list alone", () => {
  expect(quantile(frozen([100, 9, 10]), 0.5)).toBe(10);
});

test("quantile rises with p from the least to the greatest value, whatever the order", () => {
  fc.assert(
    fc.property(values, fc.nat(), fc.double({min: 0, max: 1, noNaN: true}), (x, seed, p) => {
      const mixed = shuffled(x, seed);
      expect(quantile(mixed, 0)).toBe(Math.min(...x));
      expect(quantile(mixed, 1)).toBe(Math.max(...x));
      expect(quantile(mixed, p)).toBe(quantile(x, p));
      expect(quantile(x, p)!).toBeGreaterThanOrEqual(quantile(x, p / 2)!);
    })
  );
});

test("sortedQuantile may hold infinities, as ratios can", () => {
  expect(sortedQuantile([1, 2, Number.POSITIVE_INFINITY], 0.5)).toBe(2);
});

test("quantile refuses a p in percent and NaN among the values", () => {
  expect(() => quantile([1, 2], 50)).toThrow("quantile: p must be between 0 and 1, got 50.");
  expect(() => quantile([1, Number.NaN], 0.5)).toThrow("quantile: values must be finite numbers, got NaN.");
});
