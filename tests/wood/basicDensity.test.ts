import fc from "fast-check";
import {expect, test} from "vitest";
import {basicDensity, volumeShare} from "../../lib/wood/basicDensity.ts";
import {woodConstants, woodNames} from "../../lib/wood/species.ts";

// By hand: 13.3 % over 30 points; at 12 % 18 points of the 30 are gone: 1 − 0.133 · 0.6 = 0.9202; 672 · 0.9202 / 1.12 = 552.12.
test("basicDensity of white ash of 672 kg/m³ at 12 % is 552.12", () => {
  expect(basicDensity({densityKgM3: 672, moisturePct: 12, species: "white-ash"})).toBeCloseTo(552.12, 10);
});

test("volumeShare is 1 from fibre saturation up and 1 − βv/100 oven-dry", () => {
  const wood = woodConstants("white-ash");
  const at = (moisturePct: number) => volumeShare({moisturePct, wood, needing: "here"});
  expect(at(30)).toBe(1);
  expect(at(80)).toBe(1);
  expect(at(0)).toBeCloseTo(0.867, 12);
  expect(at(12)).toBeCloseTo(0.9202, 12);
});

test("a piece has one basic density, however wet it is weighed", () => {
  const moisture = fc.double({min: 0, max: 150, noNaN: true});
  fc.assert(
    fc.property(fc.constantFrom(...woodNames), moisture, (species, moisturePct) => {
      // The piece: 1000 g oven-dry in a green volume of 1.8 litres.
      const share = volumeShare({moisturePct, wood: woodConstants(species), needing: "here"});
      const densityKgM3 = (1e6 * 1000 * (1 + moisturePct / 100)) / (1_800_000 * share);
      expect(basicDensity({densityKgM3, moisturePct, species})).toBeCloseTo(1e9 / 1_800_000, 8);
    })
  );
});

test("volumeShare never falls as the wood gets wetter, and has no jump", () => {
  const moisture = fc.double({min: 0, max: 100, noNaN: true});
  fc.assert(
    fc.property(fc.constantFrom(...woodNames), moisture, moisture, (name, a, b) => {
      const at = (moisturePct: number) => volumeShare({moisturePct, wood: woodConstants(name), needing: "here"});
      expect(at(Math.max(a, b))).toBeGreaterThanOrEqual(at(Math.min(a, b)));
      expect(Math.abs(at(a) - at(a + 1e-9))).toBeLessThan(1e-10);
    })
  );
});

const piece = {densityKgM3: 700, moisturePct: 12, species: "white-ash"} as const;
test.each<[string, () => unknown, string]>([
  ["no density", () => basicDensity({...piece, densityKgM3: 0}), "basicDensity: densityKgM3 must be positive, got 0."],
  [
    "less than dry",
    () => basicDensity({...piece, moisturePct: -1}),
    "basicDensity: moisturePct must be from 0 to 200, got -1."
  ],
  [
    "more than full",
    () => basicDensity({...piece, moisturePct: 1200}),
    "basicDensity: moisturePct must be from 0 to 200, got 1200."
  ],
  [
    "a share of no moisture",
    () => volumeShare({moisturePct: -1, wood: woodConstants("white-ash"), needing: "here"}),
    "here: moisturePct must be from 0 to 200, got -1."
  ],
  [
    "a wood without its shrinkage",
    () => basicDensity({...piece, species: {name: "mine", latin: "Acer", fibreSaturationPct: 30}}),
    "basicDensity: volumetricPct of mine must be known; pass constants of your own that hold it, got undefined."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
