import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import {checkCounts, checkLevel, type Interval} from "./interval.ts";

/**
 * Clopper–Pearson ("exact") interval for a share, as fractions of 1: it covers the true share at least
 * `level` of the time, whatever the share, and pays for the guarantee with width.
 *
 *   low  = quantile of Beta(k, n − k + 1) at (1 − level)/2        0 when k = 0
 *   high = quantile of Beta(k + 1, n − k) at (1 + level)/2        1 when k = n
 *
 * Source: Clopper and Pearson (1934), Biometrika 26:404–413.
 * Checked: tests/reference/binomialIntervals.test.ts, against R's binom.test.
 *
 * @returns undefined when trials is 0
 * @throws RangeError unless 0 ≤ successes ≤ trials, both whole, and 0 < level < 1
 * @example clopperPearson(0, 20) // {low: 0, high: 0.1684}
 */
export function clopperPearson(successes: number, trials: number, {level = 0.95} = {}): Interval | undefined {
  checkCounts(successes, trials, "clopperPearson");
  checkLevel(level, "clopperPearson");
  if (trials === 0) return undefined;
  const failures = trials - successes;
  return {
    low: successes === 0 ? 0 : betaQuantile((1 - level) / 2, successes, failures + 1),
    high: failures === 0 ? 1 : betaQuantile((1 + level) / 2, successes + 1, failures)
  };
}
