import {expect, test} from "vitest";
import {densityUncertainty} from "../../lib/wood/densityUncertainty.ts";
import {moistureByMass, ovenDryMass} from "../../lib/wood/moisture.ts";

const square = {
  lengthMm: 1500,
  widthMm: 40,
  thicknessMm: 40,
  massG: 1680,
  moisturePct: 12,
  species: "white-ash"
} as const;
const instruments = {scaleG: 1, calliperMm: 0.1, tapeMm: 1, meterPct: 1.5};
const frenchAsh = {
  name: "one French tree",
  latin: "Fraxinus excelsior",
  fibreSaturationPct: 27,
  volumetricPct: 0.34 * 27
};

// By the GUM's law of propagation (JCGM 100:2008, eq. 10, from memory), worked by hand: ±1 g of 1680, ±0.1 mm of 40 twice, ±1 mm of 1500 are
// 0.06, 0.25, 0.25 and 0.07 %, together 0.365 % or 2.6 kg/m³ of 700. Tolerance half a digit.
test("as measured: 0.06, 0.25 twice and 0.07 % make 0.365 %, 2.6 kg/m³", () => {
  const {densityKgM3, asMeasuredKgM3, contributions} = densityUncertainty({...square, ...instruments});
  const percent = contributions.map(({asMeasuredKgM3: part}) => (100 * part) / densityKgM3);
  expect(Math.abs(percent[0]! - 0.06)).toBeLessThanOrEqual(0.005);
  expect(Math.abs(percent[1]! - Math.SQRT2 * 0.25)).toBeLessThanOrEqual(0.005);
  expect(Math.abs(percent[2]! - 0.07)).toBeLessThanOrEqual(0.005);
  expect(Math.abs((100 * asMeasuredKgM3) / densityKgM3 - 0.365)).toBeLessThanOrEqual(0.0005);
  expect(Math.abs(asMeasuredKgM3 - 2.6)).toBeLessThanOrEqual(0.05);
});

// By hand: a meter good to 1.5 % adds 0.40 to 0.54 % of density for each, so the whole is 0.70 to 0.89 %. Between the two woods, and the meter
// above everything else.
test("at 12 % the meter decides: 0.7 to 0.9 % in all, most of it the meter's", () => {
  for (const [species, slopePct] of [
    ["white-ash", 0.41],
    [frenchAsh, 0.535]
  ] as const) {
    const {densityAt12KgM3, at12KgM3, contributions} = densityUncertainty({...square, ...instruments, species});
    const meter = contributions[3]!.at12KgM3 / densityAt12KgM3;
    expect(Math.abs(100 * meter - 1.5 * slopePct)).toBeLessThanOrEqual(0.0075);
    const whole = Math.hypot(0.365, 1.5 * slopePct);
    expect(Math.abs((100 * at12KgM3) / densityAt12KgM3 - whole)).toBeLessThanOrEqual(0.0075);
    expect(contributions[3]!.at12KgM3).toBeGreaterThan(contributions[1]!.at12KgM3);
  }
});

// Worked out apart: with a meter good to 1.5 % and a slope of 0.40 to 0.50 % for 1 %, 4.9 to 5.8 kg/m³ of 700, 0.70 to 0.83 %. White ash's slope is 0.41.
// The slope by hand: 100/112 − 13.3/30/0.9202 = 0.4111. Tolerance half a digit.
test("for white ash that is 5.0 kg/m³ of 700, of which the meter's is 4.3", () => {
  const {at12KgM3, contributions} = densityUncertainty({...square, ...instruments});
  expect(at12KgM3).toBeGreaterThan(4.9);
  expect(at12KgM3).toBeLessThan(5.8);
  expect(Math.abs(contributions[3]!.at12KgM3 - 700 * 0.01 * 1.5 * 0.4111)).toBeLessThanOrEqual(0.005);
});

// By hand: 1.5 % at 12 % is 1.5/112 = 1.34 % of the oven-dry mass, 20 g of 1500; a scale good to 1 g tells 0.07 % of moisture.
test("a meter leaves 20 g of oven-dry mass open; a scale tells 0.07 % of moisture", () => {
  const spread = (ovenDryMass({massG: 1680, moisturePct: 10.5}) - ovenDryMass({massG: 1680, moisturePct: 13.5})) / 2;
  expect(Math.abs(spread - 20)).toBeLessThanOrEqual(0.5);
  const perGram = moistureByMass({massG: 1681, ovenDryMassG: 1500}) - moistureByMass({massG: 1680, ovenDryMassG: 1500});
  expect(Math.abs(perGram - 0.07)).toBeLessThanOrEqual(0.005);
});

// The GUM's own check (JCGM 101:2008, propagation of distributions, from memory) by points that stand for the normal: each reading moved up and down by
// its standard uncertainty gives nearly the first-order answer. Tolerance 1 %: second order.
test("moving each reading by its uncertainty gives the same", () => {
  const base = {...square, moisturePct: 16, scaleG: 0, calliperMm: 0, tapeMm: 0, meterPct: 0};
  type Readings = Partial<Record<"massG" | "widthMm" | "thicknessMm" | "lengthMm" | "moisturePct", number>>;
  const half = (up: Readings, down: Readings) =>
    (densityUncertainty({...base, ...up}).densityAt12KgM3 - densityUncertainty({...base, ...down}).densityAt12KgM3) / 2;
  const parts = [
    half({massG: 1681}, {massG: 1679}),
    half({widthMm: 40.1}, {widthMm: 39.9}),
    half({thicknessMm: 40.1}, {thicknessMm: 39.9}),
    half({lengthMm: 1501}, {lengthMm: 1499}),
    half({moisturePct: 17.5}, {moisturePct: 14.5})
  ];
  const first = densityUncertainty({...square, moisturePct: 16, ...instruments}).at12KgM3;
  expect(Math.abs(Math.hypot(...parts) / first - 1)).toBeLessThan(0.01);
});
