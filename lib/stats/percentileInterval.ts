import {checkLevel, type Interval} from "./interval.ts";
import {ascending} from "./numbers.ts";
import {sortedQuantile} from "./quantile.ts";

/**
 * Percentile interval of bootstrap replicates, in their unit: their quantiles at (1 ∓ level)/2, type 7.
 *
 * For a spread from ten pieces it lies too low, as a resample repeats pieces and so scatters less: prefer
 * `bcaInterval` there, and say how few they are.
 *
 * Source: Efron and Tibshirani (1993), An Introduction to the Bootstrap, chapter 13.
 * Checked: tests/reference/bootstrap.test.ts, against a full enumeration in R.
 *
 * @returns undefined without replicates or when one is NaN: a resample without value is not one to drop in silence
 * @throws RangeError unless 0 < level < 1
 */
export function percentileInterval(replicates: readonly number[], level = 0.95): Interval | undefined {
  checkLevel(level, "percentileInterval");
  if (replicates.length === 0 || replicates.some(Number.isNaN)) return undefined;
  const sorted = ascending(replicates);
  return {low: sortedQuantile(sorted, (1 - level) / 2)!, high: sortedQuantile(sorted, (1 + level) / 2)!};
}
