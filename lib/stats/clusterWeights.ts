import {check} from "../check.ts";
import type {Random} from "./random.ts";

/**
 * One resample of whole clusters (lots): how often each of `count` clusters is drawn when `count` are drawn with
 * replacement. Whole numbers adding up to `count`.
 *
 * Lots are drawn, not pieces, as pieces of one lot are alike; with few lots (below about 8) the resampled
 * spread is itself poorly known.
 *
 * Source: Davison and Hinkley (1997), Bootstrap Methods and their Application, section 3.8, strategy 1.
 * Checked: tests/stats/clusterWeights.test.ts, against the mean and variance of the multinomial.
 *
 * @throws RangeError unless count is a positive whole number
 */
export function clusterWeights(count: number, random: Random): number[] {
  check(Number.isInteger(count) && count > 0, "clusterWeights: count", "a positive count", count);
  const weights = new Array<number>(count).fill(0);
  for (let draw = 0; draw < count; draw++) weights[Math.floor(random() * count)]!++;
  return weights;
}
