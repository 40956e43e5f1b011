import {describe, expect, test} from "vitest";
import {clearWoodVariation} from "../../lib/wood/clearWoodVariation.ts";
import {woodConstants, woodNames} from "../../lib/wood/species.ts";
import {mpaPerPsi} from "../../lib/wood/units.ts";

/** Rows of a database as they stand there: number, binomial, oven-dry mass over green volume in g/cm³, region. */
type DatabaseRow = [row: number, binomial: string, gravity: number, region: string];

// Source: Global Wood Density Database v1: Zanne et al. (2009), Dryad doi 10.5061/dryad.234; Chave et al. (2009), Ecol. Lett. 12:351. All rows
// of our nine species, unchanged, taken from the copy in the CIRAD wood density repository (Vieilledent et al. 2018), whose licence is CC BY-SA 4.0;
// Dryad's own licence is CC0 by memory and was not seen. Tag: read.
const database: DatabaseRow[] = [
  [256, "Acer nigrum", 0.52, "NorthAmerica"],
  [264, "Acer pseudoplatanus", 0.508, "Europe"],
  [265, "Acer pseudoplatanus", 0.51, "Europe"],
  [266, "Acer rubrum", 0.49, "NorthAmerica"],
  [267, "Acer saccharinum", 0.44, "NorthAmerica"],
  [268, "Acer saccharum", 0.56, "NorthAmerica"],
  [7201, "Fraxinus americana", 0.55, "NorthAmerica"],
  [7205, "Fraxinus excelsior", 0.56, "Europe"],
  [7206, "Fraxinus excelsior", 0.56, "Europe"],
  [7207, "Fraxinus excelsior", 0.59, "South-East Asia"],
  [7214, "Fraxinus nigra", 0.45, "NorthAmerica"],
  [7215, "Fraxinus pennsylvanica", 0.53, "NorthAmerica"]
];
describe("basicSpecificGravity against the open database, found by Latin name", () => {
  // Rows from where the tree grows must agree in the second decimal, the handbooks' last. Ash is no tree of South-East Asia: its row there is
  // held to the database's later spread only (v2: 0.074, read).
  test.each(woodNames)("%s", (name) => {
    const {latin, basicSpecificGravity} = woodConstants(name);
    const rows = database.filter(([, binomial]) => binomial === latin);
    const native = rows.filter(([, , , region]) => region !== "South-East Asia");
    expect(native.length).toBeGreaterThan(0);
    for (const [, , gravity] of native) expect(gravity.toFixed(2)).toBe(basicSpecificGravity!.toFixed(2));
    for (const [, , gravity] of rows) expect(Math.abs(gravity - basicSpecificGravity!)).toBeLessThan(0.074);
  });

  // Source: the same database's version 2 (Fischer et al. 2026, doi 10.5281/zenodo.18262736), modelled species means and spreads. Tag: read.
  // Within two of its standard deviations; and not interchangeable, for sugar maple is a tenth denser there.
  test.each([
    ["european-ash", 0.558, 0.074],
    ["sugar-maple", 0.62, 0.054]
  ] as const)("%s is within two standard deviations of the modelled %s ± %s", (name, mean, deviation) => {
    expect(Math.abs(woodConstants(name).basicSpecificGravity! - mean)).toBeLessThan(2 * deviation);
  });
  test("sugar maple's modelled mean is not the handbook's", () => {
    expect(0.62 / woodConstants("sugar-maple").basicSpecificGravity!).toBeGreaterThan(1.1);
  });

  // Source: CIRAD (Vieilledent et al. 2018): one French ash measured 0.53, and the database runs 3.05 % high against their measurements. Tag: read.
  // Tolerance 0.03: one tree, of a species that scatters by 0.074.
  test("european-ash, less the database's 3.05 %, is near the one French tree", () => {
    const corrected = woodConstants("european-ash").basicSpecificGravity! / 1.0305;
    expect(Math.abs(corrected - 0.53)).toBeLessThanOrEqual(0.03);
  });
});

// Source: Wood Handbook, FPL-GTR-190 (2010), table 5-3a: gravity, rupture in MPa and modulus in MPa, each green and at 12 %. Sugar
// maple read in a secondary source; of the others the 12 % columns mostly so, the green ones from memory (each number's tag
// is in speciesTable.ts). A copy against slips of the pen; what grounds it are the database above, the inch-pound table below and wood-strength.test.ts. Exact.
test.each([
  ["white-ash", 0.55, 0.6, 66, 103, 9900, 12_000],
  ["black-ash", 0.45, 0.49, 41, 87, 7200, 11_000],
  ["green-ash", 0.53, 0.56, 66, 97, 9700, 11_400],
  ["sugar-maple", 0.56, 0.63, 65, 109, 10_700, 12_600],
  ["black-maple", 0.52, 0.57, 54, 92, 9200, 11_200],
  ["red-maple", 0.49, 0.54, 53, 92, 9600, 11_300],
  ["silver-maple", 0.44, 0.47, 40, 61, 6500, 7900]
] as const)("%s: gravity %s and %s, rupture %s and %s, modulus %s and %s MPa", (name, ...printed) => {
  const wood = woodConstants(name);
  expect([
    wood.basicSpecificGravity,
    wood.specificGravity12,
    wood.ruptureGreenMPa,
    wood.ruptureMPa12,
    wood.modulusGreenMPa,
    wood.modulusMPa12
  ]).toEqual(printed);
});

// Source: Wood Handbook (2010) table 5-3b as repeated by other pages: modulus 10⁶ psi and rupture psi at 12 %. Tag: read in a
// secondary source; black maple's rupture from memory. Tolerance: half of the metric table's last digit,
// 50 MPa and 0.5 MPa.
describe("strength at 12 % is what the inch-pound table says", () => {
  test.each([
    ["black-ash", 1.6, 12_600],
    ["green-ash", 1.66, 14_100],
    ["white-ash", 1.74, 15_000],
    ["black-maple", 1.62, 13_300],
    ["red-maple", 1.64, 13_400],
    ["silver-maple", 1.14, 8_900],
    ["sugar-maple", 1.83, 15_800]
  ] as const)("%s: %s million and %s psi", (name, modulus, rupture) => {
    const {modulusMPa12, ruptureMPa12} = woodConstants(name);
    expect(Math.abs(modulusMPa12! - modulus * 1e6 * mpaPerPsi)).toBeLessThanOrEqual(50);
    expect(Math.abs(ruptureMPa12! - rupture * mpaPerPsi)).toBeLessThanOrEqual(0.5);
  });
});

// Source: the same, green. Tag: from memory, save sugar maple (read in a secondary source). Metric and inch-pound columns are two
// copies of one memory, so the ground is sugar maple's row and the rule of thumb in wood-strength.test.ts. Tolerance as above.
test.each([
  ["black-ash", 1.04, 6_000],
  ["green-ash", 1.4, 9_500],
  ["white-ash", 1.44, 9_500],
  ["black-maple", 1.33, 7_900],
  ["red-maple", 1.39, 7_700],
  ["silver-maple", 0.94, 5_800],
  ["sugar-maple", 1.55, 9_400]
] as const)("%s green: %s million and %s psi", (name, modulus, rupture) => {
  const {modulusGreenMPa, ruptureGreenMPa} = woodConstants(name);
  expect(Math.abs(modulusGreenMPa! - modulus * 1e6 * mpaPerPsi)).toBeLessThanOrEqual(50);
  expect(Math.abs(ruptureGreenMPa! - rupture * mpaPerPsi)).toBeLessThanOrEqual(0.5);
});

// Source: a flooring association's page on sugar maple, read: gravity 0.56 to 0.63, rupture 9,400 to 15,800 psi, change 0.00353, as the handbook;
// but modulus 1.65 to 1.88 million psi. Those two digits are wrong: the handbook's row, read in two secondary sources, is 1.55 to 1.83.
test("sugar maple: a public page's modulus of 1.65 to 1.88 million psi is not the handbook's", () => {
  const wood = woodConstants("sugar-maple");
  expect([wood.basicSpecificGravity, wood.specificGravity12, wood.tangentialPer1Pct]).toEqual([0.56, 0.63, 0.00353]);
  expect(1.65e6 * mpaPerPsi - wood.modulusGreenMPa!).toBeGreaterThan(600);
  expect(1.88e6 * mpaPerPsi - wood.modulusMPa12!).toBeGreaterThan(300);
});

// Source: the 1987 edition printed 15,400 psi for white ash at 12 %, the 2010 edition 15,000. Tags: from
// memory; read in a secondary source.
test("white ash is the 2010 edition's, not that of 1987", () => {
  const {ruptureMPa12} = woodConstants("white-ash");
  expect(ruptureMPa12).toBe(Math.round(15_000 * mpaPerPsi));
  expect(ruptureMPa12).not.toBe(Math.round(15_400 * mpaPerPsi));
});

// Source: Wood Handbook, FPL-GTR-190 (2010), table 4-3, radial, tangential, volumetric. Tag: read for the ashes; read in a secondary source
// for sugar, red and silver maple; from memory for black maple. The last two rows: trade data sheets, read in a secondary source,
// sycamore's volume from memory. A copy against slips of the pen; what grounds it is wood-shrinkage.test.ts. Exact.
test.each([
  ["white-ash", 4.9, 7.8, 13.3],
  ["black-ash", 5.0, 7.8, 15.2],
  ["green-ash", 4.6, 7.1, 12.5],
  ["sugar-maple", 4.8, 9.9, 14.7],
  ["black-maple", 4.8, 9.3, 14.0],
  ["red-maple", 4.0, 8.2, 12.6],
  ["silver-maple", 3.0, 7.2, 12.0],
  ["european-ash", 5.0, 8.0, 13.2],
  ["sycamore", 4.5, 8.0, 12.3]
] as const)("%s shrinks by %s, %s and %s percent", (name, radial, tangential, volumetric) => {
  const {radialPct, tangentialPct, volumetricPct} = woodConstants(name);
  expect([radialPct, tangentialPct, volumetricPct]).toEqual([radial, tangential, volumetric]);
});

// Sources: trade data sheets and an encyclopedia, modulus and rupture in MPa at 12 %, read in a secondary source (the encyclopedia in kgf/cm²:
// 129,000 and 1130); the last row of each Lavers (1983), Strength properties of timber, from memory. The stored pair must be one of them, whole.
const europeanSheets = {
  "european-ash": [
    [13_400, 120],
    [12_900, 106],
    [(129_000 * 9.80665) / 100, (1130 * 9.80665) / 100],
    [12_310, 103.6],
    [12_000, 103],
    [11_900, 116]
  ],
  sycamore: [
    [10_000, 112],
    [9_400, 99]
  ]
} as const;
test.each([
  ["european-ash", 12_900, 106],
  ["sycamore", 10_000, 112]
] as const)("%s: modulus %s and rupture %s MPa stand on one sheet, within the others", (name, modulus, rupture) => {
  const {modulusMPa12, ruptureMPa12} = woodConstants(name);
  expect([modulusMPa12, ruptureMPa12]).toEqual([modulus, rupture]);
  expect(europeanSheets[name]).toContainEqual([modulusMPa12, ruptureMPa12]);
  const moduli = europeanSheets[name].map(([e]) => e);
  const ruptures = europeanSheets[name].map(([, r]) => r);
  // Tolerance 12 % of the mean of the sheets: clear pieces of one species vary by 22 and 16 % among themselves.
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  expect(Math.abs(modulusMPa12! / mean(moduli) - 1)).toBeLessThan(0.12);
  expect(Math.abs(ruptureMPa12! / mean(ruptures) - 1)).toBeLessThan(0.12);
});

// Source: Wood Handbook, FPL-GTR-190 (2010), table 4-1. Tag: read. An ash is felled far drier than a maple.
test("green ash wood holds about 45 % of water where it is white ash, 95 % where it is black", () => {
  expect(woodConstants("white-ash").greenHeartwoodPct).toBe(46);
  expect(woodConstants("white-ash").greenSapwoodPct).toBe(44);
  expect(woodConstants("black-ash").greenHeartwoodPct).toBe(95);
  expect(woodConstants("green-ash").greenSapwoodPct).toBe(58);
});

// Source: the same table. Tag: from memory; the losses in wood-moisture.test.ts bear on it.
test("green maples hold 65 and 72 % (sugar), 58 and 97 % (silver)", () => {
  const sugar = woodConstants("sugar-maple");
  const silver = woodConstants("silver-maple");
  expect([sugar.greenHeartwoodPct, sugar.greenSapwoodPct]).toEqual([65, 72]);
  expect([silver.greenHeartwoodPct, silver.greenSapwoodPct]).toEqual([58, 97]);
});

// Source: Wood Handbook, FPL-GTR-190 (2010), p. 4-2: fibre saturation "averages about 30%". Tag: read.
test("every stored fibre saturation is the handbook's 30 %", () => {
  for (const name of woodNames) expect(woodConstants(name).fibreSaturationPct).toBe(30);
});

// Source: CIRAD (Vieilledent et al. 2018): fibre saturation of their trees 17 to 41 %, mean 27.93, standard deviation 4.06. Tag: read. The stored 30 lies
// within one deviation; a workshop may state any of them.
test("fibre saturation of measured trees, 17 to 41 %, may be stated; 30 is near their mean", () => {
  for (const fibreSaturationPct of [17, 27.93, 41]) {
    const own = {name: "one tree", latin: "Fraxinus excelsior", fibreSaturationPct};
    expect(woodConstants(own).fibreSaturationPct).toBe(fibreSaturationPct);
  }
  for (const name of woodNames) expect(Math.abs(woodConstants(name).fibreSaturationPct - 27.93)).toBeLessThan(4.06);
});

// Sources: Wood Handbook (2010) table 5-6, from memory: gravity 10 %, modulus 22 %, rupture 16 %. Global Wood Density Database v2,
// modelled within-species spread, read: F. excelsior 0.074/0.558, A. saccharum 0.054/0.620. Llana et al. (2020), Ann. For. Sci.
// 77, table 4, read: ash logs 7.2 % density, 11.8 % rupture, 15.5 % modulus.
test("the spread of density lies between the database's two species; the order is that of the ash logs", () => {
  expect(clearWoodVariation.specificGravity).toBeGreaterThan(0.054 / 0.62);
  expect(clearWoodVariation.specificGravity).toBeLessThan(0.074 / 0.558);
  const {specificGravity, rupture, modulus} = clearWoodVariation;
  const ratios = [rupture / specificGravity, modulus / specificGravity];
  // Tolerance 0.15: ratios of two-digit figures; knotty logs and clear pieces need not agree better.
  expect(Math.abs(ratios[0]! - 11.8 / 7.2)).toBeLessThan(0.15);
  expect(Math.abs(ratios[1]! - 15.5 / 7.2)).toBeLessThan(0.15);
});
