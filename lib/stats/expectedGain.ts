import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {check} from "../check.ts";

/**
 * What is expected to be gained from choosing the better of two after their difference, now known as `gap`, has moved by a bell curve with mean
 * 0, in the unit of both:
 *
 *   E max(0, D) = s · f(−gap/s)        f(z) = z Φ(z) + φ(z), D with mean −gap and standard deviation s
 *
 * Source: the mean of a bell curve cut off at 0, any textbook. Checked: tests/stats/expectedGain.test.ts, by numerical integration
 *
 * @param gap how far the worse lies behind now, 0 or more
 * @param moves standard deviation of what will be learned; 0 gains nothing
 * @throws RangeError unless both are 0 or more
 * @example expectedGain(0, 1) // 0.3989
 */
export function expectedGain(gap: number, moves: number): number {
  check(gap >= 0 && gap < Infinity, "expectedGain: gap", "0 or more", gap);
  check(moves >= 0 && moves < Infinity, "expectedGain: moves", "0 or more", moves);
  if (moves === 0) return 0;
  const z = -gap / moves;
  return moves * (z * normalCdf(z, 0, 1) + Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI));
}
