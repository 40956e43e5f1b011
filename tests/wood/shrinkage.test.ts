import fc from "fast-check";
import {expect, test} from "vitest";
import {type GrainDirection, shrinkage} from "../../lib/wood/shrinkage.ts";
import {woodNames} from "../../lib/wood/species.ts";

const face = {sizeMm: 40, fromPct: 30, toPct: 12, species: "white-ash", direction: "radial"} as const;

// By hand: 18 of 30 points of 4.9 %: 40 · 0.049 · 0.6 = 1.176.
test("shrinkage of a 40 mm green ash face to 12 % along a radius is 1.176 mm", () => {
  expect(shrinkage(face)).toBeCloseTo(1.176, 12);
  expect(shrinkage({...face, direction: "tangential"})).toBeCloseTo(1.872, 12);
  expect(shrinkage({...face, direction: "between"})).toBeCloseTo(1.524, 12);
});

test("shrinkage is positive when wood dries and negative when it swells", () => {
  expect(shrinkage({...face, fromPct: 16, toPct: 10})).toBeGreaterThan(0);
  expect(shrinkage({...face, fromPct: 10, toPct: 16})).toBeLessThan(0);
});

test("nothing moves above fibre saturation", () => {
  expect(shrinkage({...face, fromPct: 60, toPct: 30})).toBe(0);
  expect(shrinkage({...face, fromPct: 60})).toBe(shrinkage(face));
});

const wood = fc.constantFrom(...woodNames);
const along = fc.constantFrom<GrainDirection>("radial", "tangential", "between");
const moisture = fc.double({min: 0, max: 60, noNaN: true});

test("drying in two steps is drying in one, and wetting brings the size back", () => {
  fc.assert(
    fc.property(wood, along, moisture, moisture, moisture, (species, direction, a, b, c) => {
      const after = (sizeMm: number, fromPct: number, toPct: number) =>
        sizeMm - shrinkage({sizeMm, fromPct, toPct, species, direction});
      expect(after(after(40, a, b), b, c)).toBeCloseTo(after(40, a, c), 9);
      expect(after(after(40, a, b), b, a)).toBeCloseTo(40, 9);
    })
  );
});

test("along the rings moves most, along a radius least", () => {
  fc.assert(
    fc.property(wood, fc.double({min: 0, max: 25, noNaN: true}), (species, toPct) => {
      const [radial, between, tangential] = (["radial", "between", "tangential"] as const).map((direction) =>
        shrinkage({sizeMm: 40, fromPct: 30, toPct, species, direction})
      );
      expect(radial!).toBeLessThan(between!);
      expect(between!).toBeLessThan(tangential!);
    })
  );
});

test.each<[string, () => unknown, string]>([
  ["no size", () => shrinkage({...face, sizeMm: 0}), "shrinkage: sizeMm must be positive, got 0."],
  ["no moisture", () => shrinkage({...face, fromPct: NaN}), "shrinkage: fromPct must be from 0 to 200, got NaN."],
  ["less than dry", () => shrinkage({...face, toPct: -2}), "shrinkage: toPct must be from 0 to 200, got -2."],
  [
    "a direction along the grain",
    () => shrinkage({...face, direction: "longitudinal" as GrainDirection}),
    'shrinkage: direction must be one of radial, tangential, between, got "longitudinal".'
  ],
  [
    "a wood without its shrinkage",
    () => shrinkage({...face, species: {name: "mine", latin: "Acer", fibreSaturationPct: 30, tangentialPct: 9}}),
    "shrinkage: radialPct of mine must be known; pass constants of your own that hold it, got undefined."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
