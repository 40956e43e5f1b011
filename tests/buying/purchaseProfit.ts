import {outcomes, splitOf} from "../../lib/buying/outcomes.ts";
import type {Purchase} from "../../lib/buying/seasonPlan.ts";
import type {OneNeed} from "../../lib/buying/whatItHangsOn.ts";

/** The expected profit of one species' purchase as it stands, less the trips that no other species pays for: without a planner. */
export function purchaseProfit(
  {need, tripCosts = {}, visitedAnyway = []}: OneNeed,
  {orders}: Pick<Purchase, "orders">
): number {
  const split = splitOf(need.offers, orders);
  const paid = orders.filter(({supplier, squares}) => squares > 0 && !visitedAnyway.includes(supplier));
  return paid.reduce(
    (profit, {supplier}) => profit - (tripCosts[supplier] ?? 0),
    outcomes(need, split).exact(split).profit
  );
}
