import fCdf from "@stdlib/stats-base-dists-f-cdf";
import {check} from "../check.ts";
import {checkLevel} from "./interval.ts";
import {root} from "./root.ts";

/**
 * The chance that the F test tells the spreads of two bell curves apart, fraction of 1, with n values of each.
 *
 *   power = P(F < f₁/q²) + P(F > f₂/q²)        F with n − 1 and n − 1 degrees of freedom, q the ratio of standard deviations, f₁ and f₂ the
 *                                              quantiles (1 − level)/2 and (1 + level)/2
 *
 * Exact for independent values of a bell curve; squares of one lot are alike and count for fewer.
 * Source: any textbook of the F test. Checked: tests/stats/spreadPower.test.ts (size at q = 1, large samples, simulation)
 *
 * @throws RangeError unless n is whole and 2 or more, ratio positive and level between 0 and 1
 */
export function spreadPower({n, ratio, level = 0.95}: {n: number; ratio: number; level?: number}): number {
  check(Number.isInteger(n) && n >= 2, "spreadPower: n", "a whole number, 2 or more", n);
  check(ratio > 0 && ratio < Infinity, "spreadPower: ratio", "positive", ratio);
  checkLevel(level, "spreadPower");
  // With like degrees of freedom the lower quantile is the inverse of the upper.
  const upper = fQuantile((1 + level) / 2, n - 1);
  return fCdf(1 / upper / ratio ** 2, n - 1, n - 1) + 1 - fCdf(upper / ratio ** 2, n - 1, n - 1);
}

/** The value that F with df and df degrees of freedom stays below with chance p, p at least a half. */
function fQuantile(p: number, df: number): number {
  let high = 2;
  while (fCdf(high, df, df) < p) high *= 2;
  return root((f) => fCdf(f, df, df) - p, 1, high);
}

/** No one measures more: beyond it the spreads are as good as alike. */
const most = 1_000_000;

/**
 * The fewest values of each of two bell curves with which the F test tells their spreads apart with a given chance: a whole number.
 *
 * Source and range: as `spreadPower`. Checked: tests/stats/spreadPower.test.ts
 *
 * @returns undefined where a million of each would not do
 * @throws RangeError unless ratio is positive, and power and level between 0 and 1
 * @example spreadSampleSize({ratio: 0.8}) // 160
 */
export function spreadSampleSize({
  ratio,
  power = 0.8,
  level = 0.95
}: {
  ratio: number;
  power?: number;
  level?: number;
}): number | undefined {
  checkLevel(power, "spreadSampleSize: power");
  const enough = (n: number) => spreadPower({n, ratio, level}) >= power;
  let high = 2;
  while (!enough(high)) {
    high *= 2;
    if (high > most) return undefined;
  }
  let low = high === 2 ? 1 : high / 2;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}
