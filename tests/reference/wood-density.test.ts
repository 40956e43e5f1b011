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
import {gPerPound, kgM3PerPoundPerCubicFoot, mmPerInch} from "../../lib/wood/units.ts";

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
  expect(Math.abs(shrunkPct - 9.942)).toBeLessThanOrEqual(0.0005); // and 0.4143 % for 1 %, both computed apart
  expect(Math.abs(shrunkPct / 24 - 0.4143)).toBeLessThanOrEqual(0.00005);
  const species: WoodConstants = {
    name: "Khaya",
    latin: "Khaya ivorensis",
    fibreSaturationPct: 24,
    volumetricPct: shrunkPct
  };
  const actual = basicDensity({densityKgM3: 570, moisturePct: 12, species}) / 1000;
  expect(Math.abs(actual - 0.484)).toBeLessThanOrEqual(0.0005);
  expect(Math.abs(actual / 0.483 - 1)).toBeLessThanOrEqual(0.01);
  expect(Math.abs(actual - 0.48363)).toBeLessThanOrEqual(0.000005); // computed apart
});

// The French ash of the table above, printed as 0.53. Computed apart from this code: 0.52534. Tolerance half a digit.
test("basicDensity of the French ash is 0.52534", () => {
  const actual = basicDensity({densityKgM3: 620, moisturePct: 12, species: frenchAsh}) / 1000;
  expect(Math.abs(actual - 0.52534)).toBeLessThanOrEqual(0.000005);
});

// The species' figure for European ash, 13.2 % of volume, against that tree's 9.2 %: half a percent of density for a stick at 8 %. By hand
// 1.0222/1.0172 = 1.0049. Tolerance 0.0002.
test("european-ash and the one French tree differ by half a percent at 8 %", () => {
  const at8 = {densityKgM3: 700, moisturePct: 8};
  const ratio = densityAt12({...at8, species: frenchAsh}) / densityAt12({...at8, species: "european-ash"});
  expect(Math.abs(ratio - 1.0049)).toBeLessThanOrEqual(0.0002);
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
    // What the docstrings say: the grading rule is within 0.7 % of the exact form for white ash; from 8 to 16 % ISO's form is within 0.5 % of the exact one for both ashes.
    expect(Math.abs(actual.en / actual.whiteAsh - 1)).toBeLessThanOrEqual(0.007);
    if (moisturePct <= 16) {
      for (const exact of [actual.whiteAsh, actual.french]) {
        expect(Math.abs(actual.iso / exact - 1)).toBeLessThanOrEqual(0.005);
      }
    }
  });

  // By hand from the table: 1.0370/1.0171 = 1.020 and 0.9492/0.9766 = 0.972. Tolerance half a digit.
  test.each([
    [8, 2.0],
    [18, -2.8]
  ])("forgetting shrinkage errs at %s percent by %s percent", (moisturePct, errorPct) => {
    const exact = densityAt12({densityKgM3: 1, moisturePct, species: "white-ash"});
    expect(Math.abs(100 * (1.12 / (1 + moisturePct / 100) / exact - 1) - errorPct)).toBeLessThanOrEqual(0.05);
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

// Source: ASTM D2395, method A: G = K·m/((1 + M/100)·L·w·t), K 1000 for g and mm, 1 for g and cm, 0.061 for g and inches, 27.7 for lb and inches.
// Tag: from memory. A square of 40 × 40 × 1500 mm and 1680 g at 12 %, in each pair of units. Tolerance 0.15 %: K is printed to three digits.
test.each([
  [1000, 1, 1],
  [1, 10, 1],
  [0.061, mmPerInch, 1],
  [27.7, mmPerInch, gPerPound]
])("specificGravity is ASTM D2395 with K %s", (k, mmPerUnit, gPerUnit) => {
  const standard = (k * (1680 / gPerUnit)) / (1.12 * (40 / mmPerUnit) ** 2 * (1500 / mmPerUnit));
  const densityKgM3 = density({massG: 1680, volumeMm3: barVolume({lengthMm: 1500, widthMm: 40, thicknessMm: 40})});
  expect(Math.abs(specificGravity({densityKgM3, moisturePct: 12}) / standard - 1)).toBeLessThanOrEqual(0.0015);
});

// The handbook's gravities as densities at 12 %, worked out apart: 1120 times. Tag: computed. Exact.
test.each([
  ["white-ash", 672],
  ["sugar-maple", 705.6],
  ["red-maple", 604.8],
  ["black-ash", 548.8]
] as const)("%s of mean gravity weighs %s kg/m³ at 12 percent", (name, densityKgM3) => {
  expect(specificGravity({densityKgM3, moisturePct: 12})).toBeCloseTo(woodConstants(name).specificGravity12!, 10);
});

// Simpson's rule worked out apart: white ash of 0.55 is 0.6027 (printed 0.60), sugar maple of 0.56 is 0.6147 (printed 0.63). Tolerance half a digit.
test.each([
  ["white-ash", 0.6027],
  ["sugar-maple", 0.6147]
] as const)("gravityAtMoisture of %s at 12 percent is %s", (name, computed) => {
  const basicSpecificGravity = woodConstants(name).basicSpecificGravity!;
  expect(Math.abs(gravityAtMoisture({basicSpecificGravity, moisturePct: 12}) - computed)).toBeLessThanOrEqual(0.00005);
  expect(
    Math.abs(basicGravity({densityKgM3: 1120 * computed, moisturePct: 12}) - basicSpecificGravity)
  ).toBeLessThanOrEqual(0.00005);
});

// Source: Simpson (1993) takes the volume to shrink by 26.5 times the basic gravity, CIRAD's trees by 20.1 times (Vieilledent et al. 2018). Tag: read. Our
// seven American woods must be nearer the first, which was made for them. Tolerance 1: mean of seven.
test("the American woods shrink by about 26.5 times their gravity, as Simpson's rule supposes", () => {
  const ratios = woodNames
    .map((name) => woodConstants(name))
    .filter((wood) => wood.specificGravity12 !== undefined)
    .map(({volumetricPct, basicSpecificGravity}) => volumetricPct! / basicSpecificGravity!);
  expect(ratios.length).toBe(7);
  const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
  expect(Math.abs(mean - 26.5)).toBeLessThan(1);
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

// Source: density of European woods at 12 %: trade data sheets and an encyclopedia, read in a secondary source; Lavers (1983), 689 and 561, from
// memory. Tolerance 30 kg/m³ from the mean: species means of different origin; the database's gravity gives 681 and 617.
test.each([
  ["european-ash", [702, 689, 690, 689]],
  ["sycamore", [640, 561]]
] as const)("%s weighs about the mean of %s kg/m³ at 12 percent", (name, published) => {
  const green = 1000 * woodConstants(name).basicSpecificGravity! * 1.3;
  const at12 = densityAt12({densityKgM3: green, moisturePct: 30, species: name});
  const mean = published.reduce<number>((sum, value) => sum + value, 0) / published.length;
  expect(Math.abs(at12 - mean)).toBeLessThanOrEqual(30);
});

// Source: Llana et al. (2020), Ann. For. Sci. 77, table 4: small ash logs of 664 kg/m³ at 18.3 %, coefficient of variation 7.2 %. Tag: read. At 12 % they
// must be lighter than as measured, and within two of those coefficients of the species' mean.
test("small ash logs of 664 kg/m³ at 18.3 percent are European ash at 12 percent", () => {
  const logs = densityAt12({densityKgM3: 664, moisturePct: 18.3, species: "european-ash"});
  const green = 1300 * woodConstants("european-ash").basicSpecificGravity!;
  const mean = densityAt12({densityKgM3: green, moisturePct: 30, species: "european-ash"});
  expect(logs).toBeLessThan(664);
  expect(Math.abs(logs / mean - 1)).toBeLessThan(2 * 0.072);
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
