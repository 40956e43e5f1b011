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
  const gravity = fc.double({min: 0.1001, max: 1.1999, noNaN: true}); // the ends only to rounding
  fc.assert(
    fc.property(gravity, fc.double({min: 0, max: 150, noNaN: true}), (basicSpecificGravity, moisturePct) => {
      const densityKgM3 = 1000 * gravityAtMoisture({basicSpecificGravity, moisturePct}) * (1 + moisturePct / 100);
      expect(basicGravity({densityKgM3, moisturePct})).toBeCloseTo(basicSpecificGravity, 10);
    })
  );
});

test("drier wood of one basic gravity is the heavier for its volume: it has shrunk", () => {
  const gravity = fc.double({min: 0.1, max: 1.2, noNaN: true});
  const moisture = fc.double({min: 0, max: 60, noNaN: true});
  fc.assert(
    fc.property(gravity, moisture, moisture, (basicSpecificGravity, a, b) => {
      const at = (moisturePct: number) => gravityAtMoisture({basicSpecificGravity, moisturePct});
      expect(at(Math.min(a, b))).toBeGreaterThanOrEqual(at(Math.max(a, b)));
    })
  );
});

// By hand, green, where volume no longer changes: Gb = ρ/(10·(100 + M)), so 200 kg/m³ at 100 % is 0.1 and 2400 kg/m³ is 1.2.
test("basicGravity takes what leads to a gravity from 0.1 to 1.2 and nothing beyond", () => {
  const at = (densityKgM3: number) => basicGravity({densityKgM3, moisturePct: 100});
  expect(at(200 * (1 + 1e-12))).toBeCloseTo(0.1, 10);
  expect(at(2400 * (1 - 1e-12))).toBeCloseTo(1.2, 10);
  for (const densityKgM3 of [200 * (1 - 1e-9), 2400 * (1 + 1e-9), 0, -1, Number.NaN, Infinity]) {
    expect(() => at(densityKgM3)).toThrow(RangeError);
  }
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
    "g/cm³",
    () => basicGravity({densityKgM3: 0.67, moisturePct: 12}),
    "basicGravity: densityKgM3 must be that of a wood of basic gravity 0.1 to 1.2, in kg/m³, got 0.67."
  ],
  [
    "no moisture",
    () => basicGravity({densityKgM3: 1, moisturePct: NaN}),
    "basicGravity: moisturePct must be from 0 to 200, got NaN."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
