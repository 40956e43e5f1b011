import fc from "fast-check";
import {expect, test} from "vitest";
import {combinedSlope, runOutLength, slopeAngle, slopeOfGrain} from "../../lib/wood/slopeOfGrain.ts";

test("slopeOfGrain of a line 5 mm off in 100 mm is 1 in 20", () => {
  expect(slopeOfGrain({runMm: 5, lengthMm: 100})).toBe(1 / 20);
  expect(slopeOfGrain({runMm: 0, lengthMm: 100})).toBe(0);
});

test("combinedSlope(0.03, 0.04) is 0.05", () => {
  expect(combinedSlope(0.03, 0.04)).toBeCloseTo(0.05, 15);
  expect(combinedSlope(0, 0.04)).toBe(0.04);
});

test("combinedSlope is at least the worse face and at most the sum", () => {
  const slope = fc.double({min: 0, max: 0.5, noNaN: true});
  fc.assert(
    fc.property(slope, slope, (a, b) => {
      expect(combinedSlope(a, b)).toBeGreaterThanOrEqual(Math.max(a, b) - 1e-15);
      expect(combinedSlope(a, b)).toBeLessThanOrEqual(a + b + 1e-15);
    })
  );
});

test("slopeAngle(1) is 45 degrees", () => {
  expect(slopeAngle(1)).toBeCloseTo(45, 12);
  expect(slopeAngle(0)).toBe(0);
});

test("runOutLength of a straight grain is Infinity", () => {
  expect(runOutLength({diameterMm: 10, slope: 0})).toBe(Infinity);
  expect(runOutLength({diameterMm: 10, slope: 1 / 8})).toBe(80);
});

test("slopeAngle and slopeOfGrain lead there and back; the thinner and the steeper, the sooner the grain runs out", () => {
  const slope = fc.double({min: 0.001, max: 1, noNaN: true});
  fc.assert(
    fc.property(slope, slope, fc.double({min: 5, max: 40, noNaN: true}), (a, b, diameterMm) => {
      const runMm = 100 * Math.tan((slopeAngle(a) * Math.PI) / 180);
      expect(slopeOfGrain({runMm, lengthMm: 100})).toBeCloseTo(a, 12);
      const at = (of: number) => runOutLength({diameterMm, slope: of});
      expect(at(Math.max(a, b))).toBeLessThanOrEqual(at(Math.min(a, b)));
      expect(runOutLength({diameterMm: 2 * diameterMm, slope: a})).toBeCloseTo(2 * at(a), 9);
    })
  );
});

test.each<[string, () => unknown, string]>([
  ["a negative run", () => slopeOfGrain({runMm: -1, lengthMm: 100}), "slopeOfGrain: runMm must be 0 or more, got -1."],
  ["no length", () => slopeOfGrain({runMm: 1, lengthMm: 0}), "slopeOfGrain: lengthMm must be positive, got 0."],
  ["a negative slope", () => combinedSlope(-1, 0), "combinedSlope: first must be 0 or more, got -1."],
  ["no slope", () => combinedSlope(0, Number.NaN), "combinedSlope: second must be 0 or more, got NaN."],
  ["a negative angle", () => slopeAngle(-0.1), "slopeAngle: slope must be 0 or more, got -0.1."],
  ["no diameter", () => runOutLength({diameterMm: 0, slope: 0.1}), "runOutLength: diameterMm must be positive, got 0."],
  ["a slope below 0", () => runOutLength({diameterMm: 9, slope: -1}), "runOutLength: slope must be 0 or more, got -1."]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
