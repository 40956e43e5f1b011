import fc from "fast-check";
import {expect, test} from "vitest";
import {bestPurchase, type PlanInput, purchaseOutcome, purchasePlan} from "../../lib/buying/purchasePlan.ts";

const base: PlanInput = {
  finished: 2,
  pipeline: [{n: 4, alpha: 8, beta: 2}],
  demand: {mean: 14, size: 5},
  offers: [{supplier: "Only Yard", alpha: 6, beta: 4, unitCost: 20, available: 40}],
  money: {price: 120, shortageCost: 15, leftoverValue: 8}
};

test("purchasePlan: profit is discretely concave in the number of one supplier's squares", () => {
  fc.assert(
    fc.property(
      fc.integer({min: 1, max: 9}),
      fc.integer({min: 1, max: 9}),
      fc.integer({min: 4, max: 25}),
      (alpha, beta, mean) => {
        const {curve} = purchasePlan({
          ...base,
          demand: {mean, size: 4},
          offers: [{...base.offers[0]!, alpha, beta, unitCost: 30}]
        });
        const profits = curve.map(({profit}) => profit);
        for (let q = 2; q < profits.length; q++) {
          expect(profits[q]! - 2 * profits[q - 1]! + profits[q - 2]!).toBeLessThanOrEqual(1e-7);
        }
      }
    ),
    {numRuns: 20}
  );
});

test("purchasePlan: over three suppliers with least lots it finds what full enumeration finds", () => {
  const offers = [
    {supplier: "A", alpha: 6, beta: 4, unitCost: 20, minimum: 4, available: 9},
    {supplier: "B", alpha: 7, beta: 2, unitCost: 25, minimum: 5, available: 9},
    {supplier: "C", alpha: 3, beta: 4, unitCost: 13, minimum: 0, available: 9}
  ];
  for (const mean of [6, 14, 22]) {
    const input = {...base, demand: {mean, size: 5}, offers};
    let most = Number.NEGATIVE_INFINITY;
    for (const a of [0, 4, 5, 6, 7, 8, 9]) {
      for (const b of [0, 5, 6, 7, 8, 9]) {
        for (let c = 0; c <= 9; c++) {
          const orders = [a, b, c].map((squares, i) => ({supplier: offers[i]!.supplier, squares}));
          most = Math.max(most, purchaseOutcome(input, {orders}).profit);
        }
      }
    }
    expect(purchasePlan(input).best.profit).toBeCloseTo(most, 6);
  }
});

test("purchasePlan: splitting is never worse than the best single supplier", () => {
  const offers = [
    {supplier: "A", alpha: 6, beta: 4, unitCost: 20, available: 30},
    {supplier: "B", alpha: 7, beta: 3, unitCost: 24, available: 30}
  ];
  const single = offers.map((offer) => purchasePlan({...base, offers: [offer]}).best.profit);
  expect(purchasePlan({...base, offers}).best.profit).toBeGreaterThanOrEqual(Math.max(...single) - 1e-9);
});

test("purchasePlan: a purchase keeps to least lots, to what can be had and to the budget", () => {
  const input = {
    ...base,
    demand: {mean: 60, size: 9},
    budget: 300,
    offers: [{...base.offers[0]!, minimum: 12, available: 40}]
  };
  for (const {squares, cost} of purchasePlan(input).curve) {
    expect(squares === 0 || squares >= 12).toBe(true);
    expect(cost).toBeLessThanOrEqual(300);
  }
});

test("bestPurchase(input, start) comes back to the plan's own best from another start", () => {
  const plan = purchasePlan(base);
  const elsewhere = plan.curve[0]!;
  expect(bestPurchase(base, elsewhere).squares).toBe(plan.best.squares);
});

test("purchasePlan(leftover worth more than it costs) is refused, with the cost", () => {
  const money = {...base.money, leftoverValue: 40};
  expect(() => purchasePlan({...base, money})).toThrow(
    "purchasePlan: leftoverValue must be less than the 33.33 a usable shaft from Only Yard costs, got 40."
  );
});

test("purchasePlan(no offers) is refused", () => {
  expect(() => purchasePlan({...base, offers: []})).toThrow("purchasePlan: offers must be at least one supplier");
});
