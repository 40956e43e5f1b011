import {type Need, outcomes, type Split, splitOf} from "./outcomes.ts";
import {type Planner, type Purchase, planner, type SeasonPlan} from "./seasonPlan.ts";

/** One species' plan with limits of its own. */
export interface PlanInput extends Need {
  /** Most squares looked at, of one supplier. */
  upTo?: number;
  /** Most money for squares. */
  budget?: number;
}

/** A way to buy a number of squares, and what to expect of it. */
export type PlanRow = Purchase;

export interface PurchasePlan {
  /** One row for each number of squares looked at, fewest first. */
  curve: PlanRow[];
  best: PlanRow;
  /** The numbers of squares whose profit is within 1 % of the best: from the curve, its ends found to the square. */
  band: {from: number; to: number};
  /** The smallest number with the wanted chance that every order can be served, undefined when none reaches it. */
  forService?: number;
  serviceGoal: number;
}

/**
 * How many squares of one species to buy, and of whom: the expected profit by number, by exact convolution; no random numbers. `seasonPlan`
 * tells how the best is found; the curve goes from none through the best to all that can be had, each further square from where it adds most.
 * A split pays because lots fail independently.
 *
 * Range: a leftover must be worth less than a usable square costs, else there is no best number (refused).
 * Checked: tests/reference/purchasePlan.test.ts (R by full enumeration, and exact fractions)
 *
 * @param options.finest the curve has about so many numbers at most; below that every number
 * @throws RangeError when leftovers are worth more than a usable square costs, a window share is not one, or no offer is given
 */
export function purchasePlan(input: PlanInput, {serviceGoal = 0.9, finest = 120} = {}): PurchasePlan {
  const {budget} = input;
  const made = planner({needs: [limited(input)], ...(budget !== undefined && {budget})});
  return planCurve(made, made.plan(), 0, {serviceGoal, finest});
}

/**
 * The curve of one need of a season's plan: profit, service, shortage and leftover by number of squares, about what the plan buys, the other
 * needs' purchases as the plan has them. Trips that no other need pays for are taken off the profit; the limits of the plan hold.
 */
export function planCurve(
  {path, purchase, beside}: Planner,
  season: SeasonPlan,
  need: number,
  {serviceGoal = 0.9, finest = 120} = {}
): PurchasePlan {
  const numberOf = (split: Split) => split.reduce((a, b) => a + b, 0);
  const trips = beside(need, season);
  const splits = path(need, season).filter((split) => trips(split).isAllowed);
  const rowAt = (k: number): PlanRow => {
    const row = purchase(need, splits[k]!);
    return {...row, profit: row.profit - trips(splits[k]!).tripCost};
  };
  const at = splits.findIndex((split) => numberOf(split) === season.purchases[need]!.squares);
  const best = rowAt(at);
  const block = Math.max(1, Math.ceil(numberOf(splits.at(-1)!) / finest));
  let before = Number.NEGATIVE_INFINITY;
  const marks = splits.flatMap((split, k) => {
    const number = numberOf(split);
    const isMark = number === best.squares || number - before >= block || k === splits.length - 1;
    if (isMark) before = number;
    return isMark ? [k] : [];
  });
  const edge = best.profit - 0.01 * Math.abs(best.profit);
  const isNear = (k: number) => rowAt(k).profit >= edge;
  const near = marks.filter(isNear);
  const from = firstTrue(isNear, Math.max(-1, ...marks.filter((k) => k < (near[0] ?? at))), near[0] ?? at);
  const beyond = marks.find((k) => k > (near.at(-1) ?? at)) ?? splits.length;
  const to = firstTrue((k) => !isNear(k), near.at(-1) ?? at, beyond) - 1;
  const reaches = (k: number) => rowAt(k).service >= serviceGoal - 1e-12;
  const enough = marks.find(reaches);
  const forService =
    enough === undefined ? undefined : firstTrue(reaches, Math.max(-1, ...marks.filter((k) => k < enough)), enough);
  const named = [...marks, from, to, ...(forService === undefined ? [] : [forService])];
  const curve = [...new Set(named)].sort((a, b) => a - b).map(rowAt);
  return {
    curve,
    best,
    band: {from: numberOf(splits[from]!), to: numberOf(splits[to]!)},
    serviceGoal,
    ...(forService !== undefined && {forService: numberOf(splits[forService]!)})
  };
}

/** The first of low + 1 … high for which it holds; it holds at high, and once it holds it goes on. */
function firstTrue(holds: (k: number) => boolean, low: number, high: number): number {
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** The exact outcome of a purchase as it stands, by the inputs given. */
export function purchaseOutcome(input: PlanInput, {orders}: Pick<PlanRow, "orders">): PlanRow {
  const split = splitOf(input.offers, orders);
  return {
    squares: split.reduce((a, b) => a + b, 0),
    orders: orders.filter(({squares}) => squares > 0),
    ...outcomes(input, split).exact(split)
  };
}

/** The best purchase, without the curve. */
export function bestPurchase(input: PlanInput): PlanRow {
  const {budget} = input;
  return planner({needs: [limited(input)], ...(budget !== undefined && {budget})}).plan().purchases[0]!;
}

function limited({upTo = Number.POSITIVE_INFINITY, ...need}: PlanInput): Need {
  return {...need, offers: need.offers.map((offer) => ({...offer, available: Math.min(offer.available ?? 100, upTo)}))};
}
