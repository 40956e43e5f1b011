import {check} from "../check.ts";
import {changedNeed, isSensible} from "./changedNeed.ts";
import {type Offer, splitOf} from "./outcomes.ts";
import {type PurchasePlan, planCurve} from "./purchasePlan.ts";
import {type Planner, planner, type SeasonInput, type SeasonPlan} from "./seasonPlan.ts";

/** The season's plan as the book gives it, which a what-if starts from. */
export interface WhatIfBase {
  input: SeasonInput;
  /** Names of the species, in the order of the needs. */
  species: readonly string[];
  /** Wanted chance that every order can be served, fraction of 1. */
  serviceGoal: number;
}

/** Percent more or less than the book says; 0 for as it is. */
export interface WhatIfChange {
  demandPct: number;
  usablePct: number;
  shaftPricePct: number;
  squareCostPct: number;
}

/** Other inputs to look at. */
export interface WhatIfState {
  /** In the order of the needs. */
  changes: readonly WhatIfChange[];
  serviceGoalPct: number;
  /** Most money for squares, their work and the trips; without it there is no limit. */
  budget?: number;
  /** Fewest squares of a species that a supplier sells, where it is another number than the book's. */
  least: Readonly<Record<string, number>>;
}

/** What can be set, with its word in a link and its range. */
export const whatIfFields = [
  {key: "demandPct", word: "demand"},
  {key: "usablePct", word: "usable"},
  {key: "shaftPricePct", word: "price"},
  {key: "squareCostPct", word: "cost"}
] as const;

/** Lowest and highest value of each kind of input; a goal may have tenths, the others are whole. */
export const whatIfRanges = {
  pct: {low: -90, high: 200},
  goal: {low: 1, high: 99.9},
  budget: {low: 0, high: 100_000_000},
  least: {low: 0, high: 10_000}
} as const;

/** Numbers on a curve of a what-if. */
const finest = 30;

const unchanged: WhatIfChange = {demandPct: 0, usablePct: 0, shaftPricePct: 0, squareCostPct: 0};

/** The state in which nothing is changed. */
export function baseState({input, species, serviceGoal}: WhatIfBase): WhatIfState {
  return {
    changes: species.map(() => unchanged),
    serviceGoalPct: Math.round(1000 * serviceGoal) / 10,
    ...(input.budget !== undefined && {budget: input.budget}),
    least: {}
  };
}

/** The least lot of each supplier as the book has it, by name; 0 where there is none. */
export function leastLots({needs}: SeasonInput): Record<string, number> {
  const least: Record<string, number> = {};
  const offers = needs.flatMap((need) => need.offers).sort((a, b) => (a.supplier < b.supplier ? -1 : 1));
  for (const {supplier, minimum = 0} of offers) least[supplier] = Math.max(least[supplier] ?? 0, minimum);
  return least;
}

/** The plan's input with the changes of a state; with none of them it is the same input. */
export function changedInput(
  {budget: _, needs, ...input}: SeasonInput,
  {changes, budget, least}: WhatIfState
): SeasonInput {
  const withLeast = (offer: Offer): Offer =>
    Object.hasOwn(least, offer.supplier) ? {...offer, minimum: least[offer.supplier]!} : offer;
  return {
    ...input,
    needs: needs.map((need, s) => {
      const {demandPct, usablePct, shaftPricePct, squareCostPct} = changes[s]!;
      const changed = changedNeed(need, {
        demand: 1 + demandPct / 100,
        usable: 1 + usablePct / 100,
        shaftPrice: 1 + shaftPricePct / 100,
        squareCost: 1 + squareCostPct / 100
      });
      return {...changed, offers: changed.offers.map(withLeast)};
    }),
    ...(budget !== undefined && {budget})
  };
}

/** The plan for a state, the curve of each need, and what keeping to another purchase would then earn. */
export interface WhatIfAnswer {
  plan: SeasonPlan;
  /** In the order of the needs. */
  curves: PurchasePlan[];
  /** Profit of the plan as printed under the state's inputs, trips paid; undefined where a limit forbids that purchase. */
  keptProfit?: number;
}

/**
 * The plan of a season with other inputs, by the same search as the plan itself; the curve of each need is drawn with the money that the
 * others leave.
 *
 * Checked: tests/buying/whatIf.test.ts
 *
 * @param printed the plan to compare with; the plan itself unless given
 * @param known what the plan of the state was looked for with, where it is made already
 * @returns undefined where there is no best number: a leftover would be worth as much as a usable square costs, or more
 */
export function whatIfAnswer(
  base: WhatIfBase,
  state: WhatIfState,
  printed?: SeasonPlan,
  known?: Planner
): WhatIfAnswer | undefined {
  const input = changedInput(base.input, state);
  if (!input.needs.every(isSensible)) return undefined;
  const {budget} = input;
  const made = known ?? planner(input);
  const plan = made.plan();
  const curves = input.needs.map((_, s) => planCurve(made, plan, s, {serviceGoal: state.serviceGoalPct / 100, finest}));
  const kept = (printed ?? plan).purchases.map(({orders}, s) => {
    const {offers} = input.needs[s]!;
    const split = splitOf(offers, orders);
    const isAllowed = offers.every(({minimum = 0}, i) => split[i] === 0 || split[i]! >= minimum);
    return {...made.purchase(s, split), isAllowed};
  });
  const {tripCost} = printed ?? plan;
  const cost = kept.reduce((sum, one) => sum + one.cost, tripCost);
  const isAllowed = kept.every((one) => one.isAllowed) && cost <= (budget ?? Number.POSITIVE_INFINITY) + 1e-9;
  return {
    plan,
    curves,
    ...(isAllowed && {keptProfit: kept.reduce((sum, {profit}) => sum + profit, -tripCost)})
  };
}

/**
 * What of a state differs from the book, as text for a link: "demand.ash=10&goal=95&least.Fennaby%20Yard=40"; "" where nothing does.
 * `parseState` reads it.
 */
export function stateText(base: WhatIfBase, {changes, serviceGoalPct, budget, least}: WhatIfState): string {
  const first = baseState(base);
  const own = leastLots(base.input);
  return [
    ...base.species.flatMap((species, s) =>
      whatIfFields.flatMap(({key, word}) =>
        changes[s]![key] === 0 ? [] : [`${word}.${encodeURIComponent(species)}=${changes[s]![key]}`]
      )
    ),
    ...(serviceGoalPct === first.serviceGoalPct ? [] : [`goal=${serviceGoalPct}`]),
    ...(budget === first.budget ? [] : [`budget=${budget ?? "none"}`]),
    ...Object.keys(own).flatMap((supplier) =>
      least[supplier] === undefined || least[supplier] === own[supplier]
        ? []
        : [`least.${encodeURIComponent(supplier)}=${least[supplier]}`]
    )
  ].join("&");
}

/**
 * A state from the text of a link, as `stateText` writes it.
 *
 * @throws RangeError when a part is not known to this plan, is given twice, or its number is out of range
 */
export function parseState(base: WhatIfBase, text: string): WhatIfState {
  const state = baseState(base);
  const changes = state.changes.map((change) => ({...change}));
  const least: Record<string, number> = {};
  let {serviceGoalPct, budget} = state;
  const own = leastLots(base.input);
  const seen = new Set<string>();
  for (const part of text === "" ? [] : text.split("&")) {
    const [, word = "", about = "", value = ""] = /^([a-z]+)(?:\.([^=]*))?=(.*)$/.exec(part) ?? [];
    const name = decoded(about);
    check(!seen.has(`${word} ${name}`), "what-if: a part of the link", "given once", part);
    seen.add(`${word} ${name}`);
    const field = whatIfFields.find((one) => one.word === word);
    const s = base.species.indexOf(name);
    if (field && s >= 0) changes[s]![field.key] = numberOf(part, value, whatIfRanges.pct);
    else if (word === "goal" && about === "") serviceGoalPct = numberOf(part, value, whatIfRanges.goal, 10);
    else if (word === "budget" && about === "")
      budget = value === "none" ? undefined : numberOf(part, value, whatIfRanges.budget);
    else if (word === "least" && Object.hasOwn(own, name)) least[name] = numberOf(part, value, whatIfRanges.least);
    else
      check(false, "what-if: a part of the link", `one that this plan knows, like demand.${base.species[0]}=10`, part);
  }
  return {changes, serviceGoalPct, least, ...(budget !== undefined && {budget})};
}

/** A number of a link, checked: 1/parts is the finest step. */
function numberOf(part: string, text: string, {low, high}: {low: number; high: number}, parts = 1): number {
  const value = /^-?\d{1,9}(\.\d)?$/.test(text) ? Number(text) : Number.NaN;
  const isStep = Math.abs(value * parts - Math.round(value * parts)) < 1e-9;
  const wanted = `${parts === 1 ? "a whole number" : "a number with at most one decimal"} from ${low} to ${high}`;
  check(isStep && value >= low && value <= high, "what-if: a part of the link", wanted, part);
  return value || 0;
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
