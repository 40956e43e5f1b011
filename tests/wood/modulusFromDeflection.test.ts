import fc from "fast-check";
import {expect, test} from "vitest";
import {modulusFromDeflection} from "../../lib/wood/modulusFromDeflection.ts";
import {type Support, taperDeflection} from "../../lib/wood/taper.ts";

// By hand, a 20 mm dowel on two supports: E = P·L³/(48·I·δ), I = π·20⁴/64 = 7853.98 mm⁴; 20 · 10⁹/(48 · 7853.98 · 4.21045) = 12600.
test("modulusFromDeflection of a 20 mm dowel that sags 4.21 mm under 20 N over 1 m is 12600 MPa", () => {
  const dowel = {lengthMm: 1000, largeMm: 20, smallMm: 20, support: "simple"} as const;
  expect(modulusFromDeflection({...dowel, loadN: 20, deflectionMm: 4.21045})).toBeCloseTo(12600, 0);
});

test("modulusFromDeflection turns taperDeflection round", () => {
  const modulus = fc.double({min: 6000, max: 18000, noNaN: true});
  const support = fc.constantFrom<Support>("cantilever", "simple");
  fc.assert(
    fc.property(modulus, support, fc.double({min: 9, max: 29, noNaN: true}), (modulusMPa, held, smallMm) => {
      const shaft = {loadN: 5, lengthMm: 1000, largeMm: 29, smallMm, support: held};
      const deflectionMm = taperDeflection({...shaft, modulusMPa});
      expect(modulusFromDeflection({...shaft, deflectionMm})).toBeCloseTo(modulusMPa, 6);
    })
  );
});

const bend = {loadN: 10, deflectionMm: 23, lengthMm: 1000, largeMm: 29, smallMm: 10, support: "cantilever"} as const;
test.each<[string, () => unknown, string]>([
  [
    "no load",
    () => modulusFromDeflection({...bend, loadN: 0}),
    "modulusFromDeflection: loadN must be positive, got 0."
  ],
  [
    "no bend",
    () => modulusFromDeflection({...bend, deflectionMm: 0}),
    "modulusFromDeflection: deflectionMm must be positive and at most a tenth of the length (100 mm), got 0."
  ],
  [
    "a stub",
    () => modulusFromDeflection({...bend, lengthMm: 300}),
    "modulusFromDeflection: lengthMm must be at least 14 large diameters (406), got 300."
  ],
  [
    "a tip thicker than the butt",
    () => modulusFromDeflection({...bend, smallMm: 30}),
    "modulusFromDeflection: smallMm must be positive and at most largeMm (29), got 30."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
