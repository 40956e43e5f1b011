import fc from "fast-check";
import {expect, test} from "vitest";
import {basicDensity} from "../../lib/wood/basicDensity.ts";
import {densityAt12, densityAtMoisture} from "../../lib/wood/densityAt12.ts";
import {woodConstants, woodNames} from "../../lib/wood/species.ts";

test("densityAt12 at 12 % changes nothing", () => {
  expect(densityAt12({densityKgM3: 700, moisturePct: 12, species: "sugar-maple"})).toBe(700);
});

// By hand, white ash at 16 %: v(16) = 1 − 0.133 · 14/30 = 0.937933, v(12) = 0.9202; 700 · 1.12/1.16 · 0.937933/0.9202 = 688.8867.
test("densityAt12 of white ash of 700 kg/m³ at 16 % is 688.887", () => {
  expect(densityAt12({densityKgM3: 700, moisturePct: 16, species: "white-ash"})).toBeCloseTo(688.887, 3);
});

// Weighing and measuring by hand: 1500 g dry, 1680 g at 12 % in 2.4 litres; soaked, 2250 g at 50 % in 2.4/0.9202 litres.
test("densityAt12 of the soaked square is that of the dry one", () => {
  const soaked = (1e6 * 2250) / (2_400_000 / 0.9202);
  expect(densityAt12({densityKgM3: soaked, moisturePct: 50, species: "white-ash"})).toBeCloseTo(700, 9);
});

const wood = fc.constantFrom(...woodNames);
const moisture = fc.double({min: 0, max: 150, noNaN: true});
const kgM3 = fc.double({min: 300, max: 1100, noNaN: true});

test("densityAtMoisture and densityAt12 lead there and back", () => {
  fc.assert(
    fc.property(wood, moisture, kgM3, (species, moisturePct, densityKgM3) => {
      const densityAt12KgM3 = densityAt12({densityKgM3, moisturePct, species});
      expect(densityAtMoisture({densityAt12KgM3, moisturePct, species})).toBeCloseTo(densityKgM3, 8);
    })
  );
});

test("densityAt12 has the same basic density as the piece", () => {
  fc.assert(
    fc.property(wood, moisture, kgM3, (species, moisturePct, densityKgM3) => {
      const at12 = densityAt12({densityKgM3, moisturePct, species});
      const expected = basicDensity({densityKgM3, moisturePct, species});
      expect(basicDensity({densityKgM3: at12, moisturePct: 12, species})).toBeCloseTo(expected, 8);
    })
  );
});

test("the wetter the reading, the lighter at 12 %; the curve has no jump at fibre saturation", () => {
  fc.assert(
    fc.property(wood, moisture, (species, moisturePct) => {
      const at = (m: number) => densityAt12({densityKgM3: 700, moisturePct: m, species});
      expect(at(moisturePct + 1)).toBeLessThan(at(moisturePct));
    })
  );
  const saturation = woodConstants("white-ash").fibreSaturationPct;
  const below = densityAt12({densityKgM3: 700, moisturePct: saturation - 1e-9, species: "white-ash"});
  expect(below).toBeCloseTo(densityAt12({densityKgM3: 700, moisturePct: saturation, species: "white-ash"}), 6);
});

const piece = {densityKgM3: 700, moisturePct: 16, species: "white-ash"} as const;
const unknown = {name: "mine", latin: "Acer", fibreSaturationPct: 30};
test.each<[string, () => unknown, string]>([
  ["no density", () => densityAt12({...piece, densityKgM3: -1}), "densityAt12: densityKgM3 must be positive, got -1."],
  [
    "no moisture",
    () => densityAt12({...piece, moisturePct: Number.NaN}),
    "densityAt12: moisturePct must be from 0 to 200, got NaN."
  ],
  [
    "a wood without its shrinkage",
    () => densityAt12({...piece, species: unknown}),
    "densityAt12: volumetricPct of mine must be known; pass constants of your own that hold it, got undefined."
  ],
  [
    "no density at 12 %",
    () => densityAtMoisture({densityAt12KgM3: 0, moisturePct: 16, species: "white-ash"}),
    "densityAtMoisture: densityAt12KgM3 must be positive, got 0."
  ],
  [
    "too wet",
    () => densityAtMoisture({densityAt12KgM3: 700, moisturePct: 201, species: "white-ash"}),
    "densityAtMoisture: moisturePct must be from 0 to 200, got 201."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
