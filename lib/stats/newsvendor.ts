import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {check} from "../check.ts";
import {countQuantile} from "./countQuantile.ts";
import {normalQuantile} from "./normalQuantile.ts";
import {sum} from "./numbers.ts";

/** What one piece too many, or one too few, costs; one currency unit throughout. */
export interface OrderCosts {
  overage: number;
  underage: number;
}

export interface OrderAnswer {
  quantity: number;
  /** Expected cost of having too many or too few at that quantity. */
  cost: number;
}

/**
 * The best number to have in stock for one season when supply is certain, and its expected cost in the unit of the
 * costs. `purchasePlan` does the same with uncertain yield; this is its plain limit.
 *
 *   quantity = the smallest S with P(D ≤ S) ≥ underage/(underage + overage)
 *   cost(S) = overage·E(S − D)⁺ + underage·E(D − S)⁺
 *
 * Source: Snyder and Shen (2019), Fundamentals of Supply Chain Theory, 2nd ed., section 4.3.
 * Checked: tests/reference/newsvendor.test.ts, against examples 4.3, 4.7 and problem 4.7b there.
 *
 * @param pmf probabilities of a demand of 0, 1, 2, …; long enough that what is left out does not matter
 * @returns undefined when the probabilities given end before that share is reached
 * @throws RangeError unless both costs are positive
 */
export function newsvendor(costs: OrderCosts, pmf: readonly number[]): OrderAnswer | undefined {
  const quantity = countQuantile(pmf, criticalRatio(costs));
  return quantity === undefined ? undefined : {quantity, cost: newsvendorCost(costs, pmf, quantity)};
}

/**
 * Expected cost of `newsvendor` at any quantity, in the unit of the costs.
 *
 *   overage·Σ P(D = d)·max(0, S − d) + underage·Σ P(D = d)·max(0, d − S)        S quantity, D demand
 *
 * Source: as `newsvendor`.
 * Checked: tests/reference/newsvendor.test.ts, against examples 4.7 and 4.7b.
 */
export function newsvendorCost({overage, underage}: OrderCosts, pmf: readonly number[], quantity: number): number {
  const over = sum(pmf.map((p, demand) => p * Math.max(0, quantity - demand)));
  const under = sum(pmf.map((p, demand) => p * Math.max(0, demand - quantity)));
  return overage * over + underage * under;
}

/**
 * `newsvendor` for normal demand, in the unit of mean and deviation, not rounded to whole pieces.
 *
 *   S = m + z·s    z = Φ⁻¹(underage/(underage + overage))    cost at the best S = (overage + underage)·s·φ(z)
 *
 * Source: as `newsvendor`. Checked: tests/reference/newsvendor.test.ts, against example 4.3.
 *
 * @throws RangeError unless costs and deviation are positive
 */
export function newsvendorNormal(costs: OrderCosts, {mean, deviation}: {mean: number; deviation: number}): OrderAnswer {
  check(deviation > 0, "newsvendorNormal: deviation", "positive", deviation);
  const quantity = mean + normalQuantile(criticalRatio(costs)) * deviation;
  return {quantity, cost: newsvendorNormalCost(costs, {mean, deviation}, quantity)};
}

/**
 * Expected cost of `newsvendorNormal` at any quantity, in the unit of the costs.
 *
 *   overage·s·(z + L(z)) + underage·s·L(z)    z = (S − m)/s    L(z) = φ(z) − z·(1 − Φ(z))
 *
 * Trap: the normal curve lets demand fall below 0; with s above m/3 use `newsvendorCost`.
 * Source: as `newsvendor`.
 * Checked: tests/reference/newsvendor.test.ts, against example 4.3.
 */
export function newsvendorNormalCost(
  {overage, underage}: OrderCosts,
  {mean, deviation}: {mean: number; deviation: number},
  quantity: number
): number {
  const z = (quantity - mean) / deviation;
  const loss = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI) - z * normalCdf(-z, 0, 1);
  return deviation * (overage * (z + loss) + underage * loss);
}

function criticalRatio({overage, underage}: OrderCosts): number {
  check(overage > 0, "newsvendor: overage", "positive", overage);
  check(underage > 0, "newsvendor: underage", "positive", underage);
  return underage / (underage + overage);
}
