import fc from "fast-check";
import {expect, test} from "vitest";
import {type DiscardRate, discardRates} from "../../lib/defects/discardRates.ts";
import {anyPieces, frozen, lastMadeDay, makePiece, settings} from "../pieces.ts";

const at = (asOf: number) => ({settings, asOf});

// By hand: five squares on day 100. Out at 10 for a knot, 1 of 5: 20 of 100. One rests since day 80 (censored at 20), so all of the other
// 80 pass at 30. At the next stage one of three is out for warp: 80/3 of 100. Two finish at 90.
const five = [
  makePiece({discarded: 10}),
  makePiece({boughtOn: 80}),
  makePiece({turned: [30], discarded: 50, defect: "warp"}),
  makePiece({turned: [30, 50, 70, 90]}),
  makePiece({turned: [30, 50, 70, 90]})
];

test("discardRates(book, five squares): all first, then the worst defect, worked by hand", () => {
  const rows = discardRates(at(100), five);
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
  const rows = discardRates(at(100), five, {stage: "rough-round"});
  expect(rows.map(({defect, squares, discarded}) => [defect, squares, discarded])).toEqual([
    ["all", 3, 1],
    ["warp", 3, 1]
  ]);
  expect(rows[1]!.per100).toBeCloseTo(100 / 3, 10);
});

// Since day 40 nothing is decided at the first stage, where one piece rests: what becomes of squares is not known, all of it is undecided.
// At the next stage one of three goes out.
test("discardRates(book, five squares, {since: 40}) leaves out what had happened by then, and says what is not known", () => {
  const rows = discardRates(at(100), five, {since: 40});
  expect(rows.map(({defect, squares, discarded}) => [defect, squares, discarded])).toEqual([
    ["all", 4, 1],
    ["warp", 4, 1]
  ]);
  expect(rows.map(({per100, undecidedPer100}) => [per100, undecidedPer100])).toEqual([
    [0, 100],
    [0, 100]
  ]);
  const [, warp] = discardRates(at(100), five, {since: 40, stage: "rough-round"});
  expect(warp!.per100).toBeCloseTo(100 / 3, 10);
});

// Of ten squares two go at the first stage, eight are finished and two of these are thrown out from the rack: 20 and 20 of 100.
test("discardRates counts shafts thrown out from the rack", () => {
  const shaft = makePiece({turned: [30, 50, 70, 90]});
  const stays = shaft.stays.map((stay, i) => (i === 4 ? {...stay, to: 95, left: "discarded" as const} : stay));
  const spoilt = {...shaft, stays, fate: "discarded" as const, fateOn: 95, defect: "off-weight"};
  const pieces = [...Array(2).fill(makePiece({discarded: 10})), ...Array(6).fill(shaft), spoilt, spoilt];
  const rows = discardRates(at(100), pieces);
  expect(rows.map(({defect, discarded}) => [defect, discarded])).toEqual([
    ["all", 4],
    ["knot", 2],
    ["off-weight", 2]
  ]);
  [40, 20, 20].forEach((want, i) => {
    expect(rows[i]!.per100).toBeCloseTo(want, 10);
  });
});

test("discardRates of no pieces has no rows; with nothing thrown out only the row of all, at 0", () => {
  expect(discardRates(at(100), [])).toEqual([]);
  expect(discardRates(at(100), [makePiece()])).toMatchObject([{defect: "all", discarded: 0, per100: 0}]);
});

test("discardRates counts only lots with pieces at the stage: six lots, two of them there, give no interval; six have one", () => {
  const pieces = Array.from({length: 6}, (_, i) =>
    makePiece(i < 2 ? {lot: `L${i}`, turned: [30], discarded: 50} : {lot: `L${i}`, discarded: 20})
  );
  const [rough] = discardRates(at(100), pieces, {stage: "rough-round"});
  expect(rough!.lots).toBe(2);
  expect(rough).not.toHaveProperty("per100Low");
  expect(discardRates(at(100), pieces)[0]).toMatchObject({lots: 6, per100High: 100});
  const [{per100Low: _, per100High: __, effective: ___, ...rate}] = discardRates(at(100), pieces) as [DiscardRate];
  expect(discardRates(at(100), pieces, {interval: false})[0]).toEqual(rate);
  // Wilson's of 6 of 6: n/(n + z²).
  expect(discardRates(at(100), pieces)[0]!.per100Low).toBeCloseTo(600 / (6 + 1.959964 ** 2), 3);
});

test("discardRates: defects add up to all, all lies in 0…100, order does not matter, nothing is changed", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const [all, ...defects] = discardRates(at(lastMadeDay), frozen(pieces));
      const twin = discardRates(at(lastMadeDay), pieces.toReversed());
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
      for (const {discarded, squares, per100} of discardRates(at(lastMadeDay), decided))
        expect(per100).toBeCloseTo((100 * discarded) / squares, 9);
    }),
    {numRuns: 50}
  );
});
