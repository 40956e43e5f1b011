import {check} from "../check.ts";

/** What the shafts of one species earn and cost, in the book's currency. */
export interface PlanMoney {
  /** Price of a shaft sold. */
  price: number;
  /** What a shaft not delivered costs beyond the lost sale. */
  shortageCost: number;
  /** What a shaft left over at the season's end is worth. */
  leftoverValue: number;
}

/** What to expect of one purchase. */
export interface PlanOutcome {
  profit: number;
  /** Chance that every order can be served. */
  service: number;
  /** Share of the shafts wanted that can be delivered. */
  fillRate: number;
  expectedShort: number;
  expectedLeftover: number;
}

/** Demand as the functions that planning needs, by whole shafts. */
export interface DemandCurve {
  mean: number;
  /** P(D ≤ s), s = 0, 1, … */
  atMost: number[];
  /** E min(D, s) = Σ P(D > j) over j < s. */
  served: number[];
}

/**
 * The demand functions from a probability mass; demand beyond its end counts as more than any supply looked at.
 *
 * @param pmf P(D = j) for j = 0 … at least the largest supply
 */
export function demandCurve(pmf: readonly number[], mean: number): DemandCurve {
  const atMost: number[] = [];
  const served = [0];
  let total = 0;
  for (const p of pmf) {
    total += p;
    atMost.push(Math.min(1, total));
    served.push(served.at(-1)! + Math.max(0, 1 - total));
  }
  return {mean, atMost, served};
}

/**
 * The expected outcome of a season, exactly, from the distribution of supply:
 *
 *   profit = p · E min(D, S) + v · E (S − D)⁺ − s · E (D − S)⁺ − cost
 *
 * D demand, S supply, p price, v value of a leftover, s cost of a shortage.
 * Checked: tests/reference/purchasePlan.test.ts (R by full enumeration, and exact fractions)
 *
 * @param supply P(S = from + k) for k = 0, 1, …; the demand curve must reach as far
 * @param cost money spent on this purchase
 */
export function planOutcome(
  supply: ArrayLike<number>,
  demand: DemandCurve,
  money: PlanMoney,
  cost: number,
  from = 0
): PlanOutcome {
  check(
    from + supply.length <= demand.atMost.length,
    "planOutcome: supply",
    `no longer than the demand curve (${demand.atMost.length})`,
    from + supply.length
  );
  let [sold, available, service] = [0, 0, 0];
  for (let k = 0; k < supply.length; k++) {
    const [p, s] = [supply[k]!, from + k];
    sold += p * demand.served[s]!;
    available += p * s;
    service += p * demand.atMost[s]!;
  }
  return outcomeOf({sold, available, service}, demand.mean, money, cost);
}

/** The same from what is expected to be sold and to be there, and the chance that all can be served. */
export function outcomeOf(
  {sold, available, service}: {sold: number; available: number; service: number},
  wanted: number,
  money: PlanMoney,
  cost: number
): PlanOutcome {
  const expectedShort = wanted - sold;
  const expectedLeftover = available - sold;
  const profit =
    money.price * sold + money.leftoverValue * expectedLeftover - money.shortageCost * expectedShort - cost;
  return {profit, service, fillRate: wanted > 0 ? sold / wanted : 1, expectedShort, expectedLeftover};
}
