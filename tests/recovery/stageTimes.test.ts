import {expect, test} from "vitest";
import {finishTimes} from "../../lib/buying/leadTime.ts";
import {stageHalfYears, stageTimes} from "../../lib/buying/stageTimes.ts";
import {now, truth, within} from "./sample.ts";

const {dwell} = truth;
const rows = stageTimes(now, now.pieces).filter(({entered}) => entered === "all year");

test.each(rows)("stageTimes(sample book): mean days at $stage are those the book was made with", (row) => {
  expect(within(dwell.realisedMeanDaysOfPasses[row.stage], row.meanLow, row.meanHigh), row.stage).toBe(true);
  // Of squares followed to the end; those still resting are the slower ones, so a day or so may be missing.
  expect(Math.abs(row.meanDays! - dwell.realisedMeanDaysOfPasses[row.stage])).toBeLessThan(1.5);
});

test("finishTimes(sample book): tenth, median, ninetieth and mean of the days from purchase to shaft", () => {
  const {all} = finishTimes(now, now.pieces);
  const {mean, tenth, median, ninetieth} = dwell.realisedDaysFromPurchaseToShaft;
  const held = [
    [0.1, tenth],
    [0.5, median],
    [0.9, ninetieth]
  ].filter(([p, days]) => {
    const {low, high} = all!.quantileInterval(p)!;
    return within(days, low, high);
  });
  expect(held).toHaveLength(3);
  const {low, high} = all!.meanInterval()!;
  expect(within(mean, low, high)).toBe(true);
  expect(Math.abs(all!.mean - mean)).toBeLessThan(3);
});

// The book was made with the same days all the year round.
test.each(["ash", "maple"])("stageHalfYears(sample book, %s) tells no difference that was not put in", (species) => {
  const told = stageHalfYears(
    now,
    now.pieces.filter((piece) => piece.species === species)
  );
  expect(told).toHaveLength(4);
  // Together wrong in 5 of 100 books; the truth is 0 at each stage.
  for (const {stage, moreLow, moreHigh} of told) expect(within(0, moreLow, moreHigh), stage).toBe(true);
});

test.each(["ash", "maple"])("finishTimes(sample book, %s) takes all purchases together", (species) => {
  const times = finishTimes(
    now,
    now.pieces.filter((piece) => piece.species === species)
  );
  expect([times.boughtOn(now.asOf)!.purchases, times.boughtOn(now.asOf - 182)!.purchases]).toEqual([
    "all year",
    "all year"
  ]);
});
