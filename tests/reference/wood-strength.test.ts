import {expect, test} from "vitest";
import {woodConstants, woodNames} from "../../lib/wood/species.ts";
import {strengthAtMoisture} from "../../lib/wood/strengthAtMoisture.ts";

// Source: Wood Handbook, FPL-GTR-190 (2010), example to eq. 5-3: white ash at 8 % has 119,500 kPa. Tag: from memory; the equation with the
// table's 103,000 and 66,000 kPa and Mp 24 gives 119,473 (computed by hand). Tolerance 0.05 MPa: the printed hundred kPa.
test("bending strength of white ash at 8 % is 119.5 MPa", () => {
  const {ruptureMPa12, ruptureGreenMPa, intersectionPct} = woodConstants("white-ash");
  const actual = strengthAtMoisture({
    at12MPa: ruptureMPa12!,
    greenMPa: ruptureGreenMPa!,
    moisturePct: 8,
    intersectionPct: intersectionPct!
  });
  expect(Math.abs(actual - 119.5)).toBeLessThanOrEqual(0.05);
  expect(Math.abs(actual - 119.473)).toBeLessThanOrEqual(0.0005);
});

// Source: a wartime report of the US Forest Products Laboratory, table 1: for 1 % of moisture below fibre saturation rupture changes by 4 % and
// modulus by 2 %. Tag: read in a secondary source. Tolerance 0.6 points on the mean of seven woods: whole percents, all species.
// It bears on the green strengths, which are from memory.
test.each([
  ["rupture", 4],
  ["modulus", 2]
] as const)("%s changes by about %s percent for 1 percent", (property, published) => {
  const changes = woodNames.flatMap((name) => {
    const wood = woodConstants(name);
    const [dry, green] =
      property === "rupture" ? [wood.ruptureMPa12, wood.ruptureGreenMPa] : [wood.modulusMPa12, wood.modulusGreenMPa];
    if (dry === undefined || green === undefined) return [];
    const at = (moisturePct: number) =>
      strengthAtMoisture({
        at12MPa: dry,
        greenMPa: green,
        moisturePct,
        ...(wood.intersectionPct !== undefined && {intersectionPct: wood.intersectionPct})
      });
    return [100 * (at(11.5) / at(12.5) - 1)];
  });
  expect(changes.length).toBe(7);
  const mean = changes.reduce((sum, change) => sum + change, 0) / changes.length;
  expect(Math.abs(mean - published)).toBeLessThanOrEqual(0.6);
});

// Source: Wood Handbook, FPL-GTR-190 (2010), table 5-13: 24 % for white ash, 25 % where not tabulated. Tag: from memory.
test("the intersection is 24 % for white ash and 25 % for a wood that is not tabulated", () => {
  expect(woodConstants("white-ash").intersectionPct).toBe(24);
  const of = {at12MPa: 100, greenMPa: 50};
  expect(strengthAtMoisture({...of, moisturePct: 25})).toBe(50);
  expect(strengthAtMoisture({...of, moisturePct: 24.9})).toBeGreaterThan(50);
});

// Source: Llana et al. (2020), Ann. For. Sci. 77, table 4: small ash logs with knots at 18.3 %, rupture 63.0 and modulus 9799 MPa. Tag: read.
// Clear wood of a like ash must be stronger and stiffer at the same moisture, by no more than a half.
test("clear white ash at 18.3 % is stronger than knotty ash logs, and not out of their reach", () => {
  const {ruptureMPa12, ruptureGreenMPa, modulusMPa12, modulusGreenMPa} = woodConstants("white-ash");
  const at = {moisturePct: 18.3, intersectionPct: 24};
  const rupture = strengthAtMoisture({at12MPa: ruptureMPa12!, greenMPa: ruptureGreenMPa!, ...at});
  const modulus = strengthAtMoisture({at12MPa: modulusMPa12!, greenMPa: modulusGreenMPa!, ...at});
  expect(rupture / 63.0).toBeGreaterThan(1);
  expect(rupture / 63.0).toBeLessThan(1.5);
  expect(modulus / 9799).toBeGreaterThan(1);
  expect(modulus / 9799).toBeLessThan(1.5);
});
