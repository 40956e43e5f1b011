import fc from "fast-check";
import {expect, test} from "vitest";
import {discardRates} from "../../lib/defects/discardRates.ts";
import {restLosses} from "../../lib/seasoning/restLosses.ts";
import {anyPieces, frozen, lastMadeDay, makePiece, settings} from "../pieces.ts";

// By hand, squares with a least rest of 60 days, on day 200. Of five: a knot on day 10 (1 of 5), warp on day 59 (1 of 4 left), a knot on day 60, the first that is
// not while resting (1 of the 3 left), two turned on day 80.
const five = [
  makePiece({discarded: 10, defect: "knot"}),
  makePiece({discarded: 59, defect: "warp"}),
  makePiece({discarded: 60, defect: "knot"}),
  makePiece({turned: [80]}),
  makePiece({turned: [80], discarded: 90, defect: "warp"})
];

test("restLosses: what is thrown out before the least rest is over is apart from what is thrown out after, by hand", () => {
  const rows = restLosses({settings, asOf: 200}, frozen(five));
  const square = rows.filter(({stage}) => stage === "square");
  expect(square.map(({defect, group, resting, takenUp}) => [defect, group, resting, takenUp])).toEqual([
    ["all", "all", 2, 1],
    ["all", "growth", 1, 1],
    ["knot", "growth", 1, 1],
    ["all", "drying", 1, 0],
    ["warp", "drying", 1, 0],
    ["all", "machining", 0, 0],
    ["all", "fit", 0, 0]
  ]);
  expect(square[0]).toMatchObject({pieces: 5, lots: 1, restingPer100: expect.closeTo(40, 10)});
  expect(square[2]!.restingPer100).toBeCloseTo(20, 10);
  expect(square[2]!.takenUpPer100).toBeCloseTo(20, 10);
  expect(square[0]).not.toHaveProperty("restingLow");
  expect(rows.find(({stage, defect}) => stage === "rough-round" && defect === "warp")).toMatchObject({
    pieces: 2,
    resting: 1,
    restingPer100: 50
  });
  expect(rows.some(({stage}) => stage === "second-round")).toBe(false);
});

test("restLosses: a piece still resting counts for as long as it was seen", () => {
  // Bought on day 180 and seen for 20 days: on day 10 one of three is out, on day 59 it is not there to be seen and 1 of 1 is out: 100/3 and 200/3.
  const pieces = [makePiece({discarded: 10}), makePiece({boughtOn: 180}), makePiece({discarded: 59, defect: "warp"})];
  const [all, , knot] = restLosses({settings, asOf: 200}, pieces);
  expect(knot!.restingPer100).toBeCloseTo(100 / 3, 10);
  expect(all!.restingPer100).toBeCloseTo(100, 10);
});

test("restLosses: resting and taken up are together the discards of the stage, groups are the sum of their defects, in any order of the pieces", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const now = {settings, asOf: lastMadeDay};
      const rows = restLosses(now, pieces);
      for (const {name: stage} of settings.stages.slice(0, -1)) {
        const own = rows.filter((row) => row.stage === stage);
        const per100 = (row: (typeof rows)[number]) => row.restingPer100 + row.takenUpPer100;
        for (const rate of discardRates(now, pieces, {stage})) {
          const row = own.find(
            ({defect, group}) => defect === rate.defect && (rate.defect !== "all" || group === "all")
          )!;
          expect(per100(row)).toBeCloseTo(rate.per100, 8);
        }
        for (const group of ["growth", "drying"]) {
          const of = own.filter((row) => row.group === group);
          const total = of.find(({defect}) => defect === "all");
          const parts = of.filter(({defect}) => defect !== "all").reduce((sum, row) => sum + per100(row), 0);
          if (total) expect(per100(total)).toBeCloseTo(parts, 8);
        }
      }
      const back = restLosses(now, pieces.toReversed());
      rows.forEach((row, i) => {
        expect(back[i]!.restingPer100).toBeCloseTo(row.restingPer100, 8);
        expect(back[i]!.restingHigh ?? 0).toBeCloseTo(row.restingHigh ?? 0, 6);
      });
    }),
    {numRuns: 50}
  );
});
