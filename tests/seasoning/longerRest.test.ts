import {expect, test} from "vitest";
import {compareRests} from "../../lib/seasoning/compareRests.ts";
import {longerRest} from "../../lib/seasoning/longerRest.ts";
import {restSteps} from "../../lib/seasoning/restSteps.ts";
import {settings} from "../pieces.ts";
import {restLot} from "./restLots.ts";

const money = {pieceCost: (stage: string) => (stage === "square" ? 20 : 30), interestPct: 6, storageCostPerMonth: 0.5};
const lots = (n: number) =>
  Array.from({length: n}, (_, i) =>
    restLot(`L${i}`, {hurried: 4, served: 10, hurriedWarped: 1, servedWarped: 1})
  ).flat();
const asked = (n: number, asOf = 390) => longerRest({settings, asOf, pieces: lots(n)}, money);

// By hand. Hurried ones rested 40 of 60 days: 20 more. 25 of 100 warped against 10: 15 saved at 30 each, 450. A day costs 20·6/36500 + 0.5/30.44. All were
// turned on day 40, 350 days before day 390: within a year.
test("longerRest: to serve the least rest always, by hand", () => {
  const {stages, years} = asked(4);
  const row = stages.find(({question}) => question === "serve")!;
  const cost = 100 * 20 * ((20 * 6) / 36500 + 0.5 / 30.44);
  expect(row).toMatchObject({stage: "square", pieces: 16, perYear: 16, days: 20, pieceCost: 30});
  expect(row.savedPer100).toBeCloseTo(15, 10);
  expect(row.savedMoney).toBeCloseTo(450, 8);
  expect(row.costMoney).toBeCloseTo(cost, 10);
  expect(row.net).toBeCloseTo(450 - cost, 8);
  expect(row.netPerYear).toBeCloseTo((450 - cost) * 0.16, 8);
  // The limits of what is saved are those of the difference of the rates, asked of `compareRests` itself.
  const pieces = lots(4);
  const rests = {one: ["hurried"], other: ["shorter half", "longer half"]} as const;
  const steps = restSteps({settings, pieces}).filter(({stage}) => stage === "square");
  const limits = compareRests({asOf: 390, pieces}, {...rests, steps, counts: (defect) => defect === "warp"});
  const [low, high] = [30 * limits.differenceLow! - cost, 30 * limits.differenceHigh! - cost];
  expect([row.netLow, row.netHigh]).toEqual([expect.closeTo(low, 8), expect.closeTo(high, 8)]);
  expect(low).toBeLessThan(450 - cost);
  expect(years.find(({question}) => question === "serve")).toEqual({
    question: "serve",
    pieces: 16,
    net: expect.closeTo((450 - cost) * 0.16, 8),
    netLow: expect.closeTo(low * 0.16, 8),
    netHigh: expect.closeTo(high * 0.16, 8)
  });
});

// Served rests are 70, 80, 90, 100, 110 days, two of each in a lot: those up to the middle, 90, have mean 80, the others 105: 25 days more. Of the shorter ones
// 1 of 6 warped, of the longer none; rests that ended before the last year count for none of it.
test("longerRest: to rest as long as the longer half, by hand; what ended over a year ago is not of this year", () => {
  const row = asked(1, 430).stages.find(({question}) => question === "longer")!;
  expect(row).toMatchObject({stage: "square", pieces: 6, days: 25, perYear: 6});
  expect(row.savedPer100).toBeCloseTo(100 / 6, 10);
  expect(row).not.toHaveProperty("netLow");
  const later = asked(4, 480);
  expect(later.stages.map(({question, perYear}) => [question, perYear])).toEqual([
    ["serve", 0],
    ["longer", 0]
  ]);
});

test("longerRest: without interest and room it costs nothing, and of an empty book there is nothing to say", () => {
  const free = longerRest({settings, asOf: 390, pieces: lots(4)}, {...money, interestPct: 0, storageCostPerMonth: 0});
  expect(free.stages.every(({costMoney, net, savedMoney}) => costMoney === 0 && net === savedMoney)).toBe(true);
  expect(longerRest({settings, asOf: 390, pieces: []}, money)).toEqual({stages: [], years: []});
});
