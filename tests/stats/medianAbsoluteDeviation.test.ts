import fc from "fast-check";
import {expect, test} from "vitest";
import {medianAbsoluteDeviation} from "../../lib/stats/medianAbsoluteDeviation.ts";
import {shuffled, values} from "./arbitrary.ts";

// By hand: median 3, distances 2, 1, 0, 1, 97, their median 1.
test("medianAbsoluteDeviation([1, 2, 3, 4, 100]) is not moved by the 100", () => {
  expect(medianAbsoluteDeviation([1, 2, 3, 4, 100])).toBe(1.4826);
});

test("medianAbsoluteDeviation of nothing is undefined, of equal values 0", () => {
  expect(medianAbsoluteDeviation([])).toBeUndefined();
  expect(medianAbsoluteDeviation([5, 5, 5, 9])).toBe(0);
});

test("medianAbsoluteDeviation does not depend on order, moves with the unit and not with the place", () => {
  fc.assert(
    fc.property(values, fc.nat(), (own, seed) => {
      const got = medianAbsoluteDeviation(own)!;
      expect(medianAbsoluteDeviation(shuffled(own, seed))).toBe(got);
      expect(medianAbsoluteDeviation(own.map((x) => 7 - 3 * x))).toBeCloseTo(3 * got, 8);
    })
  );
});

test("medianAbsoluteDeviation refuses NaN", () => {
  expect(() => medianAbsoluteDeviation([1, Number.NaN])).toThrow(
    "medianAbsoluteDeviation: values must be finite numbers, got NaN."
  );
});
