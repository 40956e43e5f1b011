import gammaln from "@stdlib/math-base-special-gammaln";
import {check} from "../check.ts";
import {type BetaShape, betaMoments, type ShareMoments} from "./betaMoments.ts";
import {sum} from "./numbers.ts";
import {root} from "./root.ts";

/**
 * Mean and variance of the product of independent uncertain shares: a yield over several stages, or yield times the
 * share inside a window.
 *
 *   mean = ∏ mᵢ    variance = ∏ (vᵢ + mᵢ²) − ∏ mᵢ²        mᵢ mean and vᵢ variance of Beta(αᵢ, βᵢ)
 *
 * Source: Goodman (1960), JASA 55:708–713 (from memory).
 * Checked: tests/reference/purchasePlan.test.ts and rolledYield.test.ts, against R.
 *
 * @throws RangeError unless every alpha and beta is positive
 */
export function betaProductMoments(shapes: readonly BetaShape[]): ShareMoments {
  const moments = shapes.map(betaMoments);
  const mean = moments.reduce((product, m) => product * m.mean, 1);
  const second = moments.reduce((product, m) => product * (m.variance + m.mean ** 2), 1);
  return {mean, variance: second - mean ** 2};
}

/**
 * Chance that the product of independent uncertain shares is at most `x`, a probability.
 *
 *   P(∏ pᵢ ≤ x) = 1 − L⁻¹[M(s)/s](y)    y = −ln x    M(s) = E ∏ pᵢˢ = ∏ Γ(αᵢ + s)Γ(αᵢ + βᵢ)/(Γ(αᵢ)Γ(αᵢ + βᵢ + s))
 *
 * The Laplace transform is taken back as a Fourier series, its slow end summed by Euler's averages.
 *
 * Range: the βᵢ add up to at least ½, else the chance close to x = 1 is too steep for the series.
 * Error: below 1e-8 for shapes of up to some hundred pieces and βᵢ that add up to 1 or more, 1e-5 beyond.
 *
 * Source: Abate and Whitt (1995), ORSA J. Comput. 7:36–43, algorithm Euler (from memory); Mellin transform of a Beta:
 * Springer and Thompson (1970), SIAM J. Appl. Math. 18:721–737 (from memory).
 * Checked: tests/reference/rolledYield.test.ts, against a numerical convolution in R; tests/stats/betaProduct.test.ts,
 * against the single Beta and closed forms.
 *
 * @throws RangeError unless every alpha and beta is positive and the betas add up to at least 0.5
 */
export function betaProductCdf(x: number, shapes: readonly BetaShape[]): number {
  for (const shape of shapes) betaMoments(shape); // refuses what is no shape
  const betas = sum(shapes.map(({beta}) => beta));
  check(betas >= 0.5, "betaProductCdf: shapes", "of betas that add up to at least 0.5", betas);
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const y = -Math.log(x);
  const a = 25; // the error of the series is e^(−a), its rounding e^(a/2) times that of the terms
  const term = (k: number) => transform(a / (2 * y), (k * Math.PI) / y, shapes) * (k % 2 === 0 ? 1 : -1);
  let partial = term(0) / 2;
  const sums: number[] = [];
  const direct = 60 + Math.ceil(10 * y * Math.sqrt(sum(shapes.map(({alpha, beta}) => alpha + beta))));
  for (let k = 1; k <= direct + averages; k++) {
    partial += term(k);
    if (k >= direct) sums.push(partial);
  }
  const mean = sums.reduce((total, value, j) => total + value * binomials[j]!, 0) / 2 ** averages;
  return Math.min(1, Math.max(0, 1 - (Math.exp(a / 2) / y) * mean));
}

/** Euler's averages are over so many sums more than one. */
const averages = 14;
const binomials = Array.from({length: averages + 1}, (_, j) =>
  Math.round(Math.exp(gammaln(averages + 1) - gammaln(j + 1) - gammaln(averages - j + 1)))
);

/**
 * The product of independent uncertain shares below which it lies with chance `p`, a fraction of 1. With each stage's
 * Beta(passed + ½, failed + ½) and p = (1 ∓ level)/2 these are the Jeffreys limits of a rolled yield.
 *
 * Source: as `betaProductCdf`, of which it is the inverse.
 * Checked: tests/reference/rolledYield.test.ts, against a numerical convolution in R.
 *
 * @throws RangeError unless 0 < p < 1, and as `betaProductCdf`
 */
export function betaProductQuantile(p: number, shapes: readonly BetaShape[]): number {
  check(p > 0 && p < 1, "betaProductQuantile: p", "strictly between 0 and 1", p);
  return root((x) => betaProductCdf(x, shapes) - p, 0, 1);
}

/** Re M(s)/s at s = re + i·im. */
function transform(re: number, im: number, shapes: readonly BetaShape[]): number {
  let [log, angle] = [-Math.log(Math.hypot(re, im)), -Math.atan2(im, re)];
  for (const {alpha, beta} of shapes) {
    const [up, down] = [logGamma(alpha + re, im), logGamma(alpha + beta + re, im)];
    log += up[0] - down[0] + gammaln(alpha + beta) - gammaln(alpha);
    angle += up[1] - down[1];
  }
  return Math.exp(log) * Math.cos(angle);
}

/** ln Γ(re + i·im) for re > 0, as real part and angle: Stirling's series from 12 on, Γ(z) = Γ(z + 1)/z below. */
function logGamma(re: number, im: number): [number, number] {
  let [log, angle, x] = [0, 0, re];
  for (; x < 12; x++) {
    log -= Math.log(Math.hypot(x, im));
    angle -= Math.atan2(im, x);
  }
  const [r, phi] = [Math.hypot(x, im), Math.atan2(im, x)];
  log += (x - 0.5) * Math.log(r) - im * phi - x + 0.5 * Math.log(2 * Math.PI);
  angle += (x - 0.5) * phi + im * Math.log(r) - im;
  [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188].forEach((factor, k) => {
    const power = 2 * k + 1;
    log += (factor / r ** power) * Math.cos(power * phi);
    angle -= (factor / r ** power) * Math.sin(power * phi);
  });
  return [log, angle];
}
