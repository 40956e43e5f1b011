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
