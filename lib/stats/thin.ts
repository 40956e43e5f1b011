import binomialPmf from "@stdlib/stats-base-dists-binomial-pmf";
import {check} from "../check.ts";

/**
 * Distribution of a count when each of the pieces counted is kept with one chance, independently: usable shafts, from
 * finished ones of which a share lies in the window. As many probabilities as `pmf`.
 *
 *   P(u) = Σ_k pmf_k · C(k, u)·share^u·(1 − share)^(k − u)        k ≥ u
 *
 * Of a beta-binomial count this is not again beta-binomial; it is exact all the same.
 *
 * Source: Johnson, Kemp and Kotz (2005), Univariate Discrete Distributions, section 9.3 (binomial mixtures; from
 * memory).
 * Checked: tests/reference/convolution.test.ts, against R; tests/stats/thin.test.ts, mean and a binomial thinned.
 *
 * @param pmf probabilities of 0, 1, 2, … pieces
 * @throws RangeError unless 0 ≤ share ≤ 1
 */
export function thin(pmf: readonly number[], share: number): number[] {
  check(share >= 0 && share <= 1, "thin: share", "between 0 and 1", share);
  return pmf.map((_, u) => {
    let total = 0;
    for (let k = u; k < pmf.length; k++) {
      if (pmf[k]! > 0) total += pmf[k]! * binomialPmf(u, k, share);
    }
    return total;
  });
}
