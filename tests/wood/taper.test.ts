import fc from "fast-check";
import {expect, test} from "vitest";
import {type Support, taperDeflection, taperDiameter, taperPart, taperVolume} from "../../lib/wood/taper.ts";

test("taperVolume of a stick that does not taper is a cylinder", () => {
  expect(taperVolume({largeMm: 20, smallMm: 20, lengthMm: 100})).toBeCloseTo(Math.PI * 100 * 100, 9);
});

// By hand: π · 12 · (4 + 2 + 1)/12 = 7π.
test("taperVolume({largeMm: 2, smallMm: 1, lengthMm: 12}) is 7π", () => {
  expect(taperVolume({largeMm: 2, smallMm: 1, lengthMm: 12})).toBeCloseTo(7 * Math.PI, 12);
});

test("a taper cut in two is two tapers", () => {
  const diameter = fc.double({min: 5, max: 40, noNaN: true});
  fc.assert(
    fc.property(diameter, diameter, fc.double({min: 0.05, max: 0.95, noNaN: true}), (a, b, cut) => {
      const [smallMm, largeMm] = [Math.min(a, b), Math.max(a, b)];
      const middleMm = largeMm + cut * (smallMm - largeMm);
      const whole = taperVolume({largeMm, smallMm, lengthMm: 1000});
      const butt = taperVolume({largeMm, smallMm: Math.min(middleMm, largeMm), lengthMm: 1000 * cut});
      const tip = taperVolume({largeMm: Math.max(middleMm, smallMm), smallMm, lengthMm: 1000 * (1 - cut)});
      expect((butt + tip) / whole).toBeCloseTo(1, 9);
    })
  );
});

// By hand: 29 − 19.5 · 1300/1470 = 11.75510, and at 100 mm 29 − 19.5 · 100/1470 = 27.67347.
test("taperDiameter and taperPart run along the straight line from butt to tip", () => {
  const whole = {largeMm: 29, smallMm: 9.5, lengthMm: 1470};
  expect(taperDiameter(whole, 0)).toBe(29);
  expect(taperDiameter(whole, 1300)).toBeCloseTo(11.7551, 5);
  expect(taperDiameter(whole, 1470)).toBeCloseTo(9.5, 12);
  const part = taperPart(whole, {fromLargeMm: 100, lengthMm: 1200});
  expect(part.largeMm).toBeCloseTo(27.67347, 5);
  expect(part.smallMm).toBeCloseTo(11.7551, 5);
  expect(part.lengthMm).toBe(1200);
});

const shaft = {loadN: 10, lengthMm: 1000, largeMm: 29, smallMm: 10, modulusMPa: 12000, support: "cantilever"} as const;

test("taperDeflection doubles with the load and halves with twice the modulus", () => {
  const once = taperDeflection(shaft);
  expect(taperDeflection({...shaft, loadN: 20})).toBeCloseTo(2 * once, 10);
  expect(taperDeflection({...shaft, modulusMPa: 24000})).toBeCloseTo(once / 2, 10);
});

test("a thicker tip or butt bends less, however it is held", () => {
  for (const support of ["cantilever", "simple"] as const) {
    const once = taperDeflection({...shaft, support});
    expect(taperDeflection({...shaft, support, smallMm: 11})).toBeLessThan(once);
    expect(taperDeflection({...shaft, support, largeMm: 30})).toBeLessThan(once);
  }
});

test.each<[string, () => unknown, string]>([
  ["no butt", () => taperVolume({...shaft, largeMm: 0}), "taperVolume: largeMm must be positive, got 0."],
  [
    "a tip thicker than the butt",
    () => taperVolume({...shaft, smallMm: 30}),
    "taperVolume: smallMm must be positive and at most largeMm (29), got 30."
  ],
  ["no length", () => taperVolume({...shaft, lengthMm: -1}), "taperVolume: lengthMm must be positive, got -1."],
  ["no load", () => taperDeflection({...shaft, loadN: 0}), "taperDeflection: loadN must be positive, got 0."],
  [
    "no modulus",
    () => taperDeflection({...shaft, modulusMPa: NaN}),
    "taperDeflection: modulusMPa must be positive, got NaN."
  ],
  [
    "a stub, where shear counts",
    () => taperDeflection({...shaft, lengthMm: 400}),
    "taperDeflection: lengthMm must be at least 14 large diameters (406), got 400."
  ],
  [
    "a place beyond the tip",
    () => taperDiameter(shaft, 1001),
    "taperDiameter: fromLargeMm must be from 0 to lengthMm (1000), got 1001."
  ],
  [
    "a part that reaches beyond it",
    () => taperPart(shaft, {fromLargeMm: 100, lengthMm: 950}),
    "taperDiameter: fromLargeMm must be from 0 to lengthMm (1000), got 1050."
  ],
  [
    "another support",
    () => taperDeflection({...shaft, support: "clamped" as Support}),
    'taperDeflection: support must be one of cantilever, simple, got "clamped".'
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));

test("refuses a bend too great for the formula", () => {
  expect(() => taperDeflection({...shaft, loadN: 100})).toThrow(
    /^taperDeflection: the bend must be at most a tenth of the length \(100 mm\), got 232\.02\d*\.$/
  );
});
