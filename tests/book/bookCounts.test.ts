import {expect, test} from "vitest";
import {bookCounts, countsUpTo, densityStep} from "../../lib/book/bookCounts.ts";
import {dayNumber} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import type {SpellCount} from "../../lib/book/spellCounts.ts";
import {countedDiscards, discardRates} from "../../lib/defects/discardRates.ts";
import {countedRestLosses, restLosses} from "../../lib/seasoning/restLosses.ts";
import {countedShaftCost, shaftCost} from "../../lib/yield/shaftCost.ts";
import {countedYields, stageYields} from "../../lib/yield/stageYields.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {makeHistories, makePiece} from "../pieces.ts";

const book = readBook("sample-data").book!;
const now = histories(book, "2026-10-31");
const counts = bookCounts(now);

test("densityStep: to a tenth of a kg/m³, halves up", () => {
  expect([690.04, 690.05, 690, 650.999].map(densityStep)).toEqual([690, 690.1, 690, 651]);
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

test("countsUpTo(an earlier day) are the counts of the book replayed up to that day", () => {
  const day = "2025-03-31";
  const then = bookCounts(histories(book, day));
  const got = countsUpTo(counts, dayNumber(day));
  /** Rows of shafts promised by then, or by now, are not told apart. */
  const merged = (rows: readonly SpellCount[]) => {
    const sums = new Map<string, number>();
    for (const {squares, outcome, ...row} of rows) {
      const key = JSON.stringify([Object.entries(row).sort(), outcome === "allotted" ? null : (outcome ?? null)]);
      sums.set(key, (sums.get(key) ?? 0) + squares);
    }
    return [...sums].sort();
  };
  expect(merged(got.spells)).toEqual(merged(then.spells));
  expect(got.densities).toEqual(then.densities);
  expect(got.lots).toEqual(then.lots);
  expect(got.orders.map(({order}) => order)).toEqual(then.orders.map(({order}) => order));
});
