import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {dayNumber, dayText} from "../../lib/book/day.ts";
import {leadTimes} from "../../lib/buying/leadTime.ts";
import {passTimes} from "../../lib/buying/stageTimes.ts";
import {seasonCalendar} from "../../lib/figures/seasonCalendar.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

const pieces = now.pieces.filter(({species}) => species === "ash");
const passes = passTimes(now, pieces);
const today = dayText(now.asOf);
const of = (startsOn: string, boughtOn = today) =>
  seasonCalendar({
    species: "ash",
    today,
    boughtOn,
    leads: leadTimes(now, pieces, startsOn, {shares: [0.5, 0.75, 0.9, 0.95]}),
    passes,
    season: {startsOn, endsOn: dayText(dayNumber(startsOn) + 364)}
  });

test("seasonCalendar is sound; its lines are buy, a turning a stage, finish and sell, each from first to last", () => {
  const figure = of("2027-06-01");
  expectSound(figure);
  const {rows} = figure.table;
  expect(rows.map(({what}) => what)).toEqual([
    "buy",
    "turn to rough-round",
    "turn to second-round",
    "turn to proud-round",
    "finish",
    "sell"
  ]);
  for (const {from, middle, to} of rows) expect([from, middle ?? from, to]).toEqual([from, middle ?? from, to].sort());
  // The stages follow each other.
  const middles = rows.flatMap(({middle}) => middle ?? []);
  expect(middles).toEqual(middles.toSorted());
  expect(middles[3]).toBe(dayText(now.asOf + Math.ceil(passes[3]!.times.quantile(0.5))));
});

test("seasonCalendar tells past days as past, and what today's purchase still gives", () => {
  const late = of("2027-06-01");
  expect(late.title).toMatch(/^Bought on 2026-10-31, half the ash is finished by 2027-\d\d-\d\d$/);
  expect(late.note).toContain("all of these are past");
  const early = of("2027-12-01");
  expect(early.title).toMatch(/^Buy ash by 2027-\d\d-\d\d for the season's start$/);
  expect(early.note).not.toContain("past");
});

test("seasonCalendar tells each day to buy by at a mark of its own, and draws today", () => {
  const {document} = new JSDOM(expectSound(of("2027-12-01")).wide).window;
  const told = [...document.querySelectorAll("title")].map(({textContent}) => textContent!);
  expect(told.filter((text) => text.includes("buy by"))).toHaveLength(4);
  expect([...document.querySelectorAll("text")].map(({textContent}) => textContent)).toContain("today");
});

test("seasonCalendar before any shaft was finished has the season alone", () => {
  const figure = seasonCalendar({
    species: "ash",
    today,
    boughtOn: today,
    leads: [],
    passes: [],
    season: {startsOn: "2027-06-01", endsOn: "2028-05-31"}
  });
  expectSound(figure);
  expect(figure.title).toBe("No ash has been finished yet");
  expect(figure.table.rows).toHaveLength(1);
});
