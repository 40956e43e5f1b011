import {expect, test} from "vitest";
import {hurriedRests} from "../../lib/seasoning/hurriedRests.ts";
import {trialSize} from "../../lib/stats/trialSize.ts";
import {settings} from "../pieces.ts";
import {type RestLot, restLot} from "./restLots.ts";

const found = (lots: readonly RestLot[]) =>
  hurriedRests({settings, asOf: 500, pieces: lots.flatMap((lot, i) => restLot(`L${i}`, lot))});
/** Eight lots, every other one with one more warped piece, so that the limits have a width. */
const eight = (lot: RestLot, more: Partial<RestLot> = {}) =>
  Array.from({length: 8}, (_, i) => (i % 2 ? {...lot, ...more} : lot));

test("hurriedRests: three times as many warped, inside lots and over all: more; a row for each drying defect and the control", () => {
  const {rows, asked, finding, steps, why} = found(
    eight({hurried: 10, served: 30, hurriedWarped: 3, servedWarped: 3}, {servedWarped: 4})
  );
  expect([finding, why, asked.defects]).toEqual(["more", undefined, "warp"]);
  expect(asked.insideRatio).toBeGreaterThan(2);
  expect(rows.map(({defects}) => defects)).toEqual(["check", "split", "warp", "all drying", "all growth"]);
  expect(steps.map(({stage}) => stage)).toEqual(["square"]);
});

test("hurriedRests: a fifth as many: fewer; as many: it cannot be told, and how many hurried pieces it would take", () => {
  expect(found(eight({hurried: 20, served: 20, hurriedWarped: 1, servedWarped: 8}, {servedWarped: 9})).finding).toBe(
    "fewer"
  );
  const even = found(
    eight({hurried: 5, served: 20, hurriedWarped: 1, servedWarped: 4}, {servedWarped: 3, hurriedWarped: 0})
  );
  expect([even.finding, even.why]).toEqual(["unclear", "few"]);
  // By hand: of 8 · 20 served ones 4 · 4 + 4 · 3 warped, and there are four of them to each hurried one.
  expect(even.hurriedNeeded).toBe(trialSize((2 * 28) / 160, 28 / 160, {times: 4}));
});

test("hurriedRests believes neither where knots were more after hurry too, or where inside and over all lots point different ways", () => {
  const knots = found(
    eight(
      {hurried: 10, served: 30, hurriedWarped: 3, servedWarped: 3, hurriedKnots: 3, servedKnots: 3},
      {servedWarped: 4, servedKnots: 4}
    )
  );
  expect([knots.finding, knots.why]).toEqual(["unclear", "growth"]);
  // In each lot the hurried warped more; but most were hurried in good lots, and over all lots fewer of them warped.
  const mixed = found([
    ...eight({hurried: 40, served: 20, hurriedWarped: 4, servedWarped: 1}, {hurriedWarped: 5}),
    ...eight({hurried: 2, served: 40, hurriedWarped: 2, servedWarped: 20}, {servedWarped: 19})
  ]);
  expect([mixed.finding, mixed.why]).toEqual(["unclear", "disagree"]);
});

test("hurriedRests of a book without a hurried piece cannot tell, and names no number of pieces", () => {
  const got = found(eight({hurried: 0, served: 20, servedWarped: 2}));
  expect(got).toMatchObject({finding: "unclear", why: "few", steps: []});
  expect(got).not.toHaveProperty("hurriedNeeded");
});
