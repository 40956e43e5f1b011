import {countQuantile} from "../stats/countQuantile.ts";
import {negativeBinomialPmf} from "../stats/negativeBinomial.ts";

/**
 * The middle 95 % of a negative binomial number of shafts: low and high, counts.
 *
 *   low = smallest k with P(D ≤ k) ≥ 0.025        high = smallest k with P(D ≤ k) ≥ 0.975
 *
 * Source: the definition as in R's qnbinom. Checked: tests/buying/demandRange.test.ts, against SciPy
 *
 * @param size undefined is Poisson
 * @throws RangeError unless mean is 0 or more and size positive
 */
export function demandRange(mean: number, size?: number): {low: number; high: number} {
  const sd = Math.sqrt(mean + (size === undefined ? 0 : mean ** 2 / size));
  const most = Math.ceil(mean + 12 * sd + 40);
  const pmf = negativeBinomialPmf(size ?? Number.POSITIVE_INFINITY, mean, most);
  return {low: countQuantile(pmf, 0.025)!, high: countQuantile(pmf, 0.975)!};
}
