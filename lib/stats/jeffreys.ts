import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import {checkCounts, checkLevel, type Interval} from "./interval.ts";

/**
 * Jeffreys interval for a share, as fractions of 1: what is believed of the share after the count,
 * starting from the prior Beta(½, ½); equal tails.
 *
 *   low, high = quantiles of Beta(k + ½, n − k + ½) at (1 ∓ level)/2
 *   low = 0 when k = 0, high = 1 when k = n, as no count can rule those out
 *
 * Source: Brown, Cai and DasGupta (2001), Statist. Sci. 16:101–133, section 4.1.
 * Checked: tests/reference/binomialIntervals.test.ts, against SAS and R.
 *
 * @returns undefined when trials is 0
 * @throws RangeError unless 0 ≤ successes ≤ trials, both whole, and 0 < level < 1
 * @example jeffreys(36, 154) // {low: 0.1723, high: 0.3051}
 */
export function jeffreys(successes: number, trials: number, {level = 0.95} = {}): Interval | undefined {
  checkCounts(successes, trials, "jeffreys");
  checkLevel(level, "jeffreys");
  if (trials === 0) return undefined;
  const failures = trials - successes;
  return {
    low: successes === 0 ? 0 : betaQuantile((1 - level) / 2, successes + 0.5, failures + 0.5),
    high: failures === 0 ? 1 : betaQuantile((1 + level) / 2, successes + 0.5, failures + 0.5)
  };
}
