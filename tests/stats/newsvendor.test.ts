import fc from "fast-check";
import {expect, test} from "vitest";
import {newsvendor, newsvendorCost, newsvendorNormal, newsvendorNormalCost} from "../../lib/stats/newsvendor.ts";

const pmf = fc.array(fc.integer({min: 0, max: 9}), {minLength: 2, maxLength: 12}).map((weights) => {
  const total = weights.reduce((a, b) => a + b, 1);
  return [...weights.slice(0, -1), weights.at(-1)! + 1].map((weight) => weight / total);
});

test("newsvendor's quantity costs least of all", () => {
  fc.assert(
    fc.property(pmf, fc.integer({min: 1, max: 20}), fc.integer({min: 1, max: 20}), (demand, overage, underage) => {
      const {quantity, cost} = newsvendor({overage, underage}, demand)!;
      const costs = demand.map((_, q) => newsvendorCost({overage, underage}, demand, q));
      expect(cost).toBeCloseTo(Math.min(...costs), 9);
      expect(costs[quantity]).toBeCloseTo(cost, 12);
    })
  );
});

// By hand: demand 0 or 2 with equal chance, one too many costs 1, one too few 3: at 2 the cost is ½ · 2 · 1.
test("newsvendor, worked by hand", () => {
  expect(newsvendor({overage: 1, underage: 3}, [0.5, 0, 0.5])).toEqual({quantity: 2, cost: 1});
});

test("newsvendorNormalCost is least at newsvendorNormal's quantity, the mean when both costs are equal", () => {
  const costs = {overage: 2, underage: 9};
  const demand = {mean: 30, deviation: 5};
  const {quantity, cost} = newsvendorNormal(costs, demand);
  expect(newsvendorNormalCost(costs, demand, quantity + 0.5)).toBeGreaterThan(cost);
  expect(newsvendorNormalCost(costs, demand, quantity - 0.5)).toBeGreaterThan(cost);
  expect(newsvendorNormal({overage: 1, underage: 1}, demand).quantity).toBeCloseTo(30, 12);
});

test("newsvendor has no answer when the list of demands ends too early", () => {
  expect(newsvendor({overage: 1, underage: 9}, [0.5, 0.3])).toBeUndefined();
});

test("newsvendor refuses costs of 0 and a demand without spread", () => {
  expect(() => newsvendor({overage: 0, underage: 1}, [1])).toThrow("newsvendor: overage must be positive, got 0.");
  expect(() => newsvendorNormal({overage: 1, underage: 1}, {mean: 3, deviation: 0})).toThrow(
    "deviation must be positive, got 0."
  );
});
