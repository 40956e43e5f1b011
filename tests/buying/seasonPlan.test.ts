import fc from "fast-check";
import {expect, test} from "vitest";
import {costEach, type Need, outcomes} from "../../lib/buying/outcomes.ts";
import {planCurve} from "../../lib/buying/purchasePlan.ts";
import {planner, type SeasonInput, seasonPlan} from "../../lib/buying/seasonPlan.ts";

const money = {price: 120, shortageCost: 15, leftoverValue: 5};
const offer = (supplier: string, share: number, unitCost: number, more = {}) => ({
  supplier,
  alpha: 12 * share,
  beta: 12 * (1 - share),
  unitCost,
  available: 8,
  ...more
});
const need = (mean: number, offers: Need["offers"]): Need => ({
  finished: 1,
  pipeline: [],
  demand: {mean, size: 4},
  offers,
  money
});

/** Every purchase within the limits, one after the other, by the rule alone: the highest profit there is. */
function byEnumeration({needs, tripCosts = {}, budget = 1e9, trips = 99}: SeasonInput): number {
  const models = needs.map((one) =>
    outcomes(
      one,
      one.offers.map(({available = 100}) => available)
    )
  );
  const places = needs.flatMap(({offers}, s) => offers.map((one) => ({s, one})));
  let highest = Number.NEGATIVE_INFINITY;
  const numbers: number[] = [];
  const visit = (): void => {
    if (numbers.length < places.length) {
      const {minimum = 0, available = 100} = places[numbers.length]!.one;
      for (let q = 0; q <= available; q++)
        if (q === 0 || q >= minimum) {
          numbers.push(q);
          visit();
          numbers.pop();
        }
      return;
    }
    const bought = places.filter((_, k) => numbers[k]! > 0).map(({one}) => one.supplier);
    const visited = [...new Set(bought)];
    const paid = places.map(({one}, k) => numbers[k]! * costEach(one, numbers[k]!)).reduce((a, b) => a + b, 0);
    const trip = visited.map((name) => tripCosts[name] ?? 0).reduce((a, b) => a + b, 0);
    if (visited.length > trips || paid + trip > budget) return;
    const profits = needs.map((_, s) => models[s]!.exact(numbers.filter((_, k) => places[k]!.s === s)).profit);
    highest = Math.max(highest, profits.reduce((a, b) => a + b, 0) - trip);
  };
  visit();
  return highest;
}

const share = fc.integer({min: 30, max: 90}).map((n) => n / 100);
const cost = fc.integer({min: 10, max: 60});
const someOffer = (supplier: string) =>
  fc
    .tuple(share, cost, fc.integer({min: 0, max: 5}), fc.boolean(), fc.integer({min: 0, max: 20}))
    .map(([p, c, minimum, breaks, common]) =>
      offer(supplier, p, c, {
        minimum,
        common: common / 100,
        ...(breaks && {priceBreaks: [{from: 6, unitCost: 0.8 * c}]})
      })
    );
const someSeason: fc.Arbitrary<SeasonInput> = fc
  .record({
    ash: fc.tuple(someOffer("A"), someOffer("B")),
    maple: fc.tuple(someOffer("A"), someOffer("C")),
    wanted: fc.tuple(fc.integer({min: 1, max: 14}), fc.integer({min: 1, max: 9})),
    budget: fc.integer({min: 0, max: 600}),
    trips: fc.integer({min: 0, max: 3}),
    trip: fc.tuple(fc.integer({min: 0, max: 80}), fc.integer({min: 0, max: 80}), fc.integer({min: 0, max: 80}))
  })
  .map(({ash, maple, wanted, budget, trips, trip: [A, B, C]}) => ({
    needs: [need(wanted[0], ash), need(wanted[1], maple)],
    tripCosts: {A, B, C},
    budget,
    trips
  }));

test("seasonPlan: within one percent of full enumeration under budget, trips, least lots and price breaks, 4 of 5 times the best, never above", () => {
  let [found, tried] = [0, 0];
  fc.assert(
    fc.property(someSeason, (input) => {
      const [plan, highest] = [seasonPlan(input), byEnumeration(input)];
      tried++;
      if (plan.profit > highest - 1e-6) found++;
      expect(plan.profit).toBeLessThan(highest + 1e-6);
      expect(plan.profit).toBeGreaterThan(highest - 0.01 * Math.max(100, Math.abs(highest)));
      expect(plan.profitAtMost).toBeGreaterThan(highest - 1e-6);
      expect(plan.cost).toBeLessThanOrEqual((input.budget ?? 0) + 1e-9);
      expect(plan.visits.length).toBeLessThanOrEqual(input.trips!);
    }),
    {numRuns: 60, seed: 8}
  );
  expect(found).toBeGreaterThanOrEqual(0.8 * tried);
});

test("seasonPlan: where few purchases can be made all are tried, and the best is proven", () => {
  const input = {needs: [need(10, [offer("A", 0.6, 20), offer("B", 0.7, 30, {minimum: 4})])], tripCosts: {A: 30, B: 5}};
  const plan = seasonPlan(input);
  expect(plan.isProven).toBe(true);
  expect(plan.profit).toBeCloseTo(byEnumeration(input), 9);
  expect(plan.profitAtMost).toBe(plan.profit);
});

// Two species of one supplier share the trip: 60 for each alone is more than either earns, 60 for both is not.
test("seasonPlan: one trip brings both species home and is paid once", () => {
  const small = [need(1, [offer("A", 0.8, 20)]), need(1, [offer("A", 0.8, 20)])];
  const alone = seasonPlan({needs: [small[0]!]}).profit - seasonPlan({needs: [small[0]!], trips: 0}).profit;
  const tripCosts = {A: 1.5 * alone};
  expect(seasonPlan({needs: [small[0]!], tripCosts}).visits).toEqual([]);
  const both = seasonPlan({needs: small, tripCosts});
  expect(both.visits).toEqual(["A"]);
  expect(both.tripCost).toBe(tripCosts.A);
  expect(both.purchases.every(({squares}) => squares > 0)).toBe(true);
});

test("seasonPlan takes a price break that is worth more squares, and counts its price for all of them", () => {
  const plain = seasonPlan({needs: [need(5, [offer("A", 0.6, 30, {available: 20})])]}).purchases[0]!;
  const from = plain.squares + 1;
  const cheap = seasonPlan({
    needs: [need(5, [offer("A", 0.6, 30, {available: 20, priceBreaks: [{from, unitCost: 20}]})])]
  }).purchases[0]!;
  expect(cheap.squares).toBeGreaterThanOrEqual(from);
  expect(cheap.cost).toBe(20 * cheap.squares);
});

test("planner: the path goes from none through the plan's purchase to all that can be had, keeping least lots", () => {
  const input = {needs: [need(10, [offer("A", 0.6, 20), offer("B", 0.7, 30, {minimum: 4}), offer("C", 0.5, 16)])]};
  const made = planner(input);
  const plan = made.plan();
  const path = made.path(0, plan);
  expect(path[0]).toEqual([0, 0, 0]);
  expect(path.at(-1)).toEqual([8, 8, 8]);
  expect(path.every(([, b]) => b === 0 || b! >= 4)).toBe(true);
  expect(path.map((split) => made.purchase(0, split)).some(({profit}) => profit === plan.profit)).toBe(true);
});

test("seasonPlan refuses senseless money, a negative budget and price breaks out of order, with a sentence", () => {
  const one = need(5, [offer("A", 0.5, 8)]);
  expect(() => seasonPlan({needs: [{...one, money: {...money, leftoverValue: 16}}]})).toThrow(
    "seasonPlan: leftoverValue must be less than the 16.00 a usable shaft from A costs, got 16."
  );
  expect(() => seasonPlan({needs: [one], budget: -1})).toThrow("seasonPlan: budget must be 0 or more, got -1.");
  expect(() => seasonPlan({needs: []})).toThrow("seasonPlan: needs must be at least one, got");
  const priceBreaks = [
    {from: 5, unitCost: 7},
    {from: 5, unitCost: 6}
  ];
  expect(() => seasonPlan({needs: [need(5, [offer("A", 0.5, 8, {priceBreaks})])]})).toThrow(
    "price breaks of A must be numbers of squares, fewest first"
  );
});

// Two suppliers of which one can be visited: a row with both would be two trips.
test("planCurve keeps to the trips and takes each trip off that no other need pays for", () => {
  const big = {available: 60};
  const needs = [need(150, [offer("A", 0.7, 20, big), offer("B", 0.6, 20, big)])];
  const made = planner({needs, trips: 1, tripCosts: {A: 50, B: 50}});
  const plan = made.plan();
  const curve = planCurve(made, plan, 0);
  expect(curve.curve.every(({orders}) => orders.length <= 1)).toBe(true);
  expect(curve.best.profit).toBeCloseTo(plan.profit, 9);
  expect(Math.max(...curve.curve.map(({profit}) => profit))).toBeLessThanOrEqual(curve.best.profit + 1e-9);
  const free = planner({needs, trips: 1, tripCosts: {A: 50, B: 50}, visitedAnyway: ["A", "B"]}).plan();
  expect(free.visits).toEqual(["A", "B"]);
  expect(free.tripCost).toBe(0);
});

test("seasonPlan: with more than ten suppliers and a budget the bound still lies above what can be earned", () => {
  const offers = Array.from({length: 11}, (_, i) => offer(`S${i}`, 0.6, 20 + i, {available: 20}));
  const tripCosts = Object.fromEntries(offers.map(({supplier}) => [supplier, 100]));
  const plan = seasonPlan({needs: [need(60, offers)], tripCosts, budget: 1200});
  expect(plan.profit).toBeGreaterThan(seasonPlan({needs: [need(60, offers)], trips: 0}).profit);
  expect(plan.profitAtMost).toBeGreaterThan(plan.profit);
});
