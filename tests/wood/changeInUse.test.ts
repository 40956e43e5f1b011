import fc from "fast-check";
import {expect, test} from "vitest";
import {changeInUse} from "../../lib/wood/changeInUse.ts";
import type {GrainDirection} from "../../lib/wood/shrinkage.ts";
import {woodConstants, woodNames} from "../../lib/wood/species.ts";

const face = {sizeMm: 30, fromPct: 8, toPct: 11, species: "sugar-maple", direction: "tangential"} as const;

// By hand: 30 · 0.00353 · 3 = 0.3177, and it swells.
test("changeInUse of a 30 mm maple face from 8 to 11 % is −0.3177 mm", () => {
  expect(changeInUse(face)).toBeCloseTo(-0.3177, 12);
  expect(changeInUse({...face, direction: "radial"})).toBeCloseTo(-0.1485, 12);
  expect(changeInUse({...face, direction: "between"})).toBeCloseTo(-0.2331, 12);
});

test("changeInUse is the same amount back", () => {
  expect(changeInUse({...face, fromPct: 11, toPct: 8})).toBeCloseTo(0.3177, 12);
});

test("changeInUse goes back the way it came, in proportion to the size, most along the rings", () => {
  const moisture = fc.double({min: 6, max: 14, noNaN: true});
  const wood = fc.constantFrom(...woodNames.filter((name) => woodConstants(name).radialPer1Pct !== undefined));
  fc.assert(
    fc.property(
      wood,
      moisture,
      moisture,
      fc.double({min: 1, max: 500, noNaN: true}),
      (species, fromPct, toPct, sizeMm) => {
        const change = {sizeMm, fromPct, toPct, species, direction: "tangential"} as const;
        const there = changeInUse(change);
        expect(changeInUse({...change, fromPct: toPct, toPct: fromPct})).toBeCloseTo(-there, 12);
        expect(changeInUse({...change, sizeMm: 2 * sizeMm})).toBeCloseTo(2 * there, 12);
        const radial = changeInUse({...change, direction: "radial"});
        const between = changeInUse({...change, direction: "between"});
        expect(between).toBeCloseTo((radial + there) / 2, 12);
        expect(Math.abs(there)).toBeGreaterThanOrEqual(Math.abs(radial));
      }
    )
  );
});

test.each<[string, () => unknown, string]>([
  ["no size", () => changeInUse({...face, sizeMm: -1}), "changeInUse: sizeMm must be positive, got -1."],
  ["air-wet wood", () => changeInUse({...face, fromPct: 18}), "changeInUse: fromPct must be from 6 to 14, got 18."],
  ["oven-dry wood", () => changeInUse({...face, toPct: 0}), "changeInUse: toPct must be from 6 to 14, got 0."],
  [
    "no direction",
    () => changeInUse({...face, direction: "flat" as GrainDirection}),
    'changeInUse: direction must be one of radial, tangential, between, got "flat".'
  ],
  [
    "a wood outside the table",
    () => changeInUse({...face, species: "european-ash"}),
    "changeInUse: tangentialPer1Pct of european-ash must be known; pass constants of your own that hold it, got undefined."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
