import fc from "fast-check";
import {expect, test} from "vitest";
import {dryingTimeRatio} from "../../lib/wood/dryingTimeRatio.ts";

test("dryingTimeRatio of equal thickness is 1", () => {
  expect(dryingTimeRatio({thicknessMm: 40, referenceMm: 40})).toBe(1);
});

// By hand: four times as thick, 4^1.5 = 8 times as long; by the square 16.
test("dryingTimeRatio of 40 mm against 10 mm is 8", () => {
  expect(dryingTimeRatio({thicknessMm: 40, referenceMm: 10})).toBe(8);
  expect(dryingTimeRatio({thicknessMm: 40, referenceMm: 10, exponent: 2})).toBe(16);
});

test("there and back is once, in two steps the same as in one, and thicker is slower", () => {
  const thickness = fc.double({min: 10, max: 150, noNaN: true});
  fc.assert(
    fc.property(thickness, thickness, thickness, fc.double({min: 1.3, max: 2, noNaN: true}), (a, b, c, exponent) => {
      const ratio = (thicknessMm: number, referenceMm: number) => dryingTimeRatio({thicknessMm, referenceMm, exponent});
      expect(ratio(a, b) * ratio(b, a)).toBeCloseTo(1, 10);
      expect((ratio(a, b) * ratio(b, c)) / ratio(a, c)).toBeCloseTo(1, 10);
      if (a > 1.001 * b) expect(ratio(a, c)).toBeGreaterThan(ratio(b, c));
    })
  );
});

test.each<[string, () => unknown, string]>([
  [
    "veneer",
    () => dryingTimeRatio({thicknessMm: 1, referenceMm: 25}),
    "dryingTimeRatio: thicknessMm must be from 10 to 150, got 1."
  ],
  [
    "inches",
    () => dryingTimeRatio({thicknessMm: 40, referenceMm: 1}),
    "dryingTimeRatio: referenceMm must be from 10 to 150, got 1."
  ],
  [
    "another power",
    () => dryingTimeRatio({thicknessMm: 40, referenceMm: 25, exponent: 3}),
    "dryingTimeRatio: exponent must be from 1.3 to 2, got 3."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
