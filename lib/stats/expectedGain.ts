import gammaln from "@stdlib/math-base-special-gammaln";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import tCdf from "@stdlib/stats-base-dists-t-cdf";
import {check} from "../check.ts";

/**
 * What is expected to be gained from choosing the better of two after their difference, now known as `gap`, has moved, in the unit of both:
 *
 *   E max(0, D) = s · f(z)        z = −gap/s, D with mean −gap and scale s
 *   f(z) = z Φ(z) + φ(z)                            normal law, where no degrees of freedom are given
 *   f(z) = z F(z) + (ν + z²)/(ν − 1) · f_ν(z)       Student's law with ν degrees of freedom, F and f_ν its distribution and density
 *
 * Range: ν above 1, else the mean is not finite. Source: the mean of a bell curve cut off at 0, any textbook; Student's law: DeGroot (1970),
 * Optimal Statistical Decisions (from memory). Checked: tests/stats/expectedGain.test.ts, by numerical integration
 *
 * @param gap how far the worse lies behind now, 0 or more
 * @param moves standard deviation of what will be learned (Student's law: its scale); 0 gains nothing
 * @param freedom degrees of freedom with which `moves` is known; without them it is taken as known
 * @throws RangeError unless both are 0 or more and freedom is above 1
 * @example expectedGain(0, 1) // 0.3989
 */
export function expectedGain(gap: number, moves: number, freedom?: number): number {
  check(gap >= 0 && gap < Infinity, "expectedGain: gap", "0 or more", gap);
  check(moves >= 0 && moves < Infinity, "expectedGain: moves", "0 or more", moves);
  check(freedom === undefined || freedom > 1, "expectedGain: freedom", "above 1", freedom ?? 0);
  if (moves === 0) return 0;
  const z = -gap / moves;
  if (freedom === undefined) return moves * (z * normalCdf(z, 0, 1) + Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI));
  const density =
    Math.exp(gammaln((freedom + 1) / 2) - gammaln(freedom / 2) - ((freedom + 1) / 2) * Math.log1p((z * z) / freedom)) /
    Math.sqrt(freedom * Math.PI);
  return Math.max(0, moves * (z * tCdf(z, freedom) + ((freedom + z * z) / (freedom - 1)) * density));
}
