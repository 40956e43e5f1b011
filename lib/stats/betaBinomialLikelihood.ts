import digamma from "@stdlib/math-base-special-digamma";
import gammaln from "@stdlib/math-base-special-gammaln";
import type {Rate} from "./betaBinomial.ts";
import {sum} from "./numbers.ts";
import {root} from "./root.ts";

/** A rate that occurs `times` times: many small groups have few different counts. */
export interface Repeated extends Rate {
  times: number;
}

/**
 * Equal rates taken together, each with how often it occurs, so that each is worked out once.
 *
 * Checked: tests/stats/betaBinomialLikelihood.test.ts
 */
export function repeated(rows: readonly Rate[]): Repeated[] {
  const kinds = new Map<string, Repeated>();
  for (const {successes, trials} of rows) {
    const key = `${successes} of ${trials}`;
    kinds.set(key, {successes, trials, times: (kinds.get(key)?.times ?? 0) + 1});
  }
  return [...kinds.values()];
}

/**
 * ln L as α + β → ∞: the binomial one, without its constant (`logChoose`); a pure number.
 *
 *   Σ x ln p + (n − x) ln(1 − p)        x of n in each group, p their common rate; 0·ln 0 = 0
 *
 * Checked: tests/reference/betaBinomial.test.ts, against R's dbinom (Geissler's families, seven suppliers).
 */
export function binomialLogLikelihood(rows: readonly Repeated[], p: number): number {
  const term = (x: number, share: number) => (x === 0 ? 0 : x * Math.log(share));
  return sum(rows.map(({successes: x, trials: n, times}) => times * (term(x, p) + term(n - x, 1 - p))));
}

/**
 * The precision α + β of greatest likelihood, a count of pieces; undefined when none is better than the binomial limit
 * by a millionth, which no data can tell from rounding. A first look at 0.01 to 150 000 in steps of a half on the log
 * scale, then the zero of the slope around the best of them.
 *
 * Range: a precision beyond 150 000 counts as the limit.
 * Source: as `fitBetaBinomial`. Checked: tests/reference/betaBinomial.test.ts, against R's optim and nlm.
 *
 * @param binomial `binomialLogLikelihood` of the same rows at their pooled rate
 */
export function betterPrecision(rows: readonly Repeated[], binomial: number): number | undefined {
  const grid = Array.from({length: 34}, (_, i) => Math.log(0.01) + i / 2);
  const heights = grid.map((log) => logLikelihoodAt(rows, ...shapesAt(rows, Math.exp(log))));
  const best = heights.indexOf(Math.max(...heights));
  if (heights[best]! < binomial + 1e-6 || best === grid.length - 1) return undefined;
  const slope = (log: number) => precisionSlope(rows, Math.exp(log));
  const rising = slope(grid[best]!) > 0;
  const ends: [number, number] = rising ? [grid[best]!, grid[best + 1]!] : [grid[best - 1] ?? -20, grid[best]!];
  return Math.exp(root(slope, ...ends));
}

/**
 * α and β of greatest likelihood for a given α + β: the likelihood is concave in α/(α + β).
 *
 * Source: as `fitBetaBinomial`. Checked: tests/reference/betaBinomial.test.ts, against R's optimize.
 */
export function shapesAt(rows: readonly Repeated[], precision: number): [number, number] {
  const slope = (mean: number) => {
    const {alpha, beta} = gradient(rows, precision * mean, precision * (1 - mean));
    return alpha - beta;
  };
  const mean = root(slope, 1e-12, 1 - 1e-12);
  return [precision * mean, precision * (1 - mean)];
}

/** d ln L/d(α + β) along the ridge of `shapesAt`. */
function precisionSlope(rows: readonly Repeated[], precision: number): number {
  const [alpha, beta] = shapesAt(rows, precision);
  const slope = gradient(rows, alpha, beta);
  return (alpha * slope.alpha + beta * slope.beta) / precision;
}

function gradient(rows: readonly Repeated[], alpha: number, beta: number): {alpha: number; beta: number} {
  const rising = (a: number, x: number) => (x === 0 ? 0 : digamma(a + x) - digamma(a));
  const slope = {alpha: 0, beta: 0};
  for (const {successes: x, trials: n, times} of rows) {
    const common = rising(alpha + beta, n);
    slope.alpha += times * (rising(alpha, x) - common);
    slope.beta += times * (rising(beta, n - x) - common);
  }
  return slope;
}

/**
 * ln L at α and β, without its constant (`logChoose`); a pure number.
 *
 *   Σ ln B(x + α, n − x + β) − ln B(α, β)        x of n in each group
 *
 * Source: as `fitBetaBinomial`. Checked: tests/reference/betaBinomial.test.ts, against R.
 */
export function logLikelihoodAt(rows: readonly Repeated[], alpha: number, beta: number): number {
  const rising = (a: number, x: number) => gammaln(a + x) - gammaln(a); // ln a(a + 1)…(a + x − 1)
  const term = ({successes: x, trials: n, times}: Repeated) =>
    times * (rising(alpha, x) + rising(beta, n - x) - rising(alpha + beta, n));
  return sum(rows.map(term));
}

/**
 * The constant of the likelihood, Σ ln C(n, x); a pure number. For whole counts only.
 *
 * Checked: tests/reference/betaBinomial.test.ts, with the likelihoods it completes.
 */
export function logChoose(rows: readonly Repeated[]): number {
  const term = ({successes: x, trials: n, times}: Repeated) =>
    times * (gammaln(n + 1) - gammaln(x + 1) - gammaln(n - x + 1));
  return sum(rows.map(term));
}
