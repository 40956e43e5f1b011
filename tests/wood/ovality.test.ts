import fc from "fast-check";
import {expect, test} from "vitest";
import {ovality} from "../../lib/wood/ovality.ts";
import {woodNames} from "../../lib/wood/species.ts";

// By hand from green, white ash: 32 · (1 − 0.049 · 0.6) = 31.0592; 32 · (1 − 0.078 · 0.6) = 30.5024.
test("ovality of a 32 mm round turned green, at 12 %", () => {
  const {radialMm, tangentialMm, ovalityMm} = ovality({diameterMm: 32, fromPct: 40, toPct: 12, species: "white-ash"});
  expect(radialMm).toBeCloseTo(31.0592, 10);
  expect(tangentialMm).toBeCloseTo(30.5024, 10);
  expect(ovalityMm).toBeCloseTo(0.5568, 10);
});

test("a round that dries is narrowest along the rings; one that swells is widest there", () => {
  const moisture = fc.double({min: 0, max: 29, noNaN: true});
  fc.assert(
    fc.property(fc.constantFrom(...woodNames), moisture, moisture, (species, fromPct, toPct) => {
      const {ovalityMm} = ovality({diameterMm: 32, fromPct, toPct, species});
      if (fromPct - toPct > 0.01) expect(ovalityMm).toBeGreaterThan(0);
      if (toPct - fromPct > 0.01) expect(ovalityMm).toBeLessThan(0);
    })
  );
});

test("a round that stays as it is stays round", () => {
  expect(ovality({diameterMm: 32, fromPct: 12, toPct: 12, species: "sugar-maple"})).toEqual({
    radialMm: 32,
    tangentialMm: 32,
    ovalityMm: 0
  });
});

test.each([0, -1, Number.NaN, Infinity])("refuses a diameter of %s", (diameterMm) => {
  expect(() => ovality({diameterMm, fromPct: 16, toPct: 12, species: "white-ash"})).toThrow(
    new RangeError(`ovality: diameterMm must be positive, got ${diameterMm}.`)
  );
});
