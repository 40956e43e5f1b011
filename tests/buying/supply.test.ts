import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import type {Histories, Piece} from "../../lib/book/histories.ts";
import {Settings} from "../../lib/book/settings.ts";
import {supply} from "../../lib/buying/supply.ts";

const settings = Settings.parse({});
const asOf = dayNumber("2026-10-31");
const lot = (id: string, supplier: string, boughtOn: string, priceEach: number) => ({
  lot: id,
  supplier,
  species: "ash",
  boughtOn,
  squaresBought: 10,
  priceEach,
  carriage: 20,
  row: 2
});
const piece = (id: string, supplier: string, fate: Piece["fate"], densityAt12KgM3: number, more: Partial<Piece> = {}) =>
  ({lot: id, supplier, species: "ash", fate, densityAt12KgM3, ...more}) as Piece;
const many = (n: number, make: () => Piece) => Array.from({length: n}, make);

const histories: Histories = {
  settings,
  asOf,
  orders: [],
  problems: [],
  lots: [
    lot("L1", "Near Yard", "2025-01-10", 10),
    lot("L2", "Far Yard", "2025-02-10", 12),
    lot("L3", "Near Yard", "2026-09-10", 11),
    lot("L0", "Old Yard", "2022-01-10", 5)
  ],
  pieces: [
    ...many(6, () => piece("L1", "Near Yard", "finished", 700)),
    ...many(4, () => piece("L1", "Near Yard", "discarded", 700)),
    ...many(5, () => piece("L2", "Far Yard", "finished", 700, {deliveredOn: asOf - 5})),
    piece("L2", "Far Yard", "finished", 800),
    piece("L2", "Far Yard", "finished", 700, {allottedTo: "O1"}),
    ...many(3, () => piece("L2", "Far Yard", "discarded", 700)),
    ...many(6, () => piece("L3", "Near Yard", "in stock", 700)),
    ...many(4, () => piece("L3", "Near Yard", "in stock", 800)),
    ...many(10, () => piece("L0", "Old Yard", "finished", 700, {deliveredOn: asOf - 900}))
  ]
};
const chance = ({fate}: Piece) => (fate === "finished" ? 1 : fate === "in stock" ? 0.5 : 0);
const result = supply(histories, "ash", chance);

test("supply: on the rack are free shafts inside the window; sold, allotted and misfit ones are not", () => {
  expect(result.rack).toBe(6);
  expect(result.rackOutside).toBe(1);
});

test("supply: the pipeline is the pieces inside the window with their chances, lot by lot", () => {
  expect(result.pipelinePieces).toBe(10);
  expect(result.pipelineExpected).toBe(3);
  expect(result.pipeline).toHaveLength(1);
  const [{n, alpha, beta}] = result.pipeline as [{n: number; alpha: number; beta: number}];
  expect(n).toBe(6);
  expect(alpha / (alpha + beta)).toBeCloseTo(0.5, 12);
});

test("supply: an offer is the last lots' price and carriage and the work; suppliers not visited for three years are out", () => {
  expect(result.offers.map(({supplier}) => supplier).sort()).toEqual(["Far Yard", "Near Yard"]);
  const near = result.offers.find(({supplier}) => supplier === "Near Yard")!;
  expect(near.squareCost).toBeCloseTo((10 * 10 + 20 + 10 * 11 + 20) / 20, 12);
  expect(near.unitCost).toBeCloseTo(near.squareCost + settings.money.turningCostPerSquare, 12);
  expect(near.alpha / (near.alpha + near.beta)).toBeCloseTo(near.usableFraction, 12);
  expect(near.usableLow).toBeLessThan(near.usableFraction);
  expect(near.usableHigh).toBeGreaterThan(near.usableFraction);
});
