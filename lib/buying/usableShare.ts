import {check} from "../check.ts";
import {betaBinomialPmf} from "../stats/betaBinomial.ts";
import {betaByMoments, betaMoments} from "../stats/betaMoments.ts";
import {countQuantile} from "../stats/countQuantile.ts";
import {sum} from "../stats/numbers.ts";

/** Squares bought of one supplier: how many, and the share of a lot that becomes usable, as an `Offer` has it. */
export interface SquaresOf {
  squares: number;
  alpha: number;
  beta: number;
  windowShare?: number;
  lotSize?: number;
  doubt?: number;
  common?: number;
}

/** A share, fraction of 1, and what it lies between in 95 of 100 cases. */
export interface ShareExpected {
  mean: number;
  low: number;
  high: number;
}

/**
 * What share of a purchase becomes usable: its mean, and the range in which it lies in 95 of 100 cases.
 *
 *   m = Σ qᵢ pᵢ / Q    V = Σ (qᵢ/Q)² vᵢ + (Σ (qᵢ/Q) pᵢ cᵢ)²    usable count ~ beta-binomial(Q; m, V)
 *
 * q squares of a supplier, Q of all, p and v mean and variance of the share of so many (several lots have less variance than one), c what
 * moves all timber together. Exact for one supplier; the sum of several is taken as one share of the same mean and variance.
 *
 * Checked: tests/buying/usableShare.test.ts, against whole distributions added up
 *
 * @returns undefined when nothing is bought
 * @throws RangeError when a number of squares is not a count
 */
export function usableShare(bought: readonly SquaresOf[]): ShareExpected | undefined {
  for (const {squares} of bought)
    check(Number.isInteger(squares) && squares >= 0, "usableShare: squares", "a count", squares);
  const total = sum(bought.map(({squares}) => squares));
  if (total === 0) return undefined;
  const parts = bought
    .filter(({squares}) => squares > 0)
    .map(({squares, alpha, beta, windowShare = 1, lotSize = squares, doubt = 0, common = 0}) => {
      const lot = betaMoments({alpha, beta});
      const lots = Math.max(1, squares / lotSize);
      const variance = lots > 1 ? doubt + (lot.variance - doubt) / lots : lot.variance;
      const weight = squares / total;
      const mean = weight * windowShare * lot.mean;
      return {mean, variance: (weight * windowShare) ** 2 * variance, common: mean * common};
    });
  const mean = sum(parts.map((part) => part.mean));
  const variance = sum(parts.map((part) => part.variance)) + sum(parts.map((part) => part.common)) ** 2;
  const shape = betaByMoments({mean, variance: Math.min(variance, 0.99 * mean * (1 - mean))})!;
  const pmf = betaBinomialPmf(total, shape.alpha, shape.beta);
  return {mean, low: countQuantile(pmf, 0.025)! / total, high: countQuantile(pmf, 0.975)! / total};
}
