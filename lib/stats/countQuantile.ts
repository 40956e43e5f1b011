import {check} from "../check.ts";

/** A distribution function reaches a given p only but for rounding: 2/3 summed from tenths is a little less. */
const slack = 1e-12;

/**
 * Quantile of a count, a count: the smallest k with P(count ≤ k) ≥ p, forgiving 1e-12 of rounding.
 *
 * Source: the definition as in R's qnbinom; Johnson, Kemp and Kotz (2005), section 1.2 (from memory).
 * Checked: tests/reference/countModels.test.ts and convolution.test.ts, against R's qnbinom, qpois and a cumulative
 * sum.
 *
 * @param pmf probabilities of 0, 1, 2, …
 * @returns undefined when the probabilities given do not add up to p: the list ends too early
 * @throws RangeError unless 0 ≤ p ≤ 1
 */
export function countQuantile(pmf: readonly number[], p: number): number | undefined {
  check(p >= 0 && p <= 1, "countQuantile: p", "between 0 and 1", p);
  let total = 0;
  const k = pmf.findIndex((probability) => {
    total += probability;
    return total >= p - slack;
  });
  return k < 0 ? undefined : k;
}
