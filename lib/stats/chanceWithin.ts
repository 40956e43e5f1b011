import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import tCdf from "@stdlib/stats-base-dists-t-cdf";
import {check} from "../check.ts";

/** A value that is not known for sure: its middle and standard deviation in one unit, and the degrees of freedom with which that is known. */
export interface Doubtful {
  mean: number;
  sd: number;
  /** Infinity: known well, and so normal. */
  freedom: number;
}

/**
 * The chance that a doubtful value lies in a window, its ends included, a fraction of 1.
 *
 *   T((high − m)/s) − T((low − m)/s)        T Student's law with the degrees of freedom, the normal law where they are infinite
 *
 * A side that is undefined is open. Without doubt (s = 0) it is 0 or 1.
 * Source: Student (1908). Checked: tests/stats/chanceWithin.test.ts, against the printed tables of the normal law and of t
 *
 * @throws RangeError unless sd is 0 or more and freedom positive
 * @example chanceWithin({mean: 320, sd: 5, freedom: Infinity}, {low: 310, high: 330}) // 0.9545
 */
export function chanceWithin(
  {mean, sd, freedom}: Doubtful,
  {low, high}: {low?: number | undefined; high?: number | undefined}
): number {
  check(sd >= 0 && sd < Infinity, "chanceWithin: sd", "0 or more", sd);
  check(freedom > 0, "chanceWithin: freedom", "positive", freedom);
  if (sd === 0) return (low === undefined || mean >= low) && (high === undefined || mean <= high) ? 1 : 0;
  const below = (x: number) =>
    freedom === Infinity ? normalCdf((x - mean) / sd, 0, 1) : tCdf((x - mean) / sd, freedom);
  return Math.max(0, (high === undefined ? 1 : below(high)) - (low === undefined ? 0 : below(low)));
}
