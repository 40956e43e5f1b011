import {describe, expect, test} from "vitest";
import {basicDensity} from "../../lib/wood/basicDensity.ts";
import {basicDensityFromAt12} from "../../lib/wood/basicDensityFromAt12.ts";
import {barVolume, density} from "../../lib/wood/density.ts";
import {densityAt12} from "../../lib/wood/densityAt12.ts";
import {densityAt12En384} from "../../lib/wood/densityAt12En384.ts";
import {densityAt12Iso13061} from "../../lib/wood/densityAt12Iso13061.ts";
import {basicGravity, gravityAtMoisture} from "../../lib/wood/gravityAtMoisture.ts";
import {ovenDryMass} from "../../lib/wood/moisture.ts";
import {type WoodConstants, woodConstants, woodNames} from "../../lib/wood/species.ts";
import {specificGravity} from "../../lib/wood/specificGravity.ts";
import {kgM3PerPoundPerCubicFoot} from "../../lib/wood/units.ts";

/** Constants of one measured tree: R % of volume for 1 % of moisture, S fibre saturation. */
const tree = (name: string, r: number, s: number): WoodConstants => ({
  name,
  latin: name,
  fibreSaturationPct: s,
  volumetricPct: r * s
});
const frenchAsh = tree("Fraxinus excelsior, France", 0.34, 27);

// Source: CIRAD wood density database (Vieilledent et al. 2018, doi 10.1002/ajb2.1175; repository data, CC BY-SA 4.0): D12, R, S and
// Db, g/cm³. Tag: read. Tolerance 0.0105: D12 and Db are printed to 0.01 and R to 0.01.
describe("basicDensity against the CIRAD database", () => {
  test.each([
    ["Fraxinus excelsior", 0.62, 0.34, 27, 0.53],
    ["Fraxinus angustifolia", 0.69, 0.37, 35, 0.56],
    ["Abies alba", 0.5, 0.34, 37, 0.41],
    ["Abies alba", 0.54, 0.52, 25, 0.45],
    ["Acacia elata", 0.61, 0.47, 33, 0.49],
    ["Afzelia bipindensis", 0.92, 0.34, 20, 0.8],
    ["Guarea cedrata", 0.66, 0.32, 36, 0.54],
    ["Goupia glabra", 0.85, 0.47, 39, 0.66],
    ["Gmelina arborea", 0.48, 0.44, 20, 0.41],
    ["Grevillea robusta", 0.71, 0.43, 26, 0.6],
    ["Amburana cearensis", 0.64, 0.39, 16, 0.56],
    ["Handroanthus serratifolius", 1.18, 0.7, 19, 1.0],
    ["Gyrocarpus americanus", 0.24, 0.23, 35, 0.2]
  ])("%s: D12 %s, R %s, S %s gives Db %s", (name, d12, r, s, db) => {
    const actual = basicDensity({densityKgM3: 1000 * d12, moisturePct: 12, species: tree(name, r, s)});
    expect(Math.abs(actual / 1000 - db)).toBeLessThanOrEqual(0.0105);
  });
});

// Source: Vieilledent et al. (2018), their worked example: Khaya ivorensis, D12 0.57, S 24, swelling 0.46 % for 1 %; by the formula
// 0.484, measured 0.483. Tag: read. Tolerance half a printed digit, and 1 % for the measurement.
test("basicDensity of Khaya ivorensis is 0.484, measured 0.483", () => {
  const shrunkPct = 100 * (1 - 1 / (1 + (0.46 * 24) / 100)); // swelling is on the dry volume, shrinkage on the green
  const species: WoodConstants = {
    name: "Khaya",
    latin: "Khaya ivorensis",
    fibreSaturationPct: 24,
    volumetricPct: shrunkPct
  };
  const actual = basicDensity({densityKgM3: 570, moisturePct: 12, species}) / 1000;
  expect(Math.abs(actual - 0.484)).toBeLessThanOrEqual(0.0005);
  expect(Math.abs(actual / 0.483 - 1)).toBeLessThanOrEqual(0.01);
});

// The table "which one, and how far they disagree": factor from the density at M to the density at 12 %.
// Tag: computed apart from this code, by another hand, from the published formulas. Tolerance one in the fourth decimal.
const factors: [
  moisturePct: number,
  whiteAsh: number,
  frenchAsh: number,
  simpson: number,
  iso: number,
  en: number,
  naive: number
][] = [
  [8, 1.0171, 1.0222, 1.015, 1.0173, 1.02, 1.037],
  [10, 1.0084, 1.0109, 1.0073, 1.0085, 1.01, 1.0182],
  [14, 0.9919, 0.9895, 0.9929, 0.9917, 0.99, 0.9825],
  [16, 0.9841, 0.9794, 0.9861, 0.9835, 0.98, 0.9655],
  [18, 0.9766, 0.9696, 0.9795, 0.9755, 0.97, 0.9492]
];
const simpsonFactor = (moisturePct: number) => {
  const at = (m: number) => gravityAtMoisture({basicSpecificGravity: 0.55, moisturePct: m}) * (1 + m / 100);
  return at(12) / at(moisturePct);
};
/** ISO 13061-2, written out beyond 17 %, where our function ends and the table does not. */
const isoFactor = (densityKgM3: number, moisturePct: number) =>
  moisturePct <= 17
    ? densityAt12Iso13061({densityKgM3, moisturePct}) / densityKgM3
    : 1 - ((1 - 0.85e-3 * densityKgM3) * (moisturePct - 12)) / 100;

describe("which formula, and how far they disagree", () => {
  test.each(factors)("at %s percent", (moisturePct, whiteAsh, french, simpson, iso, en, naive) => {
    const of = {densityKgM3: 680, moisturePct};
    const actual = {
      whiteAsh: densityAt12({...of, species: "white-ash"}) / 680,
      french: densityAt12({...of, species: frenchAsh}) / 680,
      simpson: simpsonFactor(moisturePct),
      iso: isoFactor(680 / iso, moisturePct), // ISO's K follows the density: the table is for 680 at 12 %, not at M
      en: densityAt12En384(of) / 680
    };
    for (const [method, expected] of Object.entries({whiteAsh, french, simpson, iso, en})) {
      expect(Math.abs(actual[method as keyof typeof actual] - expected), method).toBeLessThanOrEqual(0.0001);
    }
    // Sound methods stay within 1 % of one another; forgetting shrinkage errs by more than any of them from white ash.
    const spread = Math.max(...Object.values(actual)) - Math.min(...Object.values(actual));
    expect(spread).toBeLessThanOrEqual(0.01);
    const forgetful = 1.12 / (1 + moisturePct / 100);
    expect(Math.abs(forgetful - naive)).toBeLessThanOrEqual(0.0001);
    expect(Math.abs(forgetful / actual.whiteAsh - 1)).toBeGreaterThan(Math.abs(actual.french / actual.whiteAsh - 1));
  });

  // At 700 kg/m³ the five sound methods span this many kg/m³. Tag: computed apart. Tolerance 0.1 kg/m³: printed to 0.1, from
  // factors rounded to four decimals.
  test.each([
    [8, 5.1],
    [10, 2.5],
    [14, 2.4],
    [16, 4.7],
    [18, 6.9]
  ])("at %s percent they span %s kg/m³ of 700", (moisturePct, span) => {
    const of = {densityKgM3: 700, moisturePct};
    const all = [
      densityAt12({...of, species: "white-ash"}),
      densityAt12({...of, species: frenchAsh}),
      700 * simpsonFactor(moisturePct),
      700 * isoFactor(700, moisturePct),
      densityAt12En384(of)
    ];
    expect(Math.abs(Math.max(...all) - Math.min(...all) - span)).toBeLessThanOrEqual(0.1);
  });

  // The slope at 12 %, by hand: 100/112 − 0.34/(1 − 0.0034 · 15) = 0.5346 for the French tree; 0.36 by Simpson (computed apart).
  // Tolerance 0.002, the curve over ±0.5 %, and half a digit.
  test("the slope at 12 % is 0.36 to 0.535 % for 1 %", () => {
    const slope = (factor: (m: number) => number) => 100 * (factor(11.5) - factor(12.5));
    expect(Math.abs(slope(simpsonFactor) - 0.36)).toBeLessThanOrEqual(0.005);
    const french = (m: number) => densityAt12({densityKgM3: 1, moisturePct: m, species: frenchAsh});
    expect(Math.abs(slope(french) - 0.5346)).toBeLessThanOrEqual(0.002);
  });

  // The trap in ISO 13061-2's form (computed apart): with a measured K in place of the default, its slope is 0.107 % for 1 % too steep,
  // because 100/112 = 0.893 of a percent, not a whole one, is the water's part. Tolerance 0.005.
  test("a measured shrinkage in ISO's form is 0.107 % for 1 % too steep", () => {
    const exact = (m: number) => densityAt12({densityKgM3: 1, moisturePct: m, species: "white-ash"});
    const exactSlope = 100 * (exact(11.99) - exact(12.01)) * 50;
    const k = 13.3 / 30 / (1 - 0.133 * 0.6); // % of the volume at 12 %
    expect(Math.abs(1 - k - exactSlope - 0.107)).toBeLessThanOrEqual(0.005);
  });
});

// Source: Wood Handbook, FPL-GTR-190 (2010), table 4-6: gravity 0.40 at 12 % is 448 kg/m³ and 27.97 lb/ft³. Tag: read in a secondary
// source. The other cells are from memory and are the identity. Tolerance half a printed digit.
test("specificGravity is the identity of table 4-6", () => {
  expect(specificGravity({densityKgM3: 448, moisturePct: 12})).toBeCloseTo(0.4, 10);
  expect(Math.abs(448 / kgM3PerPoundPerCubicFoot - 27.97)).toBeLessThanOrEqual(0.005);
  for (const [gravity, moisturePct, kgM3] of [
    [0.6, 12, 672],
    [0.6, 20, 720],
    [0.5, 12, 560]
  ] as const) {
    expect(specificGravity({densityKgM3: kgM3, moisturePct})).toBeCloseTo(gravity, 10);
  }
});

// Source: Wood Handbook (2010) table 5-3: gravity green and at 12 %, of which the second is mostly read in a secondary source. Tolerance
// 0.02: two printed digits each, from different pieces (sugar maple is 0.016 away, by either formula).
describe("gravity at 12 % from basic gravity", () => {
  const listed = woodNames.filter((name) => "specificGravity12" in woodConstants(name));
  test.each(listed)("%s", (name) => {
    const {basicSpecificGravity, specificGravity12, volumetricPct} = woodConstants(name);
    const simpson = gravityAtMoisture({basicSpecificGravity: basicSpecificGravity!, moisturePct: 12});
    expect(Math.abs(simpson - specificGravity12!)).toBeLessThanOrEqual(0.02);
    const exact = basicDensity({densityKgM3: 1120 * specificGravity12!, moisturePct: 12, species: name}) / 1000;
    expect(Math.abs(exact - basicSpecificGravity!)).toBeLessThanOrEqual(0.02);
    // US design practice: G = G0/(1 + 0.009·G0·M), G0 oven-dry. Tag: read in a secondary source. Tolerance 0.012: a rule for all woods.
    const ovenDry = basicSpecificGravity! / (1 - volumetricPct! / 100);
    const exactAt12 = basicSpecificGravity! / (1 - (volumetricPct! / 100) * 0.6);
    expect(Math.abs(ovenDry / (1 + 0.009 * ovenDry * 12) - exactAt12)).toBeLessThanOrEqual(0.012);
  });
});

// Source: trade pages that print density at 12 % as "specific gravity (12 %)": sugar maple 0.71, red maple 0.61, silver maple 0.53. Tag:
// read in a secondary source. Tolerance 0.01: rounding of both.
test.each([
  ["sugar-maple", 0.71],
  ["red-maple", 0.61],
  ["silver-maple", 0.53]
] as const)("%s: the trade's %s is density, not gravity", (name, printed) => {
  const densityKgM3 = 1120 * woodConstants(name).specificGravity12!;
  expect(Math.abs(densityKgM3 / 1000 - printed)).toBeLessThanOrEqual(0.01);
  expect(specificGravity({densityKgM3, moisturePct: 12})).toBeLessThan(printed - 0.05);
});

// Source: density of European woods at 12 %, trade data sheets: ash 689 to 702, sycamore 640. Tag: read in a secondary source. Tolerance 30
// kg/m³: species means of different origin; the database's gravity gives 681 and 617.
test.each([
  ["european-ash", 695],
  ["sycamore", 640]
] as const)("%s weighs about %s kg/m³ at 12 percent", (name, published) => {
  const {basicSpecificGravity} = woodConstants(name);
  const green = 1000 * basicSpecificGravity! * 1.3;
  expect(Math.abs(densityAt12({densityKgM3: green, moisturePct: 30, species: name}) - published)).toBeLessThanOrEqual(
    30
  );
});

// Source: Vieilledent et al. (2018): Db = 0.828 D12, residual 0.015 g/cm³, read; Reyes et al. (1992): 0.0134 + 0.800 D12, read there.
// Tolerance 45 kg/m³ (three residuals) against trees, 15 kg/m³ between the two rules from 0.4 to 0.9.
test("basicDensityFromAt12 agrees with trees and with the older rule", () => {
  for (const [d12, db] of [
    [620, 530],
    [690, 560],
    [500, 410],
    [480, 410],
    [710, 600],
    [640, 560],
    [920, 800]
  ] as const) {
    expect(Math.abs(basicDensityFromAt12({densityAt12KgM3: d12}) - db)).toBeLessThanOrEqual(45);
  }
  for (let d12 = 400; d12 <= 900; d12 += 50) {
    expect(Math.abs(basicDensityFromAt12({densityAt12KgM3: d12}) - (13.4 + 0.8 * d12))).toBeLessThanOrEqual(15);
  }
});

// Ash and maple both by their own shrinkage and by the general rule, at 12 %. Tolerance 3 %: the rule supposes shrinkage of 26.5 times
// gravity, which white ash (24 times) and silver maple (27 times) straddle.
test("basicGravity, for a wood without shrinkage, is within 3 % of basicDensity", () => {
  for (const species of woodNames) {
    const piece = {densityKgM3: 680, moisturePct: 12};
    const ratio = (1000 * basicGravity(piece)) / basicDensity({...piece, species});
    expect(Math.abs(ratio - 1)).toBeLessThanOrEqual(0.03);
  }
});

// The workshop's own square, by hand: 40 × 40 × 1500 mm, 1680 g at 12 %.
test("the square: 2.4 litres, 700 kg/m³, 1500 g of wood", () => {
  const volumeMm3 = barVolume({lengthMm: 1500, widthMm: 40, thicknessMm: 40});
  expect(volumeMm3).toBe(2_400_000);
  expect(density({massG: 1680, volumeMm3})).toBe(700);
  expect(ovenDryMass({massG: 1680, moisturePct: 12})).toBe(1500);
});
