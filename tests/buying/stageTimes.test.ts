import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import type {Piece, Stay} from "../../lib/book/histories.ts";
import {Settings} from "../../lib/book/settings.ts";
import {halfYearDifference, halfYearOf, passTimes, stageHalfYears, stageTimes} from "../../lib/buying/stageTimes.ts";
import {clusterTable} from "../../lib/stats/clusterTable.ts";
import {randomStream} from "../../lib/stats/random.ts";

const settings = Settings.parse({stages: [{name: "square"}, {name: "round"}, {name: "finished"}]});
const asOf = dayNumber("2026-10-31");

/** A piece of a lot bought on a day that spent so many days at each stage; the last is where it is, unless it is finished. */
function piece(lot: string, bought: string, days: readonly number[], end?: "discarded"): Piece {
  let from = dayNumber(bought);
  const names = settings.stages.map(({name}) => name);
  const stays: Stay[] = days.map((n, i) => {
    const stay: Stay = {stage: names[i]!, from, to: from + n, left: "turned"};
    from += n;
    return stay;
  });
  const {fate, fateOn} = end
    ? {fate: end, fateOn: from}
    : days.length === 2
      ? {fate: "finished" as const, fateOn: from}
      : {fate: "in stock" as const, fateOn: undefined};
  if (end) stays[stays.length - 1]!.left = end;
  else stays.push({stage: names[days.length]!, from});
  return {
    lot,
    species: "ash",
    boughtOn: dayNumber(bought),
    stays,
    fate,
    ...(fateOn !== undefined && {fateOn}),
    ...(end && {defect: "knot"})
  } as Piece;
}

test("halfYearOf: winter from October to March, summer from April to September", () => {
  const days = ["2026-03-31", "2026-04-01", "2026-09-30", "2026-10-01", "2026-01-15"];
  expect(days.map((day) => halfYearOf(dayNumber(day)))).toEqual(["winter", "summer", "summer", "winter", "winter"]);
});

test("stageTimes: quartiles and counts by stage and by the half year in which the stage was entered", () => {
  const pieces = [
    piece("A", "2025-01-10", [80, 30]), // comes to round on 31 March, in winter
    piece("A", "2025-01-10", [90, 40]), // on 10 April, in summer
    piece("B", "2025-06-01", [60, 50]), // on 31 July
    piece("B", "2025-06-01", [70], "discarded"),
    piece("B", "2026-10-21", []) // still a square
  ];
  const rows = stageTimes({settings, asOf}, pieces);
  expect(rows.map(({stage, entered, lots, passed, inStage}) => [stage, entered, lots, passed, inStage])).toEqual([
    ["square", "all year", 2, 3, 1],
    ["square", "winter", 2, 2, 1],
    ["square", "summer", 1, 1, 0],
    ["round", "all year", 2, 3, 0],
    ["round", "winter", 1, 1, 0],
    ["round", "summer", 2, 2, 0]
  ]);
  // Passes after 60, 80 and 90 days; the discard at 70 and the piece ten days there take nothing from the shares of those that pass.
  // By hand: F = 1/4 at 60, S = 1/2 after 70, F = 1/2 at 80, 3/4 at 90.
  const all = rows[0]!;
  expect([all.quarterDays, all.medianDays, all.threeQuarterDays]).toEqual([60, 80, 90]);
  expect(all.meanDays).toBeCloseTo((60 + 80 + 90) / 3, 12);
  expect(rows[5]).toMatchObject({quarterDays: 40, medianDays: 40, threeQuarterDays: 50, meanDays: 45});
  expect(all.medianLow).toBeUndefined(); // two lots tell no interval
});

test("stageTimes: a stage passed over tells no time; nothing passed, no days", () => {
  const rows = stageTimes({settings, asOf}, [piece("A", "2025-01-10", [80, 0]), piece("A", "2025-01-10", [80, 30])]);
  expect(rows[3]).toMatchObject({stage: "round", passed: 1, medianDays: 30});
  expect(stageTimes({settings, asOf}, [piece("A", "2026-10-01", [])])[0]).toEqual({
    stage: "square",
    entered: "all year",
    lots: 1,
    passed: 0,
    inStage: 1
  });
});

test("passTimes: days from purchase to each turning, and the share that gets so far", () => {
  const pieces = [
    piece("A", "2025-01-10", [80, 30]),
    piece("A", "2025-01-10", [90, 40]),
    piece("A", "2025-01-10", [70], "discarded"),
    piece("A", "2025-01-10", [100, 10], "discarded")
  ];
  const [round, finished] = passTimes({settings, asOf}, pieces);
  expect([round!.stage, finished!.stage]).toEqual(["round", "finished"]);
  expect(round!.reachFraction).toBeCloseTo(3 / 4, 12);
  expect(finished!.reachFraction).toBeCloseTo(2 / 4, 12);
  expect([0.25, 0.5, 1].map(round!.times.quantile)).toEqual([80, 90, 100]);
  expect([0.5, 1].map(finished!.times.quantile)).toEqual([110, 130]);
});

test("stageHalfYears tells twenty days more in winter; in simulated books its intervals hold the truth", () => {
  const random = randomStream(4);
  const book = (more: number) =>
    Array.from({length: 40}, (_, lot) => {
      const isWinter = lot % 2 === 0;
      const own = Math.round(10 * random());
      return Array.from({length: 8}, () =>
        piece(`L${lot}`, isWinter ? "2024-01-05" : "2024-06-05", [
          60 + own + Math.round(10 * random()) + (isWinter ? more : 0),
          20
        ])
      );
    }).flat();
  const runs = Array.from({length: 200}, () => stageHalfYears({settings, asOf}, book(20))[0]!);
  const [first] = runs;
  expect(first).toMatchObject({stage: "square", isClear: true});
  expect(first!.moreDays).toBeCloseTo(first!.winterDays - first!.summerDays, 10);
  // Two stages, so each interval is made to hold in 97.5 of 100 cases: less four standard errors of 200 runs, 0.011 each, 0.93.
  const held = runs.filter(({moreLow, moreHigh}) => moreLow <= 20 && 20 <= moreHigh).length;
  expect(held / runs.length).toBeGreaterThan(0.93);
  expect(runs.filter(({isClear}) => isClear)).toHaveLength(runs.length);
});

test("halfYearDifference: fewer than four lots in a half, no answer; four and four as Welch's test has it, near enough", () => {
  const one = (exit: number) => [{exit, cause: "passed"}];
  const none: never[] = [];
  const winter = [10, 20, 30, 40].map(one);
  const summer = [5, 10, 15, 20].map(one);
  const split = halfYearDifference(
    clusterTable([...winter, none, none, none, none]),
    clusterTable([none, none, none, none, ...summer]),
    "passed"
  )!;
  expect(split.moreDays).toBeCloseTo(12.5, 12);
  // Jackknife over all eight lots: v = 7/8 Σ (θ₍ᵢ₎ − θ)², θ₍ᵢ₎ − θ = (x̄ − xᵢ)/3: Σ = (500 + 125)/9. Student with 3 degrees of freedom.
  const half = 3.182446 * Math.sqrt(((7 / 8) * 625) / 9);
  expect(split.moreLow).toBeCloseTo(12.5 - half, 4);
  expect(split.moreHigh).toBeCloseTo(12.5 + half, 4);
  expect(halfYearDifference(clusterTable(winter.slice(1)), clusterTable(summer.slice(1)), "passed")).toBeUndefined();
});
