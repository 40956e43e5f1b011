import {check} from "../check.ts";
import {convolve} from "./convolve.ts";

/**
 * Probabilities of 0, 1, …, n successes among n independent pieces, each with a chance of its own: shafts from the
 * pieces in stock. n + 1 numbers that add up to 1.
 *
 *   the convolution of (1 − p₁, p₁), (1 − p₂, p₂), …
 *
 * Pieces of one lot are not independent: draw the lot's yield first, convolve, then average.
 *
 * Source: Hong (2013), Comput. Statist. Data Anal. 59:41–51, section 2 (from memory).
 * Checked: tests/reference/convolution.test.ts, against R; tests/stats/poissonBinomialPmf.test.ts, against enumeration.
 *
 * @throws RangeError unless every chance is between 0 and 1
 */
export function poissonBinomialPmf(chances: readonly number[]): number[] {
  for (const p of chances) check(p >= 0 && p <= 1, "poissonBinomialPmf: chances", "between 0 and 1", p);
  return chances.reduce((pmf, p) => convolve(pmf, [1 - p, p]), [1]);
}
