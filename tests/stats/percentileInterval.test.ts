import fc from "fast-check";
import {expect, test} from "vitest";
import {percentileInterval} from "../../lib/stats/percentileInterval.ts";
import {frozen, shuffled, values} from "./arbitrary.ts";

test("percentileInterval of 0, 1, …, 100 at 90 % is 5 to 95, in any order", () => {
  const replicates = Array.from({length: 101}, (_, i) => (37 * i) % 101);
  expect(percentileInterval(frozen(replicates), 0.9)).toEqual({
    low: expect.closeTo(5, 10),
    high: expect.closeTo(95, 10)
  });
});

test("percentileInterval has no answer from nothing or with a replicate that has none", () => {
  expect(percentileInterval([])).toBeUndefined();
  expect(percentileInterval([1, Number.NaN, 2])).toBeUndefined();
});

test("percentileInterval refuses a level in percent", () => {
  expect(() => percentileInterval([1], 95)).toThrow("percentileInterval: level must be between 0 and 1, got 95.");
});

test("percentileInterval holds the median, widens with the level and does not depend on order", () => {
  fc.assert(
    fc.property(values, fc.nat(), (own, seed) => {
      const [point, narrow, wide] = [1e-9, 0.5, 0.9].map((level) => percentileInterval(own, level)!);
      expect(percentileInterval(shuffled(own, seed), 0.5)).toEqual(narrow);
      expect(wide!.low).toBeLessThanOrEqual(narrow!.low);
      expect(narrow!.low).toBeLessThanOrEqual(point!.low);
      expect(point!.high).toBeLessThanOrEqual(narrow!.high);
      expect(narrow!.high).toBeLessThanOrEqual(wide!.high);
    })
  );
});
