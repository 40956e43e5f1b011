import fc from "fast-check";
import {expect, test} from "vitest";
import {basicGravity, gravityAtMoisture} from "../../lib/wood/gravityAtMoisture.ts";

// By hand: a = 18/30 = 0.6; 0.55 / (1 − 0.265 · 0.6 · 0.55) = 0.55 / 0.91255 = 0.60270.
test("gravityAtMoisture({basicSpecificGravity: 0.55, moisturePct: 12}) is 0.6027", () => {
  expect(gravityAtMoisture({basicSpecificGravity: 0.55, moisturePct: 12})).toBeCloseTo(0.6027, 4);
});

test("gravityAtMoisture is the basic gravity from 30 % up", () => {
  expect(gravityAtMoisture({basicSpecificGravity: 0.55, moisturePct: 30})).toBe(0.55);
  expect(gravityAtMoisture({basicSpecificGravity: 0.55, moisturePct: 90})).toBe(0.55);
});

test("basicGravity turns gravityAtMoisture round", () => {
  const gravity = fc.double({min: 0.1, max: 1.2, noNaN: true});
  fc.assert(
    fc.property(gravity, fc.double({min: 0, max: 150, noNaN: true}), (basicSpecificGravity, moisturePct) => {
      const densityKgM3 = 1000 * gravityAtMoisture({basicSpecificGravity, moisturePct}) * (1 + moisturePct / 100);
      expect(basicGravity({densityKgM3, moisturePct})).toBeCloseTo(basicSpecificGravity, 10);
    })
  );
});

test.each<[string, () => unknown, string]>([
  [
    "kg/m³",
    () => gravityAtMoisture({basicSpecificGravity: 550, moisturePct: 12}),
    "gravityAtMoisture: basicSpecificGravity must be from 0.1 to 1.2, got 550."
  ],
  [
    "too wet",
    () => gravityAtMoisture({basicSpecificGravity: 0.55, moisturePct: 201}),
    "gravityAtMoisture: moisturePct must be from 0 to 200, got 201."
  ],
  [
    "no density",
    () => basicGravity({densityKgM3: 0, moisturePct: 12}),
    "basicGravity: densityKgM3 must be positive, got 0."
  ],
  [
    "no moisture",
    () => basicGravity({densityKgM3: 1, moisturePct: NaN}),
    "basicGravity: moisturePct must be from 0 to 200, got NaN."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
