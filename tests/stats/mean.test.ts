import fc from "fast-check";
import {expect, test} from "vitest";
import {mean} from "../../lib/stats/mean.ts";
import {shuffled, values} from "./arbitrary.ts";

test("mean([1, 2, 6]) is 3, mean([]) undefined", () => {
  expect(mean([1, 2, 6])).toBe(3);
  expect(mean([])).toBeUndefined();
});

test("mean does not depend on order, and moves and stretches with the values", () => {
  fc.assert(
    fc.property(values, fc.nat(), (x, seed) => {
      expect(mean(shuffled(x, seed))).toBeCloseTo(mean(x)!, 9);
      expect(mean(x.map((value) => 3 * value + 100))).toBeCloseTo(3 * mean(x)! + 100, 8);
    })
  );
});

test("mean refuses NaN", () => {
  expect(() => mean([1, Number.NaN])).toThrow("mean: values must be finite numbers, got NaN.");
});
