import {expect, test} from "vitest";
import {bookCounts, densityTenths} from "../../lib/book/bookCounts.ts";
import {histories} from "../../lib/book/histories.ts";
import {countedDiscards, discardRates} from "../../lib/defects/discardRates.ts";
import {countedRestLosses, restLosses} from "../../lib/seasoning/restLosses.ts";
import {countedShaftCost, shaftCost} from "../../lib/yield/shaftCost.ts";
import {countedYields, stageYields} from "../../lib/yield/stageYields.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {makeHistories, makePiece} from "../pieces.ts";

const book = readBook("sample-data").book!;
const now = histories(book, "2026-10-31");
const counts = bookCounts(now);

test("densityTenths: to the nearest, halves up", () => {
  expect([690.04, 690.05, 690, 650.999].map(densityTenths)).toEqual([6900, 6901, 6900, 6510]);
});

test("bookCounts adds up squares of one lot that did the same", () => {
  const turned = [10];
  const pieces = [
    makePiece({turned, discarded: 30, defect: "warp"}),
    makePiece({turned, discarded: 30, defect: "warp"}),
    makePiece({turned, discarded: 30, defect: "knot", density: 900})
  ];
  const {spells, densities} = bookCounts(makeHistories(pieces, {asOf: 40}));
  expect(spells).toEqual([
    {lot: "L1", stage: "square", from: 0, to: 10, outcome: "passed", side: "above", squares: 1},
    {lot: "L1", stage: "square", from: 0, to: 10, outcome: "passed", side: "inside", squares: 2},
    {lot: "L1", stage: "rough-round", from: 10, to: 30, outcome: "discarded: knot", side: "above", squares: 1},
    {lot: "L1", stage: "rough-round", from: 10, to: 30, outcome: "discarded: warp", side: "inside", squares: 2}
  ]);
  expect(densities).toEqual([
    {lot: "L1", densityKgM3: 690, squares: 2},
    {lot: "L1", densityKgM3: 900, squares: 1}
  ]);
});

test("bookCounts(sample book): every square is counted once at its first stage and once by density, every shaft given by its order", () => {
  const total = (rows: readonly {squares: number}[]) => rows.reduce((sum, {squares}) => sum + squares, 0);
  expect(total(counts.densities)).toBe(now.pieces.length);
  expect(total(counts.spells.filter(({stage}) => stage === "square"))).toBe(now.pieces.length);
  expect(counts.orders.reduce((sum, {given}) => sum + given, 0)).toBe(
    now.pieces.filter(({allottedTo}) => allottedTo !== undefined).length
  );
});

// The same sums of whole numbers, in whatever order they come: nothing may differ, not even in the last digit.
test("what is worked out from the counts is what is worked out from the pieces", () => {
  expect(countedYields(now, counts.spells)).toEqual(stageYields(now, now.pieces));
  expect(countedYields(now, counts.spells, {since: now.asOf - 182})).toEqual(
    stageYields(now, now.pieces, {since: now.asOf - 182})
  );
  expect(countedDiscards(now, counts.spells)).toEqual(discardRates(now, now.pieces));
  expect(countedDiscards(now, counts.spells, {stage: "square", since: now.asOf - 182})).toEqual(
    discardRates(now, now.pieces, {stage: "square", since: now.asOf - 182})
  );
  expect(countedRestLosses(now, counts.spells)).toEqual(restLosses(now, now.pieces));
  expect(countedShaftCost(now, counts.spells, {workEach: 5})).toEqual(shaftCost(now, {workEach: 5}));
});
