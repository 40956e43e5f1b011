import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import {check} from "../check.ts";
import {
  betterPrecision,
  binomialLogLikelihood,
  logChoose,
  logLikelihoodAt,
  type Repeated,
  repeated,
  shapesAt
} from "./betaBinomialLikelihood.ts";
import {checkLevel, type Interval} from "./interval.ts";
import {sum} from "./numbers.ts";

/** Successes of one group (supplier). Both may be fractional: effective counts of a weighted or clustered rate. */
export interface Rate {
  successes: number;
  trials: number;
}

/** How the rates of groups scatter around their common mean. */
export interface BetaBinomialFit {
  /** Of the Beta distribution of the groups' rates; absent on the boundary, where there is none. */
  alpha?: number;
  beta?: number;
  /** The common rate, a fraction of 1: α/(α + β), or the pooled rate on the boundary. */
  mean: number;
  /**
   * Correlation of two pieces of one group, 1/(α + β + 1). 0 on the boundary: no difference between groups is
   * detectable. 1 on the other: each group is all successes or none.
   */
  rho: number;
  /** Without the binomial coefficients when a count is fractional; with them otherwise. */
  logLikelihood: number;
  /** Of all groups together. */
  successes: number;
  trials: number;
}

/**
 * Probabilities of 0, 1, …, n successes among n pieces whose common chance is itself drawn from Beta(alpha, beta):
 * shafts from squares of a lot whose yield is not known exactly. n + 1 numbers that add up to 1.
 *
 *   P(k) = C(n, k)·B(k + α, n − k + β)/B(α, β)
 *   from P(k + 1)/P(k) = (n − k)(k + α) / ((k + 1)(n − k − 1 + β)), starting near the mean
 *
 * The ratios need no special function and keep their digits for any size of alpha and beta.
 *
 * Source: Johnson, Kemp and Kotz (2005), Univariate Discrete Distributions, section 6.2.2.
 * Checked: tests/reference/betaBinomial.test.ts, against R package VGAM.
 *
 * @throws RangeError unless n is a count, alpha and beta positive
 */
export function betaBinomialPmf(n: number, alpha: number, beta: number): number[] {
  check(Number.isInteger(n) && n >= 0, "betaBinomialPmf: n", "a count", n);
  check(alpha > 0 && Number.isFinite(alpha), "betaBinomialPmf: alpha", "positive", alpha);
  check(beta > 0 && Number.isFinite(beta), "betaBinomialPmf: beta", "positive", beta);
  const ratio = (k: number) => ((n - k) / (k + 1)) * ((k + alpha) / (n - k - 1 + beta));
  const weights = new Array<number>(n + 1).fill(1);
  const start = Math.round((n * alpha) / (alpha + beta)); // near the peak, so that no product overflows
  for (let k = start; k < n; k++) weights[k + 1] = weights[k]! * ratio(k);
  for (let k = start - 1; k >= 0; k--) weights[k] = weights[k + 1]! / ratio(k);
  const total = sum(weights);
  return weights.map((w) => w / total);
}

/**
 * Beta-binomial fit by maximum likelihood: how much the rates of groups differ beyond chance.
 *
 *   x_i ~ BetaBinomial(n_i, α, β)    ln L = Σ ln C(n, x) + ln B(x + α, n − x + β) − ln B(α, β)
 *
 * The data may scatter less than chance alone; then the likelihood rises without end as α + β grows, and the fit says
 * ρ = 0. Few groups (below about 5) say little about ρ, and the interval of `shrunkRate` does not show that.
 *
 * Source: Griffiths (1973), Biometrics 29:637–648; the boundary from Tarone's score (1979), Biometrika 66:585–590.
 * Checked: tests/reference/betaBinomial.test.ts, against published fits (Geissler's families, rat tumours) and R.
 *
 * @returns undefined without a single trial
 * @throws RangeError unless 0 ≤ successes ≤ trials, finite
 */
export function fitBetaBinomial(rows: readonly Rate[]): BetaBinomialFit | undefined {
  for (const row of rows) checkRate(row, "fitBetaBinomial");
  const tried = repeated(rows.filter((row) => row.trials > 0));
  const successes = sum(rows.map((row) => row.successes));
  const trials = sum(rows.map((row) => row.trials));
  if (trials === 0) return undefined;
  const mean = successes / trials;
  const constant = tried.every(isWhole) ? logChoose(tried) : 0;
  const pooled = {mean, rho: 0, logLikelihood: constant + binomialLogLikelihood(tried, mean), successes, trials};
  if (mean === 0 || mean === 1) return pooled;
  if (tried.every(({trials}) => trials <= 1)) return pooled; // single pieces say nothing of their groups
  if (tried.every(({successes: x, trials: n}) => x === 0 || x === n)) return allOrNone(tried, successes, trials);
  const precision = betterPrecision(tried, pooled.logLikelihood - constant);
  if (precision === undefined) return pooled;
  const [alpha, beta] = shapesAt(tried, precision);
  const logLikelihood = constant + logLikelihoodAt(tried, alpha, beta);
  return {alpha, beta, mean: alpha / (alpha + beta), rho: 1 / (alpha + beta + 1), logLikelihood, successes, trials};
}

/**
 * A group's rate drawn towards the common mean by as much as its own data are thin, with an interval; fractions of 1.
 *
 *   rate | x, n ~ Beta(α + x, β + n − x)    mean = (α + x)/(α + β + n)    limits = its quantiles at (1 ∓ level)/2
 *   ρ = 0: every group has the pooled rate, with the Jeffreys interval of the pooled counts
 *   ρ = 1: every group keeps its own rate, with its Jeffreys interval
 *
 * Empirical Bayes: the interval takes α and β as known, so it is somewhat too narrow when groups are few.
 *
 * Source: Casella (1985), Amer. Statist. 39:83–87; Gelman et al., Bayesian Data Analysis, 3rd ed., section 5.1.
 * Checked: tests/reference/betaBinomial.test.ts, against the printed posterior of the rat data and R.
 *
 * @throws RangeError unless 0 ≤ successes ≤ trials, finite, and 0 < level < 1
 */
export function shrunkRate(row: Rate, fit: BetaBinomialFit, {level = 0.95} = {}): Interval & {mean: number} {
  checkRate(row, "shrunkRate");
  checkLevel(level, "shrunkRate");
  const {alpha, beta} = fit;
  if (alpha !== undefined && beta !== undefined) return betaSummary(row, alpha, beta, level);
  const counts = fit.rho === 0 || row.trials === 0 ? fit : row;
  return {...betaSummary(counts, 0.5, 0.5, level), mean: counts.successes / counts.trials};
}

function betaSummary({successes, trials}: Rate, alpha: number, beta: number, level: number) {
  const [a, b] = [alpha + successes, beta + trials - successes];
  return {mean: a / (a + b), low: betaQuantile((1 - level) / 2, a, b), high: betaQuantile((1 + level) / 2, a, b)};
}

/** ρ = 1: the likelihood is that of groups, each with one outcome. */
function allOrNone(rows: readonly Repeated[], successes: number, trials: number): BetaBinomialFit {
  const groups = sum(rows.map((row) => row.times));
  const good = sum(rows.filter((row) => row.successes > 0).map((row) => row.times));
  const mean = good / groups;
  const logLikelihood = good * Math.log(mean) + (groups - good) * Math.log(1 - mean);
  return {mean, rho: 1, logLikelihood, successes, trials};
}

function isWhole({successes, trials}: Rate): boolean {
  return Number.isInteger(successes) && Number.isInteger(trials);
}

function checkRate({successes, trials}: Rate, where: string): void {
  check(Number.isFinite(trials) && trials >= 0, `${where}: trials`, "0 or more", trials);
  check(successes >= 0 && successes <= trials, `${where}: successes`, `between 0 and trials (${trials})`, successes);
}
