import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import type {Piece} from "../../lib/book/histories.ts";
import {Settings} from "../../lib/book/settings.ts";
import {finishTimes, leadTimes, lotTiming, nextSeason} from "../../lib/buying/leadTime.ts";
import {randomStream} from "../../lib/stats/random.ts";

const bought = dayNumber("2025-01-01");
const asOf = dayNumber("2026-10-31");
const finishedAfter = (days: number) => ({boughtOn: bought, fate: "finished", fateOn: bought + days}) as Piece;

test("leadTimes(ten shafts after 100, 110, … 190 days): half within 140, nine tenths within 180", () => {
  const pieces = Array.from({length: 10}, (_, i) => finishedAfter(100 + 10 * i));
  const rows = leadTimes({asOf}, pieces, "2027-06-01");
  expect(rows.map(({days}) => days)).toEqual([140, 170, 180]);
  expect(rows[2]!.buyBy).toBe("2026-12-03"); // 180 days before 1 June 2027, counted on a calendar
  expect(rows[2]!.daysLeft).toBe(33);
});

test("leadTimes: a piece still resting does not shorten the time", () => {
  const resting = {boughtOn: asOf - 150, fate: "in stock"} as Piece;
  const pieces = [finishedAfter(100), finishedAfter(200), resting, resting];
  // Kaplan–Meier by hand: after 100 days 1 of 4 finished, then two leave the books at 150, the last finishes at 200: F = 1/4, then 1.
  expect(leadTimes({asOf}, pieces, "2027-06-01").map(({days}) => days)).toEqual([200, 200, 200]);
});

test("leadTimes(nothing finished) says nothing", () => {
  expect(leadTimes({asOf}, [{boughtOn: asOf - 10, fate: "in stock"} as Piece], "2027-06-01")).toEqual([]);
});

test("nextSeason: the first that begins after the day, and its last day", () => {
  const settings = Settings.parse({season: {startsOn: "06-01"}});
  expect(nextSeason({settings, asOf})).toEqual({startsOn: "2027-06-01", endsOn: "2028-05-31"});
  expect(nextSeason({settings, asOf: dayNumber("2026-05-31")})).toEqual({startsOn: "2026-06-01", endsOn: "2027-05-31"});
  expect(nextSeason({settings, asOf: dayNumber("2026-06-01")}).startsOn).toBe("2027-06-01");
});

/** Lots of eight shafts: those bought in summer take 200 days and up to 20 more, those bought in winter so many more. */
function yearRound(more: number): Piece[] {
  const random = randomStream(8);
  return Array.from({length: 24}, (_, k) => {
    const day = dayNumber(k % 2 === 0 ? "2024-01-10" : "2024-07-10") + k;
    const own = 10 * random();
    return Array.from({length: 8}, () => {
      const days = Math.round(200 + own + 10 * random() + (k % 2 === 0 ? more : 0));
      return {lot: `L${k}`, boughtOn: day, fate: "finished", fateOn: day + days} as Piece;
    });
  }).flat();
}

test("leadTimes takes the purchases of the half year in which to buy, where the halves differ", () => {
  const rows = leadTimes({asOf}, yearRound(60), "2027-06-01", {shares: [0.5, 0.95]});
  // 260 days and more before 1 June lie in September: summer, whose squares take 200 to 220. So October can do only with summer's days, and
  // the last day with summer's days is 30 September.
  expect(rows.map(({purchases, buyBy, lots, finished}) => [purchases, buyBy, lots, finished])).toEqual([
    ["summer", "2026-09-30", 12, 96],
    ["summer", "2026-09-30", 12, 96]
  ]);
  expect(leadTimes({asOf}, yearRound(60), "2027-12-01")[0]!.purchases).toBe("summer");
  const [half] = leadTimes({asOf}, yearRound(0), "2027-06-01");
  expect([half!.purchases, half!.lots, half!.finished]).toEqual(["all year", 24, 192]);
  expect(half!.daysLow!).toBeLessThanOrEqual(half!.days);
  expect(half!.daysHigh!).toBeGreaterThanOrEqual(half!.days);
});

test("finishTimes: the difference of the halves is told with its interval, and both are there", () => {
  const times = finishTimes({asOf}, yearRound(60));
  expect(times.difference!.isClear).toBe(true);
  expect(times.difference!.moreLow).toBeLessThan(60);
  expect(times.difference!.moreHigh).toBeGreaterThan(60);
  expect(times.boughtOn(dayNumber("2027-01-01"))!.times).toBe(times.winter);
  expect(finishTimes({asOf}, yearRound(0)).boughtOn(asOf)!.purchases).toBe("all year");
  expect(finishTimes({asOf}, []).boughtOn(asOf)).toBeUndefined();
});

test("lotTiming: 1 where each lot comes in one go, 0 where lots are alike", () => {
  const shaft = (lot: string, days: number) =>
    ({lot, boughtOn: bought, fate: "finished", fateOn: bought + days}) as Piece;
  const lots = ["A", "B", "C", "D"];
  const atOnce = lots.flatMap((lot, i) => Array.from({length: 5}, () => shaft(lot, i < 2 ? 100 : 200)));
  const mixed = lots.flatMap((lot) => [100, 100, 200, 200].map((days) => shaft(lot, days)));
  expect(lotTiming(atOnce, 150)).toBe(1);
  expect(lotTiming(mixed, 150)).toBe(0);
  expect(lotTiming([], 150)).toBe(0);
});
