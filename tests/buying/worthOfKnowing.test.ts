import {expect, test} from "vitest";
import type {Need} from "../../lib/buying/outcomes.ts";
import {purchaseOutcome} from "../../lib/buying/purchasePlan.ts";
import {worthOfKnowing} from "../../lib/buying/worthOfKnowing.ts";
import {negativeBinomialPmf} from "../../lib/stats/negativeBinomial.ts";

const need: Need = {
  finished: 2,
  pipeline: [],
  demand: {mean: 8, size: 3},
  offers: [{supplier: "A", alpha: 6e6, beta: 4e6, unitCost: 20, available: 38}],
  money: {price: 120, shortageCost: 15, leftoverValue: 8}
};
const at = (squares: number, demand: Need["demand"]) =>
  purchaseOutcome({...need, demand}, {orders: [{supplier: "A", squares}]}).profit;
const numbers = Array.from({length: 39}, (_, q) => q);

// By the rule, one case after the other: a demand of exactly d is a known one with nothing beside.
test("worthOfKnowing: of demand is what the best number for each demand earns more than the one best number", () => {
  const chances = negativeBinomialPmf(3, 8, 120);
  const known = chances.reduce(
    (sum, p, d) => sum + p * Math.max(...numbers.map((q) => at(q, {mean: 1e-12, known: d}))),
    0
  );
  const unknown = Math.max(...numbers.map((q) => at(q, need.demand)));
  expect(worthOfKnowing({need}).demand).toBeCloseTo(known - unknown, 2);
});

test("worthOfKnowing: a share that is known is worth nothing to know, one in doubt is worth something, a trip that nobody pays nothing", () => {
  expect(worthOfKnowing({need}).usable).toBeCloseTo(0, 3);
  const unsure = {...need, offers: [{...need.offers[0]!, alpha: 6, beta: 4, doubt: 0.02, lotSize: 10}]};
  expect(worthOfKnowing({need: unsure}).usable).toBeGreaterThan(0.5);
  expect(worthOfKnowing({need: unsure, tripCosts: {A: 1e6}}).usable).toBeCloseTo(0, 9);
});
