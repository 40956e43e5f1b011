import fc from "fast-check";
import {expect, test} from "vitest";
import {randomStream} from "../../lib/stats/random.ts";
import {shaftCost} from "../../lib/yield/shaftCost.ts";
import {anyPieces, frozen, lastMadeDay, makeHistories, makePiece} from "../pieces.ts";

const sampling = () => ({random: randomStream(1), resamples: 99});

// By hand: 4 squares at 10 and 8 for carriage = 48; two finish, one of them inside 640…740 kg/m³: 24 a shaft, 48 a usable one.
const lot = (name: string) => [
  makePiece({lot: name, turned: [60, 90, 120, 150]}),
  makePiece({lot: name, turned: [60, 90, 120, 150], density: 760}),
  makePiece({lot: name, discarded: 20}),
  makePiece({lot: name, discarded: 20})
];

test("shaftCost(one lot): squares and carriage over the shafts, no interval", () => {
  const [row] = shaftCost(makeHistories(lot("A"), {asOf: 200, lots: {A: {carriage: 8}}}), sampling());
  expect(row).toEqual({
    species: "ash",
    supplier: "Low Fold Sawmill",
    lots: 1,
    squares: 4,
    squareCost: 12,
    shafts: 2,
    inWindow: 1,
    shaftCost: 24,
    inWindowCost: 48
  });
});

test("shaftCost(six like lots): the interval has no width, as every resample costs the same", () => {
  const pieces = ["A", "B", "C", "D", "E", "F"].flatMap(lot);
  const [row] = shaftCost(makeHistories(pieces, {asOf: 200}), sampling());
  expect(row).toMatchObject({lots: 6, shaftCost: 20, shaftCostLow: 20, shaftCostHigh: 20, inWindowCostLow: 40});
});

test("shaftCost counts a piece in stock with its chance, and a lot without a shaft in sight has no cost", () => {
  const young = makePiece({lot: "B", supplier: "Elm End Yard", boughtOn: 200});
  const rows = shaftCost(makeHistories([...lot("A"), young], {asOf: 200}), sampling());
  expect(rows.find(({supplier}) => supplier === "Elm End Yard")).toMatchObject({shafts: 0.5, shaftCost: 20});
  const [none] = shaftCost(makeHistories([makePiece({discarded: 9})], {asOf: 50}), sampling());
  expect(none!.shafts).toBe(0);
  expect(none).not.toHaveProperty("shaftCost");
  expect(shaftCost(makeHistories([], {asOf: 50}), sampling())).toEqual([]);
});

test("shaftCost: a usable shaft costs no less than a shaft; order does not matter; nothing is changed", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const rows = shaftCost(frozen(makeHistories(pieces, {asOf: lastMadeDay})), sampling());
      const reversed = shaftCost(makeHistories(pieces.toReversed(), {asOf: lastMadeDay}), sampling());
      for (const row of rows) {
        const twin = reversed.find((one) => one.species === row.species && one.supplier === row.supplier)!;
        expect(twin.shafts).toBeCloseTo(row.shafts, 9);
        expect(row.squareCost).toBe(10);
        if (row.inWindowCost !== undefined) expect(row.inWindowCost).toBeGreaterThanOrEqual(row.shaftCost! - 1e-9);
      }
    }),
    {numRuns: 40}
  );
});
