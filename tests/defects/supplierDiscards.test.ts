import {expect, test} from "vitest";
import {supplierDiscards, supplierDiscardsOf} from "../../lib/defects/supplierDiscards.ts";
import {frozen, makeHistories, makePiece} from "../pieces.ts";

/** Pieces of one lot, all decided: the first `out` of `n` thrown out on day 30, the others finished. */
const lot = (supplier: string, name: string, out: number, n: number, boughtOn = 0) =>
  Array.from({length: n}, (_, i) =>
    i < out
      ? makePiece({supplier, lot: name, boughtOn, discarded: boughtOn + 30})
      : makePiece({supplier, lot: name, boughtOn, turned: [60, 90, 120, 150].map((day) => boughtOn + day)})
  );

const pieces = [
  ...lot("Elm End Yard", "E1", 2, 8),
  ...lot("Low Fold Sawmill", "F1", 10, 200),
  ...lot("Crake Timber", "C1", 60, 200),
  ...lot("Marl Hill", "M1", 30, 200)
];

test("supplierDiscards(2 of 8 beside large suppliers): raw as counted, drawn to the common mean", () => {
  const rows = supplierDiscards(makeHistories(pieces, {asOf: 400}));
  const of = (name: string) => rows.find(({supplier}) => supplier === name)!;
  expect(of("Elm End Yard").per100).toBeCloseTo(25, 10);
  expect(of("Low Fold Sawmill").per100).toBeCloseTo(5, 10);
  // Drawn between its own rate and the common mean (the mean of 25, 5, 30 and 15 is about 18), the small one by far the most.
  expect(of("Elm End Yard").drawnPer100).toBeLessThan(24);
  expect(of("Elm End Yard").drawnPer100).toBeGreaterThan(14);
  expect(25 - of("Elm End Yard").drawnPer100).toBeGreaterThan(3 * Math.abs(30 - of("Crake Timber").drawnPer100));
  expect(Math.abs(of("Marl Hill").drawnPer100 - 15)).toBeLessThan(1);
  for (const row of rows) {
    expect(row.drawnLow).toBeLessThan(row.drawnPer100);
    expect(row.drawnHigh).toBeGreaterThan(row.drawnPer100);
    expect(row).not.toHaveProperty("per100Low");
  }
  expect(of("Elm End Yard").drawnHigh - of("Elm End Yard").drawnLow).toBeGreaterThan(
    of("Marl Hill").drawnHigh - of("Marl Hill").drawnLow
  );
});

test("supplierDiscards: fewest drawn first; order of pieces does not matter; nothing is changed", () => {
  const rows = supplierDiscards(frozen(makeHistories(pieces, {asOf: 400})));
  const twin = supplierDiscards(makeHistories(pieces.toReversed(), {asOf: 400}));
  expect(rows.map(({supplier}) => supplier)).toEqual(["Low Fold Sawmill", "Marl Hill", "Elm End Yard", "Crake Timber"]);
  expect(twin.map(({supplier}) => supplier)).toEqual(rows.map(({supplier}) => supplier));
  rows.forEach((row, i) => {
    expect(twin[i]!.drawnPer100).toBeCloseTo(row.drawnPer100, 6);
  });
});

test("supplierDiscards(suppliers of four lots and more) has an interval about the raw rate", () => {
  const many = ["Elm End Yard", "Marl Hill"].flatMap((supplier) =>
    Array.from({length: 7}, (_, i) => lot(supplier, `${supplier}${i}`, 1 + (i % 4), 20)).flat()
  );
  for (const row of supplierDiscards(makeHistories(many, {asOf: 400}))) {
    expect(row.lots).toBe(7);
    expect(row.per100Low!).toBeLessThan(row.per100);
    expect(row.per100High!).toBeGreaterThan(row.per100);
  }
});

test("supplierDiscards leaves out a supplier of whom nothing is decided, and has no rows without pieces", () => {
  const young = makePiece({supplier: "New Ings", lot: "N1", boughtOn: 390});
  const rows = supplierDiscards(makeHistories([...pieces, young], {asOf: 400}));
  expect(rows.map(({supplier}) => supplier)).not.toContain("New Ings");
  expect(supplierDiscards(makeHistories([], {asOf: 400}))).toEqual([]);
});

// Low Fold's 200 squares of day 0 are all decided before day 250; what counts since then is its later lot of 4, and Marl Hill's.
test("supplierDiscards(book, {since}) weighs a supplier by what was decided since", () => {
  const later = [...lot("Low Fold Sawmill", "F2", 3, 4, 260), ...lot("Marl Hill", "M2", 20, 100, 260)];
  const both = supplierDiscards(makeHistories([...pieces, ...later], {asOf: 600}), {since: 250});
  const alone = supplierDiscards(makeHistories(later, {asOf: 600}), {since: 250});
  expect(both.map(({supplier, squares}) => [supplier, squares])).toEqual(
    alone.map(({supplier, squares}) => [supplier, squares])
  );
  both.forEach((row, i) => {
    expect(row.drawnPer100).toBeCloseTo(alone[i]!.drawnPer100, 6);
  });
});

test("supplierDiscards for one defect counts it alone, 0 where a supplier never had it", () => {
  const knots = pieces.map((piece) =>
    piece.supplier === "Crake Timber" && piece.defect ? {...piece, defect: "warp"} : piece
  );
  const rows = supplierDiscards(makeHistories(knots, {asOf: 400}), {defect: "warp"});
  const of = (name: string) => rows.find(({supplier}) => supplier === name)!;
  expect(of("Crake Timber").per100).toBeCloseTo(30, 10);
  expect(of("Low Fold Sawmill")).toMatchObject({per100: 0, discarded: 0});
  expect(of("Low Fold Sawmill").drawnPer100).toBeGreaterThan(0);
  expect(of("Low Fold Sawmill").drawnPer100).toBeLessThan(5);
});

test("supplierDiscards at one stage is of those that reach it", () => {
  // All are thrown out on day 30, while they are squares.
  const histories = makeHistories(pieces, {asOf: 400});
  const first = supplierDiscards(histories, {stage: "square"}).find(({supplier}) => supplier === "Crake Timber")!;
  expect(first.per100).toBeCloseTo(30, 10);
  const later = supplierDiscards(histories, {stage: "rough-round"}).find(({supplier}) => supplier === "Crake Timber")!;
  expect(later.per100).toBeCloseTo(0, 10);
  expect(later.squares).toBe(140);
});

test("supplierDiscardsOf tells of one defect after another what supplierDiscards tells of each", () => {
  const histories = makeHistories(
    pieces.map((piece) => (piece.supplier === "Crake Timber" && piece.defect ? {...piece, defect: "warp"} : piece)),
    {asOf: 400}
  );
  const of = supplierDiscardsOf(histories);
  const [all, warp] = [of("all"), of("warp")];
  expect(warp).not.toEqual(all);
  expect(all).toEqual(supplierDiscards(histories));
  expect(warp).toEqual(supplierDiscards(histories, {defect: "warp"}));
});
