import fc from "fast-check";
import {expect, test} from "vitest";
import {stockOnHand} from "../../lib/seasoning/stockOnHand.ts";
import {anyPieces, frozen, lastMadeDay, makeHistories, makePiece} from "../pieces.ts";

test("stockOnHand(book): pieces, rested and the longest there, by stage; delivered, thrown out and diverted are not there", () => {
  const pieces = [
    makePiece({boughtOn: 40}),
    makePiece({boughtOn: 41}),
    makePiece({turned: [70]}),
    makePiece({turned: [60, 70, 80, 95]}),
    makePiece({turned: [60, 70, 80, 90], deliveredOn: 99}),
    makePiece({discarded: 20}),
    makePiece({diverted: 20})
  ];
  const rows = stockOnHand(makeHistories(pieces, {asOf: 100}));
  expect(rows.map(({stage, pieces: n, rested, longestDays}) => [stage, n, rested, longestDays])).toEqual([
    ["square", 2, 1, 60],
    ["rough-round", 1, 1, 30],
    ["second-round", 0, 0, 0],
    ["proud-round", 0, 0, 0],
    ["finished", 1, 1, 5]
  ]);
  expect(stockOnHand(makeHistories([], {asOf: 100}))).toEqual([]);
});

test("stockOnHand counts every piece in stock and every shaft once, in any order", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const rows = stockOnHand(frozen(makeHistories(pieces, {asOf: lastMadeDay})));
      const there = pieces.filter(({fate}) => fate === "in stock" || fate === "finished").length;
      expect(rows.reduce((sum, row) => sum + row.pieces, 0)).toBe(there);
      expect(rows.every(({rested, pieces: n}) => rested <= n)).toBe(true);
      expect(stockOnHand(makeHistories(pieces.toReversed(), {asOf: lastMadeDay}))).toEqual(rows);
    }),
    {numRuns: 50}
  );
});
