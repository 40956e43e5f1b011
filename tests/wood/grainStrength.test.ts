import fc from "fast-check";
import {expect, test} from "vitest";
import {type GrainProperty, grainStrength, hankinson} from "../../lib/wood/grainStrength.ts";

test("straight grain keeps all its strength", () => {
  for (const property of ["rupture", "impact", "compression"] as const) {
    expect(grainStrength({slope: 0, property})).toBe(1);
  }
});

// By hand: 1/12 lies half way from 1/15 to 1/10 in the slope: (0.89 + 0.81)/2.
test("grainStrength between two rows is on the straight line in the slope", () => {
  expect(grainStrength({slope: 1 / 12, property: "rupture"})).toBeCloseTo(0.85, 12);
  expect(grainStrength({slope: 1 / 12, property: "impact"})).toBeCloseTo(0.715, 12);
});

test("more slope never leaves more strength", () => {
  const property = fc.constantFrom<GrainProperty>("rupture", "impact", "compression");
  const slope = fc.double({min: 0, max: 0.2, noNaN: true});
  fc.assert(
    fc.property(property, slope, slope, (of, a, b) => {
      const steep = grainStrength({slope: Math.max(a, b), property: of});
      expect(steep).toBeLessThanOrEqual(grainStrength({slope: Math.min(a, b), property: of}));
    })
  );
});

test("hankinson is 1 along the grain and Q/P across it", () => {
  expect(hankinson({slope: 0, acrossOverAlong: 0.1, exponent: 1.5})).toBe(1);
  expect(hankinson({slope: 1e9, acrossOverAlong: 0.1, exponent: 1.5})).toBeCloseTo(0.1, 8);
});

// By hand at 45° and n = 2: both squares are ½, so N/P = 0.1/(0.5 + 0.05) = 2/11.
test("hankinson at 45° with exponent 2 is 2/11", () => {
  expect(hankinson({slope: 1, acrossOverAlong: 0.1, exponent: 2})).toBeCloseTo(2 / 11, 12);
});

// For the handbook's ratios. Of wood nearly as strong across as along, the fit with an exponent below 2 dips a little under Q/P near 90°.
test("hankinson falls from 1 along the grain to Q/P across it", () => {
  const slope = fc.double({min: 0, max: 5, noNaN: true});
  const ratio = fc.double({min: 0.02, max: 0.1, noNaN: true});
  fc.assert(
    fc.property(slope, slope, ratio, fc.double({min: 1.5, max: 2, noNaN: true}), (a, b, acrossOverAlong, exponent) => {
      const at = (of: number) => hankinson({slope: of, acrossOverAlong, exponent});
      expect(at(Math.max(a, b))).toBeLessThanOrEqual(at(Math.min(a, b)) + 1e-12);
      expect(at(a)).toBeLessThanOrEqual(1 + 1e-12);
      expect(at(a)).toBeGreaterThanOrEqual(acrossOverAlong - 1e-12);
    })
  );
});

test.each<[string, () => unknown, string]>([
  [
    "1 in 4",
    () => grainStrength({slope: 0.25, property: "rupture"}),
    "grainStrength: slope must be from 0 to 0.2 (1 in 5), got 0.25."
  ],
  [
    "another strength",
    () => grainStrength({slope: 0.1, property: "shear" as GrainProperty}),
    'grainStrength: property must be one of rupture, impact, compression, got "shear".'
  ],
  [
    "a negative slope",
    () => hankinson({slope: -0.1, acrossOverAlong: 0.1, exponent: 2}),
    "hankinson: slope must be 0 or more, got -0.1."
  ],
  [
    "no strength across",
    () => hankinson({slope: 0.1, acrossOverAlong: 0, exponent: 2}),
    "hankinson: acrossOverAlong must be above 0 and at most 1, got 0."
  ],
  [
    "another exponent",
    () => hankinson({slope: 0.1, acrossOverAlong: 0.1, exponent: 3}),
    "hankinson: exponent must be from 1.5 to 2.5, got 3."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
