import fc from "fast-check";
import {expect, test} from "vitest";
import type {Piece} from "../../lib/book/histories.ts";
import {compareRests, restComparisons} from "../../lib/seasoning/compareRests.ts";
import {type RestKind, restSteps} from "../../lib/seasoning/restSteps.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {settings} from "../pieces.ts";
import {type RestLot, restLot} from "./restLots.ts";

const served: readonly RestKind[] = ["shorter half", "longer half"];
const compared = (pieces: readonly Piece[], counts: (defect: string) => boolean = (defect) => defect === "warp") =>
  compareRests(
    {asOf: 500, pieces: [...pieces]},
    {one: ["hurried"], other: served, counts, steps: restSteps({settings, pieces: [...pieces]}).slice(0, 1)}
  );

// By hand: lots of 4 hurried with 1 warped and 10 served with 1 warped: 25 and 10 of 100; inside (1·10/14)/(1·4/14) = 2.5 times, 0.15 more.
const alike: RestLot = {hurried: 4, served: 10, hurriedWarped: 1, servedWarped: 1};

test("compareRests of lots that are all alike: over all lots and inside lots say the same, by hand", () => {
  const got = compared([0, 1, 2, 3].flatMap((i) => restLot(`L${i}`, alike)));
  expect(got.one).toMatchObject({pieces: 16, discarded: 4});
  expect(got.other).toMatchObject({pieces: 40, discarded: 4});
  expect(got.difference).toBeCloseTo(15, 10);
  expect([got.insideLots, got.insideOne, got.insideOther]).toEqual([4, 16, 40]);
  expect(got.inside).toBeCloseTo(15, 10);
  expect(got.insideRatio).toBeCloseTo(2.5, 10);
  expect(got.insideRatioLow).toBeCloseTo(2.5, 10);
  expect(got.differenceLow).toBeLessThan(15);
});

test("compareRests: what is common to a lot falls out inside lots, and not over all lots", () => {
  // A bad lot of which most were hurried, a good one of which few were; in each the hurried warped as often as the served.
  const lots = [0, 1, 2, 3].flatMap((i) => [
    ...restLot(`bad${i}`, {hurried: 10, served: 5, hurriedWarped: 4, servedWarped: 2}),
    ...restLot(`good${i}`, {hurried: 2, served: 20})
  ]);
  const got = compared(lots);
  expect(got.difference).toBeGreaterThan(20);
  expect(got.inside).toBeCloseTo(0, 10);
  expect(got.insideRatio).toBeCloseTo(1, 10);
});

test("compareRests leaves out a lot inside which a piece still rests at the next stage; one lot alone gives no interval", () => {
  const lots = [0, 1, 2, 3].flatMap((i) => restLot(`L${i}`, alike));
  const open = restLot("open", {...alike, open: 1});
  const got = compared([...lots, ...open]);
  expect([got.insideLots, got.insideRatio]).toEqual([4, expect.closeTo(2.5, 10)]);
  expect(got.one.pieces).toBe(20);
  const one = compared(restLot("A", alike));
  expect(one.insideRatio).toBeCloseTo(2.5, 10);
  for (const key of ["differenceLow", "insideLow", "insideRatioLow"]) expect(one).not.toHaveProperty(key);
  expect(compared([])).toEqual({
    one: {pieces: 0, discarded: 0},
    other: {pieces: 0, discarded: 0},
    insideLots: 0,
    insideOne: 0,
    insideOther: 0
  });
});

test("compareRests: the order of the lots changes nothing", () => {
  const lot = fc.record({
    hurried: fc.integer({min: 0, max: 4}),
    served: fc.integer({min: 1, max: 6}),
    servedWarped: fc.nat(1)
  });
  fc.assert(
    fc.property(fc.array(lot, {minLength: 1, maxLength: 7}), (made) => {
      const lots = made.map((one, i) => restLot(`L${i}`, {...one, hurriedWarped: Math.min(1, one.hurried)}));
      const [there, back] = [compared(lots.flat()), compared(lots.toReversed().flat())];
      for (const key of [
        "difference",
        "differenceLow",
        "inside",
        "insideHigh",
        "insideRatio",
        "insideRatioLow"
      ] as const)
        expect(back[key] ?? 0).toBeCloseTo(there[key] ?? 0, 8);
    }),
    {numRuns: 40}
  );
});

// 200 workshops of 40 lots that differ (log rate ± 0.4): 3 of 30 hurried, 4 of 100 warp, hurried ones 2.5 times as often. Of 200 limits that hold in 95 of
// 100, fewer than 181 hold in under 1 of 1000 cases.
test("compareRests: the limits of the ratio inside lots hold the truth of simulated workshops", () => {
  const random = randomStream(3);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const drawn = (n: number, p: number) => Array.from({length: n}, random).filter((u) => u < p).length;
  let [held, told] = [0, 0];
  for (let k = 0; k < 200; k++) {
    const lots = Array.from({length: 40}, (_, i) => {
      const rate = 0.04 * Math.exp(0.4 * normal());
      return restLot(`L${i}`, {
        hurried: 3,
        served: 27,
        hurriedWarped: drawn(3, 2.5 * rate),
        servedWarped: drawn(27, rate)
      });
    });
    const {insideRatioLow, insideRatioHigh} = compared(lots.flat());
    if (insideRatioLow === undefined || insideRatioHigh === undefined) continue;
    told++;
    if (insideRatioLow <= 2.5 && 2.5 <= insideRatioHigh) held++;
  }
  expect(told).toBeGreaterThan(195);
  expect(held).toBeGreaterThanOrEqual(told - 19);
});

test("restComparisons tells of some defects after others what compareRests tells of each", () => {
  const pieces = [0, 1, 2, 3].flatMap((i) => restLot(`L${i}`, alike));
  const rests = {
    one: ["hurried"] as const,
    other: served,
    steps: restSteps({settings, pieces: [...pieces]}).slice(0, 1)
  };
  const of = restComparisons({asOf: 500, pieces}, rests);
  const [warp, all, knots] = [(defect: string) => defect === "warp", () => true, (defect: string) => defect === "knot"];
  expect([warp, all, knots].map(of)).toEqual([warp, all, knots].map((counts) => compared(pieces, counts)));
  expect(of(knots).one.discarded).not.toBe(of(warp).one.discarded);
});
