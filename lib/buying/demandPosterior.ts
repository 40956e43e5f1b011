import {check} from "../check.ts";
import {momentSize} from "../stats/momentSize.ts";
import {sum} from "../stats/numbers.ts";
import {demandRange} from "./demandRange.ts";

/** A gamma distribution of a month's rate, shafts a month: mean shape/rate. */
export interface Gamma {
  shape: number;
  rate: number;
}

/** What the months tell of the rate at which shafts are ordered, and of the number in months to come. */
export interface DemandPosterior {
  prior: Gamma;
  priorIs: "Jeffreys" | "given";
  /** Of the rate, shafts a month. */
  posterior: Gamma;
  /** How much more than chance the months scatter: Pearson χ²/df, at least 1. */
  dispersion: number;
  /** The number in the months ahead: negative binomial mean and size, and the middle 95 %. */
  mean: number;
  size: number;
  sd: number;
  low: number;
  high: number;
  months: number;
  monthsAhead: number;
}

/**
 * Gamma–Poisson posterior of the monthly rate of orders, and its predictive negative binomial number for months to come. It knows neither
 * trend nor season: a whole year goes in, so that seasons level out, and it says what that year alone bears out.
 *
 *   λ ~ Gamma(a, b)                 prior; Jeffreys' is a = ½, b = 0
 *   λ | x ~ Gamma(a + Σx/φ, b + n/φ)        n months, φ = max(1, Σ(x − x̄)²/x̄ ÷ (n − 1))
 *   number in h months: mean h·E[λ], variance mean + h² Var[λ] + h E[λ]²/r, r the months' own size by moments (none: Poisson months)
 *
 * With φ = 1 it is the textbook's, the predictive NB(size a + Σx, mean h (a + Σx)/(b + n)) exactly. Where months scatter more, each month
 * tells as much as 1/φ of a Poisson month, and their own scatter is ahead too; the number is then taken as negative binomial of that mean
 * and variance.
 *
 * How it is related to `demandForecast`: that one, with neither trend nor season, has the mean h x̄ and the variance
 * mean + (φ h² x̄/n + h x̄²/r) (t/z)². With a = b = 0 the two differ by the factor (t/z)² alone, which pays for φ and r being known from n
 * months; Jeffreys' prior adds half a shaft over the whole history.
 *
 * Source: Gelman et al. (2013), Bayesian Data Analysis, 3rd ed., sections 2.6 and 2.8 (from memory); the weight 1/φ: quasi-likelihood,
 * McCullagh & Nelder (1989), chapter 9 (from memory).
 * Checked: tests/buying/demandPosterior.test.ts, against SciPy's integral of Poisson over gamma, and against demandForecast
 *
 * @param counts shafts ordered in whole months
 * @returns undefined with fewer than 6 months, or without a shaft and a prior
 * @throws RangeError unless counts are counts, monthsAhead positive, and the prior's shape positive, its rate 0 or more
 */
export function demandPosterior(
  counts: readonly number[],
  monthsAhead: number,
  {prior}: {prior?: Gamma} = {}
): DemandPosterior | undefined {
  for (const x of counts) check(Number.isInteger(x) && x >= 0, "demandPosterior: counts", "counts", x);
  check(Number.isFinite(monthsAhead) && monthsAhead > 0, "demandPosterior: monthsAhead", "positive", monthsAhead);
  const {shape: a, rate: b} = prior ?? {shape: 0.5, rate: 0};
  check(
    a > 0 && b >= 0 && Number.isFinite(a + b),
    "demandPosterior: prior",
    "a positive shape and a rate of 0 or more",
    `${a}, ${b}`
  );
  const n = counts.length;
  const total = sum(counts);
  if (n < 6 || (total === 0 && prior === undefined)) return undefined;
  const level = total / n;
  const dispersion = level === 0 ? 1 : Math.max(1, sum(counts.map((x) => (x - level) ** 2)) / level / (n - 1));
  const posterior = {shape: a + total / dispersion, rate: b + n / dispersion};
  const rate = posterior.shape / posterior.rate;
  const mean = monthsAhead * rate;
  const ofRate = (monthsAhead / posterior.rate) ** 2 * posterior.shape;
  const own =
    level === 0
      ? undefined
      : momentSize(
          counts,
          counts.map(() => level),
          n - 1
        );
  const extra = ofRate + (own === undefined ? 0 : (monthsAhead * rate ** 2) / own);
  const size = mean ** 2 / extra;
  return {
    prior: {shape: a, rate: b},
    priorIs: prior === undefined ? "Jeffreys" : "given",
    posterior,
    dispersion,
    mean,
    size,
    sd: Math.sqrt(mean + extra),
    ...demandRange(mean, size),
    months: n,
    monthsAhead
  };
}

/**
 * A gamma prior for the rate of a month from months before, by moments: as far as they scattered beyond chance, so far the rate may lie.
 *
 *   shape = x̄²/(s² − x̄)        rate = x̄/(s² − x̄)
 *
 * Source: method of moments for the gamma–Poisson, Gelman et al. (2013), Bayesian Data Analysis, 3rd ed., section 2.7 (from memory).
 * Checked: tests/buying/demandPosterior.test.ts
 *
 * @returns undefined with fewer than 12 months, or where they scatter no more than chance: nothing is known of how far the rate may lie
 * @throws RangeError unless counts are counts
 */
export function monthPrior(counts: readonly number[]): Gamma | undefined {
  for (const x of counts) check(Number.isInteger(x) && x >= 0, "monthPrior: counts", "counts", x);
  const n = counts.length;
  if (n < 12) return undefined;
  const level = sum(counts) / n;
  const excess = sum(counts.map((x) => (x - level) ** 2)) / (n - 1) - level;
  return excess > 0 ? {shape: level ** 2 / excess, rate: level / excess} : undefined;
}
