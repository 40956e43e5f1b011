import tCdf from "@stdlib/stats-base-dists-t-cdf";
import {check} from "../check.ts";
import type {Interval} from "./interval.ts";

/** What was measured. */
export interface SampleSummary {
  /** How many pieces. */
  n: number;
  mean: number;
  deviation: number;
}

/**
 * Share of further pieces expected inside a window, a fraction of 1, when only `n` have been measured: the chance that
 * the next one lies in it. Smaller than the share under the bell curve of the sample itself, and the more so the fewer
 * they are, as mean and deviation may be off.
 *
 *   T((high − m)/(s√(1 + 1/n))) − T((low − m)/(s√(1 + 1/n)))        T the t distribution with n − 1 degrees of freedom
 *
 * Holds for measurements that scatter like a bell curve; pieces of one lot are alike and count as far fewer.
 *
 * Source: Geisser (1993), Predictive Inference: An Introduction, chapter 2 (from memory).
 * Checked: tests/reference/purchasePlan.test.ts, against R's pt.
 *
 * @param window low and high in the unit of mean and deviation; −Infinity or Infinity leaves a side open
 * @throws RangeError unless n is a count of 2 or more, mean finite, deviation positive and low ≤ high
 * @example predictiveShare({n: 17, mean: 18.9, deviation: 0.62}, {low: 18.2, high: 19.4}) // 0.6333
 */
export function predictiveShare({n, mean, deviation}: SampleSummary, {low, high}: Interval): number {
  check(Number.isInteger(n) && n >= 2, "predictiveShare: n", "a count of 2 or more", n);
  check(Number.isFinite(mean), "predictiveShare: mean", "finite", mean);
  check(Number.isFinite(deviation) && deviation > 0, "predictiveShare: deviation", "positive", deviation);
  check(low <= high, "predictiveShare: low", `at most high (${high})`, low);
  const below = (x: number) => tCdf((x - mean) / (deviation * Math.sqrt(1 + 1 / n)), n - 1);
  return below(high) - below(low);
}
