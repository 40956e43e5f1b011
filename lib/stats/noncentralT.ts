import gammaln from "@stdlib/math-base-special-gammaln";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {check} from "../check.ts";
import {root} from "./root.ts";

/**
 * Distribution function of the noncentral t, a probability: of (Z + δ)/√(χ²/ν) at or below t, with Z standard normal.
 *
 *   P(T ≤ t) = ∫ Φ(t·s − δ) f(s) ds        f the density of s = √(χ²_ν/ν)
 *
 * Summed by the trapezoid rule in ln s, which converges faster than any power of the step as the integrand dies out
 * on both sides: about 12 digits.
 *
 * Source: Johnson, Kotz and Balakrishnan (1995), Continuous Univariate Distributions, vol. 2, section 31.2.
 * Checked: tests/reference/specialFunctions.test.ts, against R's qt(p, df, ncp), and the central t.
 *
 * @throws RangeError unless df ≥ 1 and all are finite
 */
export function noncentralTCdf(t: number, df: number, delta: number): number {
  check(Number.isFinite(t), "noncentralTCdf: t", "finite", t);
  check(Number.isFinite(df) && df >= 1, "noncentralTCdf: df", "1 or more", df);
  check(Number.isFinite(delta), "noncentralTCdf: delta", "finite", delta);
  const width = 1 / Math.sqrt(2 * df); // spread of ln s
  const step = width / 12;
  const logScale = Math.log(2) + (df / 2) * Math.log(df / 2) - gammaln(df / 2);
  const logDensity = (u: number) => logScale + df * u - (df / 2) * Math.exp(2 * u); // of ln s
  let total = 0;
  for (let u = logEnd(df); logDensity(u) > -46 || u < 0; u += step) {
    total += Math.exp(logDensity(u)) * normalCdf(t * Math.exp(u) - delta, 0, 1);
  }
  return Math.min(1, total * step);
}

/** The ln s below which the density of ln s is less than e⁻⁴⁶: there it falls as e^(ν·ln s), or faster. */
function logEnd(df: number): number {
  const atPeak = Math.log(2) + (df / 2) * Math.log(df / 2) - gammaln(df / 2);
  return Math.min(-(46 + atPeak) / df, -9 / Math.sqrt(2 * df));
}

/**
 * Quantile of the noncentral t, without unit: the t with P(T ≤ t) = p.
 *
 * Source: as `noncentralTCdf`, of which it is the inverse.
 * Checked: tests/reference/specialFunctions.test.ts, against R's qt(p, df, ncp).
 *
 * @throws RangeError unless 0 < p < 1, df ≥ 1 and delta is finite
 */
export function noncentralTQuantile(p: number, df: number, delta: number): number {
  check(p > 0 && p < 1, "noncentralTQuantile: p", "strictly between 0 and 1", p);
  const miss = (t: number) => noncentralTCdf(t, df, delta) - p;
  let [low, high] = [Math.min(-1, 2 * delta), Math.max(1, 2 * delta)];
  while (miss(low) > 0) low *= 2;
  while (miss(high) < 0) high *= 2;
  return root(miss, low, high);
}
