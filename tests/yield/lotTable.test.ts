import fc from "fast-check";
import {expect, test} from "vitest";
import {lotTable} from "../../lib/yield/lotTable.ts";
import {anyPieces, frozen, lastMadeDay, makeHistories, makePiece} from "../pieces.ts";

// Old lot: half of its four squares finish. New lot: two fresh squares, each with the chance 1/2: 0, 1 or 2 finish with 1/4, 1/2, 1/4.
const old = [
  ...[1, 2].map(() => makePiece({lot: "A", turned: [60, 90, 120, 150]})),
  ...[1, 2].map(() => makePiece({lot: "A", discarded: 20}))
];
const young = [1, 2].map(() => makePiece({lot: "B", boughtOn: 200}));

test("lotTable(book): newest first, with the yield to expect and its range worked by hand", () => {
  const [b, a] = lotTable(makeHistories([...old, ...young], {asOf: 200, lots: {A: {squaresLookedAt: 30}}}));
  expect(a).toMatchObject({lot: "A", lookedAt: 30, bought: 4, finished: 2, discarded: 2, inStock: 0, unaccounted: 0});
  expect([a!.soFarFraction, a!.expectedFraction, a!.expectedLow, a!.expectedHigh]).toEqual([0.5, 0.5, 0.5, 0.5]);
  expect(a!.weeks).toBeCloseTo(200 / 7, 12);
  expect(b).toMatchObject({lot: "B", finished: 0, inStock: 2, soFarFraction: 0, expectedLow: 0, expectedHigh: 1});
  expect(b!.expectedFraction).toBeCloseTo(0.5, 12);
  expect(b).not.toHaveProperty("lookedAt");
});

test("lotTable counts squares paid for and not listed as unaccounted, and as part of what was bought", () => {
  const [row] = lotTable(makeHistories(old, {asOf: 200, lots: {A: {squaresBought: 5}}}));
  expect(row).toMatchObject({bought: 5, unaccounted: 1, soFarFraction: 0.4, expectedFraction: 0.4});
});

test("lotTable(a book in which nothing is decided) gives no yield to expect", () => {
  const [row] = lotTable(makeHistories(young, {asOf: 210}));
  expect(row!.inStock).toBe(2);
  expect(row!.expectedFraction).toBeUndefined();
  expect(lotTable(makeHistories([], {asOf: 210}))).toEqual([]);
});

test("lotTable: every lot adds up, the range holds the expectation to within a piece, order does not matter", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const rows = lotTable(frozen(makeHistories(pieces, {asOf: lastMadeDay})));
      const reversed = lotTable(makeHistories(pieces.toReversed(), {asOf: lastMadeDay}));
      rows.forEach((row, i) => {
        expect(row.finished + row.discarded + row.diverted + row.inStock + row.unaccounted).toBe(row.bought);
        expect(reversed[i]!.lot).toBe(row.lot);
        expect(reversed[i]!.expectedFraction ?? -1).toBeCloseTo(row.expectedFraction ?? -1, 9);
        if (row.expectedFraction === undefined) return;
        expect(row.expectedFraction).toBeGreaterThanOrEqual(row.soFarFraction - 1e-12);
        expect(row.expectedLow!).toBeLessThanOrEqual(row.expectedFraction + 1 / row.bought);
        expect(row.expectedHigh!).toBeGreaterThanOrEqual(row.expectedFraction - 1 / row.bought);
      });
    }),
    {numRuns: 60}
  );
});
