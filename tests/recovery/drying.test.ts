import {describe, expect, test} from "vitest";
import {halfYearOf} from "../../lib/buying/stageTimes.ts";
import {dryingTimes} from "../../lib/seasoning/dryingTimes.ts";
import {moistureNow} from "../../lib/seasoning/moistureNow.ts";
import {latheSpread, oversizeCheck} from "../../lib/seasoning/oversizeCheck.ts";
import {readyToTurn} from "../../lib/seasoning/readyToTurn.ts";
import {storeMoisture} from "../../lib/seasoning/storeMoisture.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {moistureCourse} from "../../scripts/sample/moisture.ts";
import {simulate} from "../../scripts/sample/simulate.ts";
import {storeAir} from "../../scripts/sample/store.ts";
import {fewestCovering, now, truth, within} from "./sample.ts";

const {climate} = readBook("sample-data").book!;
const drying = dryingTimes(now, climate, {halfYearOf});
const moisture = moistureNow(now, climate, drying);
const store = storeMoisture(climate, now);

describe("dryingTimes(sample book)", () => {
  const {dryingTimeConstantDays: days} = truth;

  test("tells every stage of both species all year, and covers the time constants as chance allows", () => {
    const all = drying.times.filter(({entered}) => entered === "all year");
    expect(all).toHaveLength(8);
    const told = drying.times.filter((row) => row.days !== undefined);
    const covered = told.filter((row) => within(days[row.stage], row.daysLow, row.daysHigh));
    expect(covered.length).toBeGreaterThanOrEqual(fewestCovering(told.length));
    for (const row of all)
      expect(within(days[row.stage], row.daysLow! * 0.97, row.daysHigh! * 1.03), row.stage).toBe(true);
  });

  test("is close: squares to a fiftieth, rough rounds to a tenth, second rounds to a fifth, proud rounds to a factor of 1.7", () => {
    const near: Record<string, number> = {square: 1.02, "rough-round": 1.1, "second-round": 1.2, "proud-round": 1.7};
    for (const row of drying.times.filter(({entered}) => entered === "all year")) {
      const ratio = row.days! / days[row.stage];
      expect(Math.max(ratio, 1 / ratio), `${row.species} ${row.stage}`).toBeLessThan(near[row.stage]!);
    }
  });

  // The book was made with the same all the year round, and with a meter that is right on average.
  test("tells no difference of the halves that was not put in, and no offset of the meter", () => {
    for (const {stage, isClear} of drying.halfYears) expect(isClear, stage).toBe(false);
    expect(drying.offsets).toHaveLength(2);
    for (const {species, offsetPct} of drying.offsets) expect(Math.abs(offsetPct), species).toBeLessThan(0.15);
  });
});

describe("moistureNow(sample book)", () => {
  const course = new Map(simulate().pieces.map((piece) => [piece.square, moistureCourse(piece, storeAir())]));

  test("holds the true moisture of the pieces in stock, and knows it four times as well as the meter", () => {
    const all = now.pieces.flatMap(({square}) => {
      const guess = moisture.get(square);
      return guess ? [{...guess, truth: course.get(square)!(now.asOf)}] : [];
    });
    expect(all.length).toBeGreaterThan(350);
    const held = all.filter((one) => within(one.truth, one.low, one.high));
    // Pieces of a lot share its guess, so that they are not so many independent cases: nine of ten are asked.
    expect(held.length / all.length).toBeGreaterThan(0.9);
    const square = all.reduce((sum, one) => sum + (one.pct - one.truth) ** 2, 0) / all.length;
    expect(Math.sqrt(square)).toBeLessThan(truth.measuringSd.meterPct / 4);
  });
});

describe("readyToTurn(sample book)", () => {
  const rows = readyToTurn(now, {store, times: drying.times, moisture});

  test("has a row for every piece in stock, each with a verdict and a reason", () => {
    expect(rows).toHaveLength(now.pieces.filter(({fate}) => fate === "in stock").length);
    for (const {verdict, reason, until} of rows) {
      expect(reason.length).toBeGreaterThan(10);
      expect(until === undefined).toBe(verdict === "ready");
    }
    for (const verdict of ["ready", "not yet", "never weighed"])
      expect(rows.filter((row) => row.verdict === verdict).length, verdict).toBeGreaterThan(0);
  });

  test("calls no piece ready that is truly further above the store than is wanted", () => {
    const courses = new Map(simulate().pieces.map((piece) => [piece.square, moistureCourse(piece, storeAir())]));
    for (const {square} of rows.filter(({verdict}) => verdict === "ready"))
      expect(courses.get(square)!(now.asOf) - store!.equilibriumPct, square).toBeLessThan(now.settings.ready.nearPct);
  });
});

test("latheSpread(sample book) is what the lathe was made with", () => {
  for (const {stage, measured, overMm, sdMm} of latheSpread(now)) {
    const {mean, sd} = truth.lathe[stage];
    expect(measured).toBeGreaterThan(1000);
    // 1000 diameters know the mean to 0.007 and, the calliper's 0.1 and rounding off, the deviation to 0.01.
    expect(Math.abs(overMm - mean), stage).toBeLessThan(0.025);
    expect(Math.abs(sdMm - sd), stage).toBeLessThan(0.02);
  }
});

test("oversizeCheck(sample book) has a row for every piece in stock, and sound ones clear", () => {
  const rows = oversizeCheck(now, {store, moisture});
  expect(rows.length).toBe(now.pieces.filter(({fate}) => fate === "in stock").length);
  expect(rows.filter(({verdict}) => verdict === "clears").length).toBeGreaterThan(0.95 * rows.length);
});
