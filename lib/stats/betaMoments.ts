import {check} from "../check.ts";

/** A Beta distribution of an uncertain share: as if α had passed and β failed, less what was known before. */
export interface BetaShape {
  alpha: number;
  beta: number;
}

/** Mean, a fraction of 1, and variance of a share. */
export interface ShareMoments {
  mean: number;
  variance: number;
}

/**
 * Mean and variance of a share that follows a Beta distribution.
 *
 *   mean m = α/(α + β)    variance = m(1 − m)/(α + β + 1)
 *
 * Source: Johnson, Kotz and Balakrishnan (1995), Continuous Univariate Distributions, vol. 2, chapter 25 (from memory).
 * Checked: tests/reference/betaBinomial.test.ts, against a printed posterior and R.
 *
 * @throws RangeError unless alpha and beta are positive
 */
export function betaMoments({alpha, beta}: BetaShape): ShareMoments {
  check(Number.isFinite(alpha) && alpha > 0, "betaMoments: alpha", "positive", alpha);
  check(Number.isFinite(beta) && beta > 0, "betaMoments: beta", "positive", beta);
  const mean = alpha / (alpha + beta);
  return {mean, variance: (mean * (1 - mean)) / (alpha + beta + 1)};
}

/**
 * The Beta distribution with a given mean and variance: the method of moments, for a first look at rates that differ,
 * or in place of a distribution that is awkward to handle.
 *
 *   M = m(1 − m)/variance − 1    α = m·M    β = (1 − m)·M
 *
 * Rough where it stands for the data: `fitBetaBinomial` minds that small groups scatter by chance.
 *
 * Source: Gelman et al., Bayesian Data Analysis, 3rd ed., section 5.1.
 * Checked: tests/reference/betaBinomial.test.ts, against printed fits and R; purchasePlan.test.ts, against R.
 *
 * @returns undefined when the variance is m(1 − m) or more, as of shares that are only 0 or 1: no Beta has it
 * @throws RangeError unless 0 < mean < 1 and variance is positive
 */
export function betaByMoments({mean, variance}: ShareMoments): BetaShape | undefined {
  check(mean > 0 && mean < 1, "betaByMoments: mean", "strictly between 0 and 1", mean);
  check(Number.isFinite(variance) && variance > 0, "betaByMoments: variance", "positive", variance);
  const precision = (mean * (1 - mean)) / variance - 1;
  return precision > 0 ? {alpha: mean * precision, beta: (1 - mean) * precision} : undefined;
}
