import {describe, expect, test} from "vitest";
import {dayText} from "../../lib/book/day.ts";
import type {Measurement, Piece} from "../../lib/book/histories.ts";
import {halfYearOf} from "../../lib/buying/stageTimes.ts";
import {type Drying, daysUntilNear, dryingTimeOf, dryingTimes} from "../../lib/seasoning/dryingTimes.ts";
import {equilibriumHumidity} from "../../lib/wood/equilibriumHumidity.ts";
import {makePiece, settings} from "../pieces.ts";
import {type DryingWorkshop, dryingWorkshop} from "./simulatedDrying.ts";

const accuracy = {...settings.accuracy, scaleG: 1, meterPct: 1.2};
const fitted = (made: DryingWorkshop): Drying => {
  const {pieces, climate, asOf} = dryingWorkshop(made);
  return dryingTimes({settings: {...settings, accuracy}, asOf, pieces}, climate, {halfYearOf});
};
const stages = settings.stages.slice(0, -1).map(({name}) => name);
const truth = [45, 32, 20, 15];

/** How many of the limits hold the truth, of those told, and the mean logarithm of estimate ÷ truth, by stage. */
function tried(workshops: number, made: Omit<DryingWorkshop, "seed">) {
  const fits = Array.from({length: workshops}, (_, i) => fitted({...made, seed: i + 1}));
  const days = made.days ?? truth;
  const byStage = stages.map((stage, s) => {
    const rows = fits.map(({times}) => dryingTimeOf(times, {species: "ash", stage})!);
    const told = rows.filter((row) => row.days !== undefined);
    const held = told.filter(({daysLow, daysHigh}) => daysLow! <= days[s]! && days[s]! <= daysHigh!).length;
    const bias = told.reduce((sum, row) => sum + Math.log(row.days! / days[s]!), 0) / told.length;
    return {stage, told: told.length, held, bias};
  });
  return {fits, byStage};
}

/** Mean logarithms of estimate ÷ truth within bounds, stage by stage. */
function expectNear(byStage: readonly {stage: string; bias: number}[], bounds: readonly number[]): void {
  for (const [s, {stage, bias}] of byStage.entries()) expect(Math.abs(bias), stage).toBeLessThan(bounds[s]!);
}

// 40 workshops of 24 lots of 12 squares each. Of 150 limits that each hold in 95 of 100, fewer than 90 % hold in one case of 200.
describe("dryingTimes: workshops of known truth", () => {
  test("the limits hold the truth in 95 of 100, and no stage is off by more than chance and a thirtieth", () => {
    const {byStage, fits} = tried(40, {});
    const all = (of: "told" | "held") => byStage.reduce((sum, row) => sum + row[of], 0);
    expect(all("told")).toBeGreaterThan(150);
    expect(all("held") / all("told")).toBeGreaterThan(0.9);
    // Standard errors of the mean logarithm of 40: 0.001, 0.005, 0.015, 0.04.
    expectNear(byStage, [0.01, 0.02, 0.05, 0.1]);
    // Ratio of winter to summer is 1: of 4 stages together wrong in 5 of 100.
    const wrong = fits.filter(({halfYears}) => halfYears.some(({isClear}) => isClear)).length;
    expect(wrong).toBeLessThanOrEqual(6);
    const offsets = fits.flatMap(({offsets: [one]}) => (one ? [one] : []));
    const held = offsets.filter(({offsetLow, offsetHigh}) => offsetLow <= 0 && 0 <= offsetHigh).length;
    expect(held).toBeGreaterThanOrEqual(34);
  }, 120_000);

  test("a meter that reads a point high is found, and moves no time constant", () => {
    const {byStage, fits} = tried(12, {meterOffPct: 1});
    expectNear(byStage.slice(0, 3), [0.01, 0.03, 0.08]);
    const mean = fits.reduce((sum, {offsets}) => sum + offsets[0]!.offsetPct, 0) / fits.length;
    expect(mean).toBeCloseTo(1, 1);
  }, 60_000);

  test("a hygrometer that is 2 % off, each time otherwise, moves them little", () => {
    const {byStage} = tried(12, {humidityOffPct: 2});
    const least = [0.02, 0.05, 0.12, 0.25];
    expectNear(byStage, least);
  }, 60_000);

  test("drying slower by two fifths in winter is told", () => {
    const {fits} = tried(10, {winterTimes: 1.4});
    const squares = fits.map(({halfYears}) => halfYears.find(({stage}) => stage === "square")!);
    for (const {isClear, ratio} of squares) {
      expect(isClear).toBe(true);
      expect(ratio).toBeGreaterThan(1.3);
      expect(ratio).toBeLessThan(1.5);
    }
    const rough = fits.flatMap(({halfYears}) => halfYears.filter(({stage}) => stage === "rough-round"));
    const held = rough.filter(({ratioLow, ratioHigh}) => ratioLow <= 1.4 && 1.4 <= ratioHigh).length;
    expect(held).toBeGreaterThanOrEqual(rough.length - 2);
  }, 60_000);
});

/**
 * A piece in a store that swings, E = A + B sin ωt, in closed form: what is left of its first gap, and the store's wave, weakened to 1/√(1 + (ωτ)²) and
 * late by atan(ωτ)/ω. Source: response of a first-order system to a sine, any textbook of control or vibration.
 */
function swinging(tau: number, {middle, swing}: {middle: number; swing: number}) {
  const omega = (2 * Math.PI) / 365.25;
  const wave = (day: number) => (swing / Math.hypot(1, omega * tau)) * Math.sin(omega * day - Math.atan(omega * tau));
  return (startPct: number, start: number, day: number) =>
    middle + wave(day) + (startPct - middle - wave(start)) * Math.exp((start - day) / tau);
}

test("dryingTimes finds the time constants of pieces that follow a swinging store in closed form", () => {
  const store = {middle: 9.5, swing: 1.5};
  const courses = truth.map((tau) => swinging(tau, store));
  const first = 18_262;
  const pieces: Piece[] = [];
  for (let lot = 0; lot < 12; lot++) {
    for (let k = 0; k < 3; k++) {
      let day = lot * 61;
      let moisture = 12 + (lot % 5) + k * 0.2;
      const intake = {moisturePct: moisture};
      const turned: number[] = [];
      const measurements: Measurement[] = [];
      courses.forEach((course, s) => {
        const dryG = [1500, 950, 500, 340][s]!;
        const from = day;
        const weigh = (pct: number, fresh: boolean, read: boolean) =>
          measurements.push({
            day: first + day,
            stage: stages[s]!,
            turned: fresh,
            massG: dryG * (1 + pct / 100),
            ...(read && {moisturePct: pct})
          });
        weigh(moisture, s > 0, s === 0);
        for (const wait of [25 + k, 45 + 3 * k]) {
          day = from + wait;
          weigh(course(moisture, from, day), false, false);
        }
        moisture = course(moisture, from, day);
        turned.push(first + day);
      });
      pieces.push(
        makePiece({square: `${lot}-${k}`, lot: `L${lot}`, boughtOn: first + lot * 61, turned, measurements, intake})
      );
    }
  }
  // A reading holds for its day: that of noon.
  const omega = (2 * Math.PI) / 365.25;
  const climate = Array.from({length: 1000}, (_, day) => ({
    date: dayText(first + day),
    temperatureC: 18,
    humidityPct: equilibriumHumidity({
      temperatureC: 18,
      moisturePct: store.middle + store.swing * Math.sin(omega * (day + 0.5))
    })
  }));
  const exact = {...settings, accuracy: {...accuracy, scaleG: 0.001, meterPct: 0.001}};
  const {times, offsets} = dryingTimes({settings: exact, asOf: first + 999, pieces}, climate, {halfYearOf});
  for (const [s, stage] of stages.entries()) {
    const row = dryingTimeOf(times, {species: "ash", stage})!;
    expect(row.days!, stage).toBeGreaterThan(truth[s]! * 0.99);
    expect(row.days!, stage).toBeLessThan(truth[s]! * 1.01);
  }
  expect(offsets[0]!.offsetPct).toBeCloseTo(0, 2);
});

describe("dryingTimes where the data cannot tell", () => {
  const {pieces, climate, asOf} = dryingWorkshop({seed: 1, lots: 3, perLot: 6});
  const why = (known: Piece[], air = climate) =>
    dryingTimes({settings: {...settings, accuracy}, asOf, pieces: known}, air, {halfYearOf}).times[0]!;

  test("three lots have no interval, and so no answer", () => {
    expect(why(pieces)).toEqual({
      species: "ash",
      stage: "square",
      entered: "all year",
      lots: 3,
      pieces: 18,
      why: "fewer than 4 lots"
    });
  });

  test("no air of the store, no second weighing", () => {
    expect(why(pieces, []).why).toBe("the store's air is not known: climate.csv has no readings");
    const once = pieces.map((piece) => ({...piece, measurements: piece.measurements.slice(0, 1)}));
    expect(why(once).why).toBe("no piece was weighed twice at the stage with its start known");
    expect(why([makePiece({boughtOn: 18_100})]).pieces).toBe(0);
  });

  test("no pieces, no rows", () => {
    const known = {settings, asOf, pieces: []};
    expect(dryingTimes(known, climate, {halfYearOf})).toEqual({times: [], halfYears: [], offsets: []});
  });
});

describe("daysUntilNear", () => {
  // By hand: e² ≈ 7.389 times near takes two time constants.
  test("by hand", () => {
    const time = {days: 30, daysLow: 20, daysHigh: 50};
    const answer = daysUntilNear(time, 2 * Math.E ** 2, 2)!;
    expect(answer).toEqual({
      days: expect.closeTo(60, 9),
      low: expect.closeTo(40, 9),
      high: expect.closeTo(100, 9)
    });
    expect(daysUntilNear(time, 1.9, 2)).toEqual({days: 0, low: 0, high: 0});
    expect(daysUntilNear({}, 1, 2)).toEqual({days: 0, low: 0, high: 0});
    expect(daysUntilNear({}, 3, 2)).toBeUndefined();
    expect(daysUntilNear({days: 30}, 4, 2)).toEqual({days: expect.closeTo(30 * Math.LN2, 9)});
  });

  test("refuses to be near by nothing", () => {
    expect(() => daysUntilNear({days: 30}, 3, 0)).toThrow(
      new RangeError("daysUntilNear: nearPct must be positive, got 0.")
    );
  });
});
