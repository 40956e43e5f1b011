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
const chance = ({fate}: Pick<Piece, "fate">) => (fate === "finished" ? 1 : fate === "in stock" ? 0.5 : 0);
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

test("supply: an offer is the last lots' price and the work, the carriage is the trip's; suppliers not visited for three years are out", () => {
  expect(result.offers.map(({supplier}) => supplier).sort()).toEqual(["Far Yard", "Near Yard"]);
  const near = result.offers.find(({supplier}) => supplier === "Near Yard")!;
  expect(near.priceEach).toBeCloseTo(10.5, 12);
  expect(near.tripCost).toBe(20);
  expect(near.unitCost).toBeCloseTo(near.priceEach + settings.money.turningCostPerSquare, 12);
  expect(near.usableCost).toBeCloseTo((near.unitCost + 20 / 10) / near.usableFraction, 12);
  expect(near.alpha / (near.alpha + near.beta)).toBeCloseTo(near.usableFraction, 12);
  expect(near.usableLow).toBeLessThan(near.usableFraction);
  expect(near.usableHigh).toBeGreaterThan(near.usableFraction);
});

test("supply: one trip brings all lots of its day; a setting goes before it; discounts come as prices with the work on them", () => {
  const more = Settings.parse({
    suppliers: {"Near Yard": {discounts: [{from: 30, pct: 10}]}, "Far Yard": {tripCost: 75}}
  });
  const twice = [...histories.lots, {...lot("M3", "Near Yard", "2026-09-10", 14), species: "maple"}];
  const {offers} = supply({...histories, lots: twice, settings: more}, "ash", chance);
  const near = offers.find(({supplier}) => supplier === "Near Yard")!;
  expect(near.tripCost).toBe((20 + (20 + 20)) / 2);
  expect(near.priceBreaks).toEqual([{from: 30, unitCost: 0.9 * 10.5 + more.money.turningCostPerSquare}]);
  expect(offers.find(({supplier}) => supplier === "Far Yard")!.tripCost).toBe(75);
});

test("supply: a supplier that has got worse is rated by what passes now, with more doubt", () => {
  const worse = supply(histories, "ash", chance, {lately: {"Near Yard": 0.5}});
  const of = ({offers}: typeof worse) => offers.find(({supplier}) => supplier === "Near Yard")!;
  expect(of(worse).usableFraction).toBeCloseTo(of(result).usableFraction / 2, 12);
  expect(of(worse).doubt!).toBeGreaterThan(of(result).doubt!);
  expect(worse.offers.find(({supplier}) => supplier === "Far Yard")).toEqual(
    result.offers.find(({supplier}) => supplier === "Far Yard")
  );
});

// Two stages with Var ln y of 0.0009 and 0.0016: new squares have both before them, a piece at the second only that one.
test("supply: pieces on their way and new squares share the doubt about the stages both have before them", () => {
  const stageDoubts = [
    {stage: "square", logVariance: 0.0009},
    {stage: "second-round", logVariance: 0.0016}
  ];
  const at = (stage: string) => ({
    ...histories,
    pieces: histories.pieces.map((one) => ({...one, stays: [{stage, from: asOf - 10}]}) as Piece)
  });
  const early = supply(at("square"), "ash", chance, {stageDoubts});
  const late = supply(at("second-round"), "ash", chance, {stageDoubts});
  expect(early.offers[0]!.common).toBeCloseTo(0.05, 12);
  expect(early.pipeline[0]!.common).toBeCloseTo(0.05, 12);
  expect(late.pipeline[0]!.common! * late.offers[0]!.common!).toBeCloseTo(0.0016, 12);
});
