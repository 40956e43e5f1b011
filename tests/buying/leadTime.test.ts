import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import type {Piece} from "../../lib/book/histories.ts";
import {Settings} from "../../lib/book/settings.ts";
import {leadTimes, nextSeason} from "../../lib/buying/leadTime.ts";

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
