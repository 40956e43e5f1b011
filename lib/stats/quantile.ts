import {check} from "../check.ts";
import {ascending, checkNumbers} from "./numbers.ts";

/**
 * Quantile of a sample by the type-7 rule (the default of R), in the unit of the values.
 *
 *   h = (n − 1)p    q = x₍⌊h⌋₎ + (h − ⌊h⌋)(x₍⌊h⌋₊₁₎ − x₍⌊h⌋₎)        x₍₀₎ ≤ x₍₁₎ ≤ … sorted
 *
 * Source: Hyndman and Fan (1996), Amer. Statist. 50:361–365, definition 7.
 * Checked: tests/reference/descriptive.test.ts, against R's quantile(type = 7).
 *
 * @returns undefined when there is no value
 * @throws RangeError unless every value is finite and 0 ≤ p ≤ 1
 * @example quantile([15, 20, 35, 40, 50], 0.4) // 29
 */
export function quantile(values: readonly number[], p: number): number | undefined {
  checkNumbers(values, "quantile: values");
  return sortedQuantile(ascending(values), p);
}

/**
 * `quantile` of values already ascending, in their unit, for those who ask for many at once; infinities are allowed.
 *
 * Trap: that they ascend is not looked at.
 * Source: as `quantile`. Checked: tests/reference/descriptive.test.ts, through `quantile`; tests/stats/quantile.test.ts
 */
export function sortedQuantile(sorted: ArrayLike<number>, p: number): number | undefined {
  check(p >= 0 && p <= 1, "quantile: p", "between 0 and 1", p);
  const rank = (sorted.length - 1) * p;
  const below = sorted[Math.floor(rank)];
  const above = sorted[Math.ceil(rank)];
  if (below === undefined || above === undefined) return undefined;
  return below + (rank - Math.floor(rank)) * (above - below);
}
