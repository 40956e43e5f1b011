import fc from "fast-check";
import {expect, test} from "vitest";
import {discardRates} from "../../lib/defects/discardRates.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {anyPieces, frozen, lastMadeDay, makePiece, settings} from "../pieces.ts";

const sampling = () => ({random: randomStream(1), resamples: 49});
const at = (asOf: number) => ({settings, asOf});

// By hand: five squares on day 100. Out at 10 for a knot, 1 of 5: 20 of 100. One rests since day 80 (censored at 20).
// Out at 50 for warp, 1 of the 3 left: 80/3 of 100. Two finish at 90.
const five = [
  makePiece({discarded: 10}),
  makePiece({boughtOn: 80}),
  makePiece({turned: [30], discarded: 50, defect: "warp"}),
  makePiece({turned: [30, 50, 70, 90]}),
  makePiece({turned: [30, 50, 70, 90]})
];

test("discardRates(book, five squares): all first, then the worst defect, worked by hand", () => {
  const rows = discardRates(at(100), five, sampling());
  expect(rows.map(({defect, group, discarded}) => [defect, group, discarded])).toEqual([
    ["all", undefined, 2],
    ["warp", "drying", 1],
    ["knot", "growth", 1]
  ]);
  [20 + 80 / 3, 80 / 3, 20].forEach((want, i) => {
    expect(rows[i]!.per100).toBeCloseTo(want, 10);
  });
  expect(rows.every(({squares, lots}) => squares === 5 && lots === 1)).toBe(true);
  expect(rows[0]).not.toHaveProperty("per100Low");
});

test('discardRates(book, five squares, {stage: "rough-round"}) takes the clock and the hundred of that stage', () => {
  const rows = discardRates(at(100), five, {...sampling(), stage: "rough-round"});
  expect(rows.map(({defect, squares, discarded}) => [defect, squares, discarded])).toEqual([
    ["all", 3, 1],
    ["warp", 3, 1]
  ]);
  expect(rows[1]!.per100).toBeCloseTo(100 / 3, 10);
});

test("discardRates(book, five squares, {since: 40}) leaves out what had happened by then", () => {
  const rows = discardRates(at(100), five, {...sampling(), since: 40});
  expect(rows.map(({defect, squares}) => [defect, squares])).toEqual([
    ["all", 4],
    ["warp", 4]
  ]);
  expect(rows[1]!.per100).toBeCloseTo(100 / 3, 10);
});

test("discardRates of no pieces has no rows; with nothing thrown out only the row of all, at 0", () => {
  expect(discardRates(at(100), [], sampling())).toEqual([]);
  expect(discardRates(at(100), [makePiece()], sampling())).toMatchObject([{defect: "all", discarded: 0, per100: 0}]);
});

test("discardRates counts only lots with pieces at the stage: six lots, two of them there, give no interval", () => {
  const pieces = Array.from({length: 6}, (_, i) =>
    makePiece(i < 2 ? {lot: `L${i}`, turned: [30], discarded: 50} : {lot: `L${i}`, discarded: 20})
  );
  const [rough] = discardRates(at(100), pieces, {...sampling(), stage: "rough-round"});
  expect(rough!.lots).toBe(2);
  expect(rough).not.toHaveProperty("per100Low");
  expect(discardRates(at(100), pieces, sampling())[0]).toMatchObject({lots: 6, per100Low: 100, per100High: 100});
});

test("discardRates: defects add up to all, all lies in 0…100, order does not matter, nothing is changed", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const [all, ...defects] = discardRates(at(lastMadeDay), frozen(pieces), sampling());
      const twin = discardRates(at(lastMadeDay), pieces.toReversed(), sampling());
      expect(defects.reduce((sum, {per100}) => sum + per100, 0)).toBeCloseTo(all!.per100, 9);
      expect(all!.per100).toBeLessThanOrEqual(100 + 1e-9);
      expect(all!.discarded).toBe(pieces.filter(({fate}) => fate === "discarded").length);
      for (const row of defects)
        expect(twin.find(({defect}) => defect === row.defect)!.per100).toBeCloseTo(row.per100, 9);
    }),
    {numRuns: 50}
  );
});

test("discardRates without pieces in stock is thrown out ÷ squares", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const decided = pieces.filter(({fate}) => fate !== "in stock");
      for (const {discarded, squares, per100} of discardRates(at(lastMadeDay), decided, sampling()))
        expect(per100).toBeCloseTo((100 * discarded) / squares, 9);
    }),
    {numRuns: 50}
  );
});
