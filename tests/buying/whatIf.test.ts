import fc from "fast-check";
import {expect, test} from "vitest";
import {changedNeed} from "../../lib/buying/changedNeed.ts";
import type {Need} from "../../lib/buying/outcomes.ts";
import {planner, seasonPlan} from "../../lib/buying/seasonPlan.ts";
import {
  baseState,
  changedInput,
  leastLots,
  parseState,
  stateText,
  type WhatIfBase,
  type WhatIfState,
  whatIfAnswer
} from "../../lib/buying/whatIf.ts";
import {purchaseProfit} from "./purchaseProfit.ts";

const need = (mean: number, offers: Need["offers"]): Need => ({
  finished: 1,
  pipeline: [{n: 3, alpha: 7, beta: 3}],
  demand: {mean, size: 4},
  offers,
  money: {price: 120, shortageCost: 15, leftoverValue: 5}
});
const offer = (supplier: string, unitCost: number, minimum = 0) => ({
  supplier,
  alpha: 6,
  beta: 4,
  unitCost,
  available: 12,
  minimum
});
const base: WhatIfBase = {
  input: {
    needs: [need(9, [offer("Quince & Sons", 20, 2), offer("B=C.D", 18)]), need(5, [offer("Quince & Sons", 22, 3)])],
    tripCosts: {"Quince & Sons": 12, "B=C.D": 30}
  },
  species: ["ash", "Å.lder"],
  serviceGoal: 0.9
};
const state = (more: Partial<WhatIfState> = {}): WhatIfState => ({...baseState(base), ...more});
const none = {demandPct: 0, usablePct: 0, shaftPricePct: 0, squareCostPct: 0};

test("baseState: changes nothing, so its answer is the season's plan, and its text is empty", () => {
  expect(changedInput(base.input, baseState(base))).toEqual(base.input);
  const answer = whatIfAnswer(base, baseState(base))!;
  expect(answer.plan).toEqual(seasonPlan(base.input));
  expect(answer.keptProfit).toBeCloseTo(answer.plan.profit, 9);
  const made = planner(base.input);
  const again = whatIfAnswer(base, baseState(base), undefined, made)!;
  expect(again).toEqual(answer);
  expect(again.plan).toBe(made.plan());
  expect(stateText(base, baseState(base))).toBe("");
  expect(parseState(base, "")).toEqual(baseState(base));
});

test("changedInput: percents by species, a budget for all, a least lot for every species of its supplier", () => {
  const changes = [
    {...none, demandPct: 50, shaftPricePct: -10},
    {...none, usablePct: 20, squareCostPct: 25}
  ];
  const {needs, budget, tripCosts} = changedInput(
    base.input,
    state({changes, budget: 300, least: {"Quince & Sons": 7}})
  );
  const [ash, alder] = needs as [Need, Need];
  expect(ash.demand.mean).toBeCloseTo(13.5, 12);
  expect(ash.money.price).toBeCloseTo(108, 12);
  expect(ash.offers.map(({minimum}) => minimum)).toEqual([7, 0]);
  expect(alder.offers[0]).toMatchObject({unitCost: 27.5, minimum: 7});
  expect(alder.offers[0]!.alpha / 10).toBeCloseTo(0.72, 12);
  expect(alder.pipeline[0]!.alpha / 10).toBeCloseTo(0.84, 12);
  expect({budget, tripCosts}).toEqual({budget: 300, tripCosts: base.input.tripCosts});
  expect(changedInput({...base.input, budget: 5}, state()).budget).toBeUndefined();
});

// Every purchase of two species from one supplier each, one after the other.
test("whatIfAnswer: the plan for changed inputs is the best of all purchases, and keeping to the old one earns what it earns", () => {
  const one: WhatIfBase = {
    ...base,
    input: {...base.input, needs: [need(9, [offer("A", 20, 2)]), need(5, [offer("A", 22, 3)])], tripCosts: {A: 12}}
  };
  const printed = seasonPlan(one.input);
  const changes = [
    {...none, demandPct: -40},
    {...none, squareCostPct: 30}
  ];
  const answer = whatIfAnswer(one, {...baseState(one), changes}, printed)!;
  const changed = [
    changedNeed(one.input.needs[0]!, {demand: 0.6}),
    changedNeed(one.input.needs[1]!, {squareCost: 1.3})
  ];
  const profitOf = (numbers: readonly number[]) =>
    changed.reduce(
      (sum, each, s) => sum + purchaseProfit({need: each}, {orders: [{supplier: "A", squares: numbers[s]!}]}),
      numbers.some((q) => q > 0) ? -12 : 0
    );
  let most = Number.NEGATIVE_INFINITY;
  for (const a of [0, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12])
    for (const b of [0, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]) most = Math.max(most, profitOf([a, b]));
  expect(answer.plan.profit).toBeCloseTo(most, 8);
  expect(answer.keptProfit).toBeCloseTo(profitOf(printed.purchases.map(({squares}) => squares)), 8);
  expect(answer.keptProfit).toBeLessThan(most);
});

test("whatIfAnswer: a purchase that the new limits forbid is not compared; senseless money has no answer", () => {
  const printed = seasonPlan(base.input);
  expect(printed.cost).toBeGreaterThan(100);
  expect(whatIfAnswer(base, state({budget: 100}), printed)).not.toHaveProperty("keptProfit");
  expect(whatIfAnswer(base, state({least: {"B=C.D": 13, "Quince & Sons": 13}}), printed)).not.toHaveProperty(
    "keptProfit"
  );
  expect(whatIfAnswer(base, state({changes: [{...none, squareCostPct: -90}, none]}))).toBeUndefined();
});

test("stateText: what is changed and no more, names written so that a link holds them", () => {
  expect(leastLots(base.input)).toEqual({"B=C.D": 0, "Quince & Sons": 3});
  const changes = [
    {...none, demandPct: 10},
    {...none, usablePct: -5}
  ];
  expect(
    stateText(base, state({changes, serviceGoalPct: 97.5, budget: 900, least: {"Quince & Sons": 8, "B=C.D": 0}}))
  ).toBe("demand.ash=10&usable.%C3%85.lder=-5&goal=97.5&budget=900&least.Quince%20%26%20Sons=8");
  const limited = {...base, input: {...base.input, budget: 500}};
  const {budget: _, ...open} = baseState(limited);
  expect(stateText(limited, open)).toBe("budget=none");
  expect(parseState(limited, "budget=none")).toEqual(open);
});

test("parseState reads what stateText writes", () => {
  const pct = fc.integer({min: -90, max: 200});
  const change = fc.record({demandPct: pct, usablePct: pct, shaftPricePct: pct, squareCostPct: pct});
  const any = fc.record(
    {
      changes: fc.tuple(change, change),
      serviceGoalPct: fc.integer({min: 10, max: 999}).map((n) => n / 10),
      budget: fc.integer({min: 0, max: 1e8}),
      // Another number than the book's: those that are the book's are no change.
      least: fc.record(
        {"Quince & Sons": fc.integer({min: 4, max: 10_000}), "B=C.D": fc.integer({min: 1, max: 10_000})},
        {requiredKeys: []}
      )
    },
    {requiredKeys: ["changes", "serviceGoalPct", "least"]}
  );
  fc.assert(
    fc.property(any, (one) => {
      const least = Object.fromEntries(Object.entries(one.least));
      expect(parseState(base, stateText(base, one as WhatIfState))).toEqual({...one, least});
    })
  );
});

test.each([
  ["demand.oak=10", "one that this plan knows, like demand.ash=10"],
  ["demand=10", "one that this plan knows"],
  ["least.toString=10", "one that this plan knows"],
  ["colour=red", "one that this plan knows"],
  ["demand.ash", "one that this plan knows"],
  ["demand.ash=201", "a whole number from -90 to 200"],
  ["demand.ash=-91", "a whole number from -90 to 200"],
  ["demand.ash=1.5", "a whole number from -90 to 200"],
  ["demand.ash=1e2", "a whole number from -90 to 200"],
  ["demand.ash=", "a whole number from -90 to 200"],
  ["goal=100", "a number with at most one decimal from 1 to 99.9"],
  ["budget=-1", "a whole number from 0"],
  ["least.B%3DC.D=NaN", "a whole number from 0 to 10000"],
  ["demand.%E0%A4%A=5", "one that this plan knows"],
  ["goal=90&goal=95", "given once"],
  ["&", "one that this plan knows"]
])("parseState(%s) is refused", (text, rule) => {
  expect(() => parseState(base, text)).toThrow(`what-if: a part of the link must be ${rule}`);
});
