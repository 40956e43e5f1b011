import fc from "fast-check";
import {expect, test} from "vitest";
import {whereSquaresGo} from "../../lib/yield/whereSquaresGo.ts";
import {anyPieces, frozen, lastMadeDay, makePiece, settings} from "../pieces.ts";

const at = (asOf: number) => ({settings, asOf});

// By hand: four squares on day 28; one out on day 7, one turned on day 14, two rest.
test("whereSquaresGo(book, four squares) counts them out week by week", () => {
  const pieces = [makePiece({discarded: 7, defect: "split"}), makePiece({turned: [14]}), makePiece(), makePiece()];
  const rows = whereSquaresGo(at(28), pieces);
  const share = (weeks: number, state: string) =>
    rows.find((row) => row.weeks === weeks && row.state === state)?.per100;
  expect([0, 1, 2].map((week) => share(week, "square"))).toEqual([100, 75, 50]);
  expect([0, 1, 2].map((week) => share(week, "discarded: split"))).toEqual([0, 25, 25]);
  expect([0, 1, 2].map((week) => share(week, "rough-round"))).toEqual([0, 0, 25]);
  expect(share(1, "finished")).toBeUndefined();
  expect(rows.every(({followed}) => followed === 4)).toBe(true);
});

// Two squares, one followed 7 days only (censored in its rest), one turned on day 14: after it all that is known passes on.
test("whereSquaresGo does not count a resting square as lost", () => {
  const rows = whereSquaresGo(at(28), [makePiece({turned: [14]}), makePiece({boughtOn: 21})]);
  const week2 = rows.filter(({weeks}) => weeks === 2);
  expect(week2.find(({state}) => state === "rough-round")!.per100).toBeCloseTo(100, 12);
  expect(week2[0]!.followed).toBe(1);
});

test("whereSquaresGo(book, []) has no rows; on the day of purchase all are squares", () => {
  expect(whereSquaresGo(at(28), [])).toEqual([]);
  expect(whereSquaresGo(at(0), [makePiece()])).toEqual([{weeks: 0, state: "square", per100: 100, followed: 1}]);
});

test("whereSquaresGo: the shares of one week add up to 100, in any order of pieces, and nothing is changed", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const rows = whereSquaresGo(at(lastMadeDay), frozen(pieces));
      const sums = new Map<number, number>();
      for (const {weeks, per100} of rows) sums.set(weeks, (sums.get(weeks) ?? 0) + per100);
      expect(sums.size).toBeGreaterThan(0);
      for (const sum of sums.values()) expect(sum).toBeCloseTo(100, 9);
      const reversed = whereSquaresGo(at(lastMadeDay), pieces.toReversed());
      rows.forEach((row, i) => {
        expect(reversed[i]!.state).toBe(row.state);
        expect(reversed[i]!.per100).toBeCloseTo(row.per100, 9);
      });
    }),
    {numRuns: 60}
  );
});

test("whereSquaresGo when all is decided ends with the counts themselves", () => {
  const pieces = [
    makePiece({turned: [10, 20, 30, 40]}),
    makePiece({turned: [10, 20], discarded: 25, defect: "warp"}),
    makePiece({diverted: 12}),
    makePiece({turned: [10, 20, 30, 45]})
  ];
  const last = whereSquaresGo(at(100), pieces).filter(({weeks}) => weeks === 7);
  const shares = Object.fromEntries(last.map(({state, per100}) => [state, Math.round(per100 * 1e9) / 1e9]));
  expect(shares).toMatchObject({finished: 50, diverted: 25, "discarded: warp": 25, square: 0});
});
