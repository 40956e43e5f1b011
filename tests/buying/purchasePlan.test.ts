import fc from "fast-check";
import {expect, test} from "vitest";
import type {Offer} from "../../lib/buying/outcomes.ts";
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
      fc.constantFrom(0.4, 0.8, 1),
      (alpha, beta, mean, windowShare) => {
        const {curve} = purchasePlan({
          ...base,
          demand: {mean, size: 4},
          offers: [{...base.offers[0]!, alpha, beta, windowShare, unitCost: 30}]
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

/** Two suppliers with least lots and a budget, small enough to go through every purchase. */
const twoSuppliers = fc
  .record({
    alphas: fc.tuple(fc.integer({min: 2, max: 12}), fc.integer({min: 2, max: 12})),
    betas: fc.tuple(fc.integer({min: 1, max: 6}), fc.integer({min: 1, max: 6})),
    shares: fc.tuple(fc.constantFrom(0.6, 0.85, 1), fc.constantFrom(0.6, 0.85, 1)),
    costs: fc.tuple(fc.integer({min: 16, max: 30}), fc.integer({min: 16, max: 30})),
    minimums: fc.tuple(fc.integer({min: 0, max: 6}), fc.integer({min: 0, max: 6})),
    mean: fc.integer({min: 5, max: 18}),
    budget: fc.integer({min: 60, max: 400})
  })
  .map(
    ({alphas, betas, shares, costs, minimums, mean, budget}): PlanInput => ({
      ...base,
      demand: {mean, size: 5},
      budget,
      offers: [0, 1].map((i) => ({
        supplier: "AB"[i]!,
        alpha: alphas[i]!,
        beta: betas[i]!,
        windowShare: shares[i]!,
        unitCost: costs[i]!,
        minimum: minimums[i]!,
        available: 16
      }))
    })
  );

test("purchasePlan: over two suppliers with least lots, with and without a budget, it finds what full enumeration finds", () => {
  fc.assert(
    fc.property(twoSuppliers, fc.boolean(), ({budget, ...open}, bound) => {
      const input: PlanInput = bound ? {...open, budget: budget!} : open;
      let most = Number.NEGATIVE_INFINITY;
      const numbers = input.offers.map(({minimum = 0}) => [...Array(17).keys()].filter((q) => q === 0 || q >= minimum));
      for (const a of numbers[0]!) {
        for (const b of numbers[1]!) {
          if (bound && a * input.offers[0]!.unitCost + b * input.offers[1]!.unitCost > budget!) continue;
          const orders = [a, b].map((squares, i) => ({supplier: input.offers[i]!.supplier, squares}));
          most = Math.max(most, purchaseOutcome(input, {orders}).profit);
        }
      }
      expect(purchasePlan(input).best.profit).toBeCloseTo(most, 6);
    }),
    {numRuns: 12}
  );
});

// The seed is fixed, as the search over three is checked and not proven.
test("purchasePlan: over three suppliers with least lots and a budget it finds what full enumeration finds", () => {
  const third = fc.record({alpha: fc.integer({min: 2, max: 12}), minimum: fc.integer({min: 0, max: 6})});
  fc.assert(
    fc.property(twoSuppliers, third, (two, {alpha, minimum}) => {
      const offers = [...two.offers, {supplier: "C", alpha, beta: 3, unitCost: 21, minimum, available: 16}].map(
        (offer) => ({...offer, available: 9})
      );
      const input = {...two, offers};
      const numbers = offers.map(({minimum = 0}) => [...Array(10).keys()].filter((q) => q === 0 || q >= minimum));
      const splits = numbers[0]!.flatMap((a) => numbers[1]!.flatMap((b) => numbers[2]!.map((c) => [a, b, c])));
      const profits = splits
        .filter((split) => split.reduce((cost, q, i) => cost + q * offers[i]!.unitCost, 0) <= input.budget!)
        .map((split) => {
          const orders = split.map((squares, i) => ({supplier: offers[i]!.supplier, squares}));
          return purchaseOutcome(input, {orders}).profit;
        });
      expect(purchasePlan(input).best.profit).toBeCloseTo(Math.max(...profits), 6);
    }),
    {numRuns: 5, seed: 8}
  );
});

test("purchasePlan: a best split never beats the same question with one limit lifted, nor one with a supplier more", () => {
  fc.assert(
    fc.property(twoSuppliers, (input) => {
      const bestProfit = purchasePlan(input).best.profit;
      const {budget, ...unbudgeted} = input;
      const third = {supplier: "C", alpha: 5, beta: 2, unitCost: 21, available: 16};
      const lifted: PlanInput[] = [
        unbudgeted,
        {...input, budget: 1.5 * budget!},
        {...input, offers: input.offers.map((offer) => ({...offer, minimum: 0}))},
        {...input, offers: input.offers.map((offer) => ({...offer, available: 25}))}
      ];
      for (const relaxed of lifted) {
        expect(purchasePlan(relaxed).best.profit).toBeGreaterThanOrEqual(bestProfit - 1e-6);
      }
      // Of three there are more purchases than are gone through one by one: the search promises to come within 1 % of the best.
      const more = purchasePlan({...input, offers: [...input.offers, third]}).best.profit;
      expect(more).toBeGreaterThanOrEqual(bestProfit - 0.01 * Math.abs(bestProfit));
    }),
    {numRuns: 12}
  );
});

test("purchasePlan: the order of suppliers does not matter", () => {
  fc.assert(
    fc.property(twoSuppliers, (input) => {
      const turned = {...input, offers: [...input.offers].reverse()};
      expect(purchasePlan(turned).best.profit).toBeCloseTo(purchasePlan(input).best.profit, 6);
    }),
    {numRuns: 12}
  );
});

// With a yield that is certain (a very narrow Beta) the usable count is binomial, and a window share only scales its
// chance: a share of ½ on a yield of 0.8 is a yield of 0.4.
test("purchasePlan: a window share thins what is finished; 1 is the same as none", () => {
  const offer = base.offers[0]!;
  const at = (change: Partial<PlanInput["offers"][number]>) =>
    purchaseOutcome({...base, offers: [{...offer, ...change}]}, {orders: [{supplier: offer.supplier, squares: 20}]});
  expect(at({windowShare: 1})).toEqual(at({}));
  const sure = 1e9;
  const thinned = at({alpha: 0.8 * sure, beta: 0.2 * sure, windowShare: 0.5});
  expect(thinned.profit).toBeCloseTo(at({alpha: 0.4 * sure, beta: 0.6 * sure}).profit, 4);
  expect(at({windowShare: 0.5}).service).toBeLessThan(at({}).service);
});

test("purchasePlan(window share of 0, or in percent) is refused", () => {
  for (const windowShare of [0, 63]) {
    expect(() => purchasePlan({...base, offers: [{...base.offers[0]!, windowShare}]})).toThrow(
      `seasonPlan: windowShare must be above 0 and at most 1, got ${windowShare}.`
    );
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

test("bestPurchase is the plan's best", () => {
  expect(bestPurchase(base)).toEqual(purchasePlan(base).best);
});

test("purchasePlan(leftover worth more than it costs) is refused, with the cost", () => {
  const money = {...base.money, leftoverValue: 40};
  expect(() => purchasePlan({...base, money})).toThrow(
    "seasonPlan: leftoverValue must be less than the 33.33 a usable shaft from Only Yard costs, got 40."
  );
});

test("purchasePlan(no offers) is refused", () => {
  expect(() => purchasePlan({...base, offers: []})).toThrow("seasonPlan: offers must be at least one supplier");
});

// A lot's share ~ Beta(6, 4): mean 0.6, variance 0.24/11. Forty squares in lots of ten with nothing in common have a share of a quarter of that
// variance: Beta with M + 1 = 44. With all of it in common they are as one lot.
test("purchasePlan with a lot size spreads a large purchase over lots; what is in doubt stays common to them", () => {
  const base = {
    finished: 0,
    pipeline: [],
    demand: {mean: 20, size: 9},
    money: {price: 140, shortageCost: 20, leftoverValue: 10}
  };
  const offer = {supplier: "A", alpha: 6, beta: 4, unitCost: 15, available: 60};
  const at = (squares: number, offers: readonly Offer[]) =>
    purchaseOutcome({...base, offers}, {orders: [{supplier: "A", squares}]}).profit;
  const lots = [{...offer, lotSize: 10}];
  expect(at(40, lots)).toBeCloseTo(at(40, [{...offer, alpha: 0.6 * 43, beta: 0.4 * 43}]), 9);
  expect(at(10, lots)).toBeCloseTo(at(10, [offer]), 9);
  expect(at(40, [{...offer, lotSize: 10, doubt: 0.24 / 11}])).toBeCloseTo(at(40, [offer]), 6);
  expect(at(40, lots)).toBeGreaterThan(at(40, [offer]));
});

test("purchasePlan refuses a supplier named twice, a lot of no squares and more doubt than there is variance", () => {
  const base = {
    finished: 0,
    pipeline: [],
    demand: {mean: 20},
    money: {price: 140, shortageCost: 20, leftoverValue: 10}
  };
  const offer = {supplier: "A", alpha: 6, beta: 4, unitCost: 15};
  expect(() => purchasePlan({...base, offers: [offer, offer]})).toThrow(
    new RangeError('seasonPlan: offers must be of each supplier once, got "A, A".')
  );
  expect(() => purchasePlan({...base, offers: [{...offer, lotSize: 0}]})).toThrow(
    "seasonPlan: lotSize must be positive, got 0."
  );
  expect(() => purchasePlan({...base, offers: [{...offer, doubt: 0.03}]})).toThrow(
    "seasonPlan: doubt must be 0 to the lot's variance"
  );
});
