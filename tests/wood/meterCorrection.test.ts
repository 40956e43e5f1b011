import fc from "fast-check";
import {expect, test} from "vitest";
import {meterCorrection} from "../../lib/wood/meterCorrection.ts";

test("meterCorrection leaves a reading at 20 °C alone", () => {
  expect(meterCorrection({readingPct: 14, temperatureC: 20})).toBe(14);
});

// By hand: 15 degrees below 20, a tenth each; warm wood the other way.
test("cold wood reads low: 14 % at 5 °C is 15.5 %", () => {
  expect(meterCorrection({readingPct: 14, temperatureC: 5})).toBeCloseTo(15.5, 12);
  expect(meterCorrection({readingPct: 14, temperatureC: 30})).toBeCloseTo(13, 12);
  expect(meterCorrection({readingPct: 14, temperatureC: 5, perDegreePct: 0.15})).toBeCloseTo(16.25, 12);
});

test("the correction does not depend on the reading", () => {
  const reading = fc.double({min: 6, max: 28, noNaN: true});
  fc.assert(
    fc.property(reading, fc.double({min: 0, max: 40, noNaN: true}), (readingPct, temperatureC) => {
      const change = meterCorrection({readingPct, temperatureC}) - readingPct;
      expect(change).toBeCloseTo(meterCorrection({readingPct: 10, temperatureC}) - 10, 9);
    })
  );
});

const reading = {readingPct: 14, temperatureC: 5};
test.each<[string, () => unknown, string]>([
  [
    "below the meter's reach",
    () => meterCorrection({...reading, readingPct: 5}),
    "meterCorrection: readingPct must be from 6 to 28, got 5."
  ],
  [
    "above it",
    () => meterCorrection({...reading, readingPct: 35}),
    "meterCorrection: readingPct must be from 6 to 28, got 35."
  ],
  [
    "frozen wood",
    () => meterCorrection({...reading, temperatureC: -3}),
    "meterCorrection: temperatureC must be from 0 to 40, got -3."
  ],
  [
    "an unpublished slope",
    () => meterCorrection({...reading, perDegreePct: 1}),
    "meterCorrection: perDegreePct must be from 0.1 to 0.15, got 1."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
