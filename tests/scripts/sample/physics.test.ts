import {expect, test} from "vitest";
import {barVolume, density} from "../../../lib/wood/density.ts";
import {densityAt12} from "../../../lib/wood/densityAt12.ts";
import {equilibriumMoisture} from "../../../lib/wood/equilibriumMoisture.ts";
import {taperVolume} from "../../../lib/wood/taper.ts";
import {csvRows, mean, sd, truth} from "./csvRows.ts";

const lots = new Map(csvRows("lots.csv").map((lot) => [lot.lot, lot]));
const squares = csvRows("squares.csv").filter(
  (_, i) =>
    !truth.faults.some((fault: {file: string; row: number}) => fault.file === "squares.csv" && fault.row === i + 2)
);
const faultyRows = new Set(
  truth.faults.filter(({file}: {file: string}) => file === "events.csv").map(({row}: {row: number}) => row - 2)
);
const events = csvRows("events.csv").filter((_, i) => !faultyRows.has(i));
const woods = {ash: "european-ash", maple: "sugar-maple"} as const;

function measuredAt12(row: Record<string, string>): number {
  const size = {lengthMm: Number(row.length_mm), widthMm: Number(row.width_mm), thicknessMm: Number(row.thickness_mm)};
  const densityKgM3 = density({massG: Number(row.mass_g), volumeMm3: barVolume(size)});
  const species = woods[lots.get(row.lot)!.species as "ash" | "maple"];
  return densityAt12({densityKgM3, moisturePct: Number(row.mc_pct), species});
}

// Tolerance: measuring adds about 5 kg/m³ (meter 1.2 % × 0.45 %/% and two callipers of 0.1 mm in 40) a square, so the mean of n
// squares is off by 5/√n; five times that.
for (const {supplier, species, realised} of truth.density)
  test(`densityAt12 of the ${realised.squares} ${species} squares of ${supplier} has the true mean and spread`, () => {
    const own = squares.filter(({lot}) => lots.get(lot)!.supplier === supplier && lots.get(lot)!.species === species);
    const values = own.map(measuredAt12);
    expect(values.length).toBe(realised.squares);
    expect(Math.abs(mean(values) - realised.mean)).toBeLessThan(25 / Math.sqrt(values.length));
    expect(Math.abs(sd(values) - Math.hypot(realised.sd, 5))).toBeLessThan(1.5);
  });

test("squares weigh 1.2 to 2.2 kg and are about 40 × 40 × 1500 mm", () => {
  const masses = squares.map(({mass_g}) => Number(mass_g));
  expect(Math.min(...masses)).toBeGreaterThan(1200);
  expect(Math.max(...masses)).toBeLessThan(2200);
  expect(mean(squares.map(({width_mm}) => Number(width_mm)))).toBeCloseTo(40.4, 1);
  expect(Math.min(...squares.flatMap((row) => [Number(row.width_mm), Number(row.thickness_mm)]))).toBeGreaterThan(38.5);
});

test("air-dried squares come in at 12 to 17 % and kiln-dried ones at 8 to 10.5 %, give or take the meter", () => {
  for (const [drying, low, high] of [
    ["air", 12, 17],
    ["kiln", 8, 10.5]
  ] as const) {
    const own = squares.filter(({lot}) => lots.get(lot)!.drying === drying).map(({mc_pct}) => Number(mc_pct));
    expect(mean(own)).toBeGreaterThan(low);
    expect(mean(own)).toBeLessThan(high);
    expect(own.filter((value) => value > low - 2.4 && value < high + 2.4).length / own.length).toBeGreaterThan(0.95);
  }
});

test("finished shafts weigh what the densities of their squares say, less the water lost", () => {
  const volumeMm3 = taperVolume({largeMm: 29, smallMm: 9.5, lengthMm: 1470});
  const at12 = new Map(squares.map((row) => [row.square, measuredAt12(row)]));
  const ratios = events
    .filter(({event, stage}) => event === "turned" && stage === "finished")
    .map(({square, mass_g}) => (1e6 * Number(mass_g)) / volumeMm3 / at12.get(square)!);
  // At 9.3 % moisture wood is 1.1 to 1.4 % lighter than at 12 %.
  expect(mean(ratios)).toBeGreaterThan(0.98);
  expect(mean(ratios)).toBeLessThan(0.995);
  expect(sd(ratios)).toBeLessThan(0.02);
});

test("no mass rises by more than 2.5 %, and on the lathe every mass falls", () => {
  const last = new Map(squares.map(({square, mass_g}) => [square!, Number(mass_g)]));
  for (const {square, event, mass_g} of events) {
    if (!mass_g) continue;
    expect(Number(mass_g)).toBeLessThan(last.get(square!)! * (event === "turned" ? 0.95 : 1.025));
    last.set(square!, Number(mass_g));
  }
});

test("the air of the store would bring wood to 7.5 to 11 %, higher in summer", () => {
  const readings = csvRows("climate.csv").map((row) => ({
    month: row.date!.slice(5, 7),
    moisture: equilibriumMoisture({temperatureC: Number(row.temperature_c), humidityPct: Number(row.humidity_pct)})
  }));
  expect(Math.min(...readings.map(({moisture}) => moisture))).toBeGreaterThan(7);
  expect(Math.max(...readings.map(({moisture}) => moisture))).toBeLessThan(11);
  const of = (month: string) => mean(readings.filter((row) => row.month === month).map(({moisture}) => moisture));
  expect(of("07")).toBeGreaterThan(of("01") + 0.8);
});

test("dense ash has wide rings; in maple rings say nearly nothing", () => {
  for (const [species, low, high] of [
    ["ash", -0.75, -0.45],
    ["maple", -0.2, 0.15]
  ] as const) {
    const counted = squares.filter((row) => row.rings_per_25mm && lots.get(row.lot)!.species === species);
    const r = correlation(
      counted.map(measuredAt12),
      counted.map((row) => Number(row.rings_per_25mm))
    );
    expect(r).toBeGreaterThan(low);
    expect(r).toBeLessThan(high);
  }
});

function correlation(a: number[], b: number[]): number {
  const [ma, mb] = [mean(a), mean(b)];
  return mean(a.map((value, i) => (value - ma) * (b[i]! - mb))) / sd(a) / sd(b);
}
