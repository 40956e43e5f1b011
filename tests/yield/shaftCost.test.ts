import fc from "fast-check";
import {expect, test} from "vitest";
import {shaftCost} from "../../lib/yield/shaftCost.ts";
import {anyPieces, frozen, lastMadeDay, makeHistories, makePiece} from "../pieces.ts";

// By hand: 4 squares at 10 and 8 for carriage = 48; two finish, one of them inside 640…740 kg/m³: 24 a shaft, 48 a usable one.
const lot = (name: string) => [
  makePiece({lot: name, turned: [60, 90, 120, 150]}),
  makePiece({lot: name, turned: [60, 90, 120, 150], density: 760}),
  makePiece({lot: name, discarded: 20}),
  makePiece({lot: name, discarded: 20})
];

test("shaftCost(one lot): squares and carriage over the shafts, no interval", () => {
  const [row] = shaftCost(makeHistories(lot("A"), {asOf: 200, lots: {A: {carriage: 8}}}));
  expect(row).toEqual({
    species: "ash",
    supplier: "Low Fold Sawmill",
    lots: 1,
    squares: 4,
    squareCost: 12,
    carriageEach: 2,
    latelySquareCost: 12,
    latelyCarriageEach: 2,
    yieldFraction: 0.5,
    undecidedFraction: 0,
    inWindowFraction: 0.25,
    shaftCost: 24,
    inWindowCost: 48
  });
});

test("shaftCost(six like lots): the interval has no width, as the cost is the same whichever lot is left out", () => {
  const pieces = ["A", "B", "C", "D", "E", "F"].flatMap(lot);
  const [row] = shaftCost(makeHistories(pieces, {asOf: 200}));
  expect(row).toMatchObject({lots: 6, shaftCost: 20, inWindowCost: 40});
  for (const value of [row!.shaftCostLow!, row!.shaftCostHigh!]) expect(value).toBeCloseTo(20, 10);
  for (const value of [row!.inWindowCostLow!, row!.inWindowCostHigh!]) expect(value).toBeCloseTo(40, 10);
});

// Lots of four with 3, 2, 2 and 2 shafts: Y = 9/16, 6/12 without the first, 7/12 without another.
test("shaftCost(four lots that differ) has the interval of the logarithm, worked by hand", () => {
  const better = [...lot("A").slice(0, 3), makePiece({lot: "A", turned: [60, 90, 120, 150]})];
  const [row] = shaftCost(makeHistories([...better, ...["B", "C", "D"].flatMap(lot)], {asOf: 200}));
  expect(row!.shaftCost).toBeCloseTo(10 / (9 / 16), 10);
  const squares = (Math.log(6 / 12) - Math.log(9 / 16)) ** 2 + 3 * (Math.log(7 / 12) - Math.log(9 / 16)) ** 2;
  const half = 3.182446305 * Math.sqrt((3 / 4) * squares); // t of 3 degrees of freedom, printed table
  expect(row!.shaftCostLow).toBeCloseTo((10 * 16) / 9 / Math.exp(half), 6);
  expect(row!.shaftCostHigh).toBeCloseTo(((10 * 16) / 9) * Math.exp(half), 6);
});

test("shaftCost of a supplier of which a stage has decided nothing has no cost, and says how much is undecided", () => {
  const young = makePiece({lot: "B", supplier: "Elm End Yard", boughtOn: 200});
  const row = shaftCost(makeHistories([...lot("A"), young], {asOf: 200})).find(
    ({supplier}) => supplier === "Elm End Yard"
  );
  expect(row).toMatchObject({undecidedFraction: 1, squareCost: 10});
  expect(row).not.toHaveProperty("shaftCost");
  expect(row).not.toHaveProperty("yieldFraction");
  const [none] = shaftCost(makeHistories([makePiece({discarded: 9})], {asOf: 50}));
  expect(none).not.toHaveProperty("shaftCost");
  expect(shaftCost(makeHistories([], {asOf: 50}))).toEqual([]);
});

test("shaftCost of timber that was a gift costs nothing and has no interval; nor has a price that one lot alone has", () => {
  const four = ["A", "B", "C", "D"];
  const free = Object.fromEntries(four.map((name) => [name, {priceEach: 0}]));
  const [gift] = shaftCost(makeHistories(four.flatMap(lot), {asOf: 200, lots: free}));
  expect(gift).toMatchObject({squareCost: 0, shaftCost: 0});
  expect(gift).not.toHaveProperty("shaftCostLow");
  const [mixed] = shaftCost(makeHistories(four.flatMap(lot), {asOf: 200, lots: {...free, A: {priceEach: 12}}}));
  expect(mixed!.shaftCost).toBeCloseTo(6, 10);
  expect(mixed).not.toHaveProperty("shaftCostLow");
});

test("shaftCost takes squares bought but never listed to do as those listed", () => {
  const [row] = shaftCost(makeHistories(lot("A"), {asOf: 200, lots: {A: {squaresBought: 5, carriage: 5}}}));
  expect(row).toMatchObject({squares: 5, squareCost: 11, shaftCost: 22});
});

test("shaftCost: a usable shaft costs no less than a shaft when all is decided; order does not matter; nothing is changed", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const decided = pieces.filter(({fate}) => fate !== "in stock");
      const rows = shaftCost(frozen(makeHistories(decided, {asOf: lastMadeDay})));
      const reversed = shaftCost(makeHistories(decided.toReversed(), {asOf: lastMadeDay}));
      for (const row of rows) {
        const twin = reversed.find((one) => one.species === row.species && one.supplier === row.supplier)!;
        expect(twin.shaftCost === undefined).toBe(row.shaftCost === undefined);
        if (row.shaftCost !== undefined) expect(twin.shaftCost).toBeCloseTo(row.shaftCost, 8);
        expect(row.squareCost).toBe(10);
        if (row.inWindowCost !== undefined) expect(row.inWindowCost).toBeGreaterThanOrEqual(row.shaftCost! - 1e-9);
      }
    }),
    {numRuns: 40}
  );
});

// By hand: lots B, C and D of four squares at 14, 12 and 16, D with 6 of carriage: (56 + 48 + 64 + 6)/12 = 14.50, carriage 0.50; A, the oldest though
// last in the book, at 90 is not in it. With 5 of work 19.50.
test("shaftCost: what a square is paid lately is of the last three lots by day, squares weighted, with carriage and work", () => {
  const days = {B: 10, C: 20, D: 30, A: 1};
  const pieces = Object.entries(days).flatMap(([name, boughtOn]) =>
    Array.from({length: 4}, () => makePiece({lot: name, boughtOn, turned: [60, 90, 120, 150]}))
  );
  const lots = {A: {priceEach: 90}, B: {priceEach: 14}, C: {priceEach: 12}, D: {priceEach: 16, carriage: 6}};
  const [row] = shaftCost(makeHistories(pieces, {asOf: 200, lots}), {workEach: 5});
  expect(row!.latelySquareCost).toBeCloseTo(19.5, 10);
  expect(row!.latelyCarriageEach).toBeCloseTo(0.5, 10);
});
