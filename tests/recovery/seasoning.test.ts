import {expect, test} from "vitest";
import {hurriedRests} from "../../lib/seasoning/hurriedRests.ts";
import {longerRest} from "../../lib/seasoning/longerRest.ts";
import {restMoisture} from "../../lib/seasoning/restMoisture.ts";
import {hurry} from "../../scripts/sample/truthStages.ts";
import {climate, now, truth, within} from "./sample.ts";

const {rows, asked, finding} = hurriedRests(now);

// The sample makes hurried pieces warp 2.5 times as often at the next stage, and nothing else differ.
test("hurriedRests(sample book) finds that hurried pieces warp more, the factor within the limits, and no other fault more", () => {
  expect([asked.defects, finding]).toEqual(["warp", "more"]);
  expect(within(hurry.warpFactor, asked.insideRatioLow, asked.insideRatioHigh)).toBe(true);
  const growth = rows.find(({defects}) => defects === "all growth")!;
  expect(within(1, growth.insideRatioLow, growth.insideRatioHigh)).toBe(true);
  expect(within(0, growth.differenceLow, growth.differenceHigh)).toBe(true);
});

// A gap to the store goes by e^(−t/τ): from that at purchase, over the mean days at each stage with the time constants that the sample was made with. Days
// and gaps differ from piece to piece, and the store from week to week: a fifth of a point.
test("restMoisture(sample book): pieces end each rest as near the store's moisture as the sample's wood does", () => {
  const rows = restMoisture(now, climate, {offsets: []});
  for (const species of ["ash", "maple"]) {
    const own = rows.filter((row) => row.species === species);
    let gap = own[0]!.startGapPct!;
    for (const {stage, endGapPct} of own) {
      gap *= Math.exp(-truth.dwell.realisedMeanDaysOfPasses[stage] / truth.dryingTimeConstantDays[stage]);
      expect(Math.abs(endGapPct! - gap), `${species} ${stage}`).toBeLessThan(0.2);
    }
  }
});

// The sample's rest makes no difference beyond the least: the year's saving of a longer rest is its cost alone, a loss.
test("longerRest(sample book): serving the least rest pays, and the limits of a longer rest hold its true loss", () => {
  const {years, stages} = longerRest(now, {pieceCost: () => 30, interestPct: 6, storageCostPerMonth: 0.2});
  const [serve, longer] = years;
  expect(serve!.netLow).toBeGreaterThan(0);
  const loss = stages.filter(({question}) => question === "longer").map((row) => (-row.costMoney * row.perYear) / 100);
  expect(
    within(
      loss.reduce((a, b) => a + b),
      longer!.netLow,
      longer!.netHigh
    )
  ).toBe(true);
});
