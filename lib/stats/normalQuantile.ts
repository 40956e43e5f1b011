import cdf from "@stdlib/stats-base-dists-normal-cdf";
import quantile from "@stdlib/stats-base-dists-normal-quantile";

/**
 * Quantile z of the standard normal distribution, in standard deviations: Φ(z) = p; −∞ at 0, ∞ at 1.
 *
 * The library inverts erf at 2p − 1, which at p = 1e-10 leaves 8 digits; two Newton steps in the lower tail,
 * z − (Φ(z) − p)/φ(z), bring back the rest.
 *
 * Source: npm package @stdlib/stats-base-dists-normal-quantile; Newton's rule.
 * Checked: tests/reference/specialFunctions.test.ts, against R's qnorm.
 *
 * @returns NaN unless 0 ≤ p ≤ 1
 */
export function normalQuantile(p: number): number {
  const z = quantile(p, 0, 1);
  if (!(p > 0 && p < 0.01)) return z;
  const step = (x: number) => x - (cdf(x, 0, 1) - p) * Math.sqrt(2 * Math.PI) * Math.exp(x ** 2 / 2);
  return step(step(z));
}
