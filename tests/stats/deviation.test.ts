import fc from "fast-check";
import {expect, test} from "vitest";
import {deviation} from "../../lib/stats/deviation.ts";
import {shuffled, values} from "./arbitrary.ts";

test("deviation([1, 2, 6]) is √7: squares 4 + 1 + 9 over 2", () => {
  expect(deviation([1, 2, 6])).toBeCloseTo(Math.sqrt(7), 12);
});

test("deviation below two values is undefined, of equal ones 0", () => {
  expect(deviation([])).toBeUndefined();
  expect(deviation([5])).toBeUndefined();
  expect(deviation([5, 5])).toBe(0);
});

test("deviation does not depend on order or place, and stretches with the values", () => {
  fc.assert(
    fc.property(values, fc.nat(), (x, seed) => {
      expect(deviation(shuffled(x, seed))).toBeCloseTo(deviation(x)!, 8);
      expect(deviation(x.map((value) => value + 1000))).toBeCloseTo(deviation(x)!, 8);
      expect(deviation(x.map((value) => -2 * value))).toBeCloseTo(2 * deviation(x)!, 8);
    })
  );
});

test("deviation refuses NaN", () => {
  expect(() => deviation([1, Number.NaN])).toThrow("deviation: values must be finite numbers, got NaN.");
});
