import digamma from "@stdlib/math-base-special-digamma";
import gammaln from "@stdlib/math-base-special-gammaln";
import betaCdf from "@stdlib/stats-base-dists-beta-cdf";
import gammaCdf from "@stdlib/stats-base-dists-gamma-cdf";
import poisson from "@stdlib/stats-base-dists-poisson-pmf";
import {check} from "../check.ts";
import {mean} from "./mean.ts";
import {sum} from "./numbers.ts";
import {root} from "./root.ts";

/**
 * Probabilities of the counts 0, 1, …, upTo, for counts that scatter more than chance (demand): negative binomial.
 *
 *   P(k) = Γ(k + r)/(k!·Γ(r)) · (r/(r + m))^r · (m/(r + m))^k        variance m + m²/r
 *          = m^k/k! · (1 + m/r)^−(r + k) · ∏ (1 + i/r) over i < k
 *   r size, m mean; r = Infinity is the Poisson distribution
 *
 * Computed in the second form: a library's r/(r + m) loses m where r is large.
 *
 * Source: Johnson, Kemp and Kotz (2005), Univariate Discrete Distributions, chapter 5.
 * Checked: tests/reference/countModels.test.ts, against R's dnbinom and dpois.
 *
 * @returns upTo + 1 numbers, adding up to 1 less the tail beyond upTo
 * @throws RangeError unless size is positive, mean 0 or more, upTo a count
 */
export function negativeBinomialPmf(size: number, mean: number, upTo: number): number[] {
  checkShape(size, mean, upTo, "negativeBinomialPmf");
  let logRising = 0; // Σ ln(1 + i/r) over i < k
  return Array.from({length: upTo + 1}, (_, k) => {
    if (mean === 0) return k === 0 ? 1 : 0;
    if (size === Number.POSITIVE_INFINITY) return poisson(k, mean);
    if (k > 0) logRising += Math.log1p((k - 1) / size);
    return Math.exp(logRising + k * Math.log(mean) - gammaln(k + 1) - (k + size) * Math.log1p(mean / size));
  });
}

/**
 * Probabilities of more than 0, 1, …, upTo: P(D > k), each to full relative precision, however small.
 *
 *   P(D > k) = I_{m/(r + m)}(k + 1, r)    the regularised incomplete beta; Poisson: the incomplete gamma P(k + 1, m)
 *
 * Source: Johnson, Kemp and Kotz (2005), equation 5.31 (from memory).
 * Checked: tests/reference/countModels.test.ts, against R's pnbinom and ppois.
 *
 * @returns upTo + 1 numbers, falling
 * @throws RangeError unless size is positive (Infinity for Poisson), mean 0 or more, upTo a count
 */
export function negativeBinomialTail(size: number, mean: number, upTo: number): number[] {
  checkShape(size, mean, upTo, "negativeBinomialTail");
  return Array.from({length: upTo + 1}, (_, k) => {
    if (mean === 0) return 0;
    return size === Number.POSITIVE_INFINITY ? gammaCdf(mean, k + 1, 1) : betaCdf(mean / (size + mean), k + 1, size);
  });
}

export interface NegativeBinomialFit {
  mean: number;
  /** Absent when the counts scatter no more than chance: Poisson. */
  size?: number;
  logLikelihood: number;
}

/**
 * Negative binomial fit to counts by maximum likelihood; the mean is theirs, the size solves `fitSize`.
 *
 * Few counts (a dozen seasons) say little about the size.
 *
 * Source: Bliss and Fisher (1953), Biometrics 9:176–200.
 * Checked: tests/reference/countModels.test.ts, against their count of mites on 150 leaves and R.
 *
 * @returns undefined without counts; without `size` when their variance is not above their mean
 * @throws RangeError unless all are counts
 */
export function fitNegativeBinomial(counts: readonly number[]): NegativeBinomialFit | undefined {
  const m = mean(counts);
  if (m === undefined) return undefined;
  const size = fitSize(
    counts,
    counts.map(() => m)
  );
  const logLikelihood = sum(counts.map((count) => logProbability(count, m, size)));
  return {mean: m, ...(size !== undefined && {size}), logLikelihood};
}

/**
 * Size of a negative binomial by maximum likelihood for counts with known (fitted) means: how much they scatter
 * beyond chance. Small size, wide scatter; variance mᵢ + mᵢ²/r.
 *
 *   Σ ψ(xᵢ + r) − ψ(r) + ln(r/(r + mᵢ)) + 1 − (xᵢ + r)/(r + mᵢ) = 0
 *
 * Source: Lawless (1987), Canad. J. Statist. 15:209–225.
 * Checked: tests/reference/countModels.test.ts, against R's MASS::theta.ml.
 *
 * @returns undefined, for Poisson, when Σ (xᵢ − mᵢ)² ≤ Σ xᵢ, or when the size would be above a million
 * @throws RangeError unless counts are counts, and means positive (0 only for a count of 0) and as many
 */
export function fitSize(counts: readonly number[], means: readonly number[]): number | undefined {
  check(means.length === counts.length, "fitSize: means", `${counts.length} numbers`, means.length);
  counts.forEach((x, i) => {
    check(Number.isInteger(x) && x >= 0, "fitSize: counts", "counts", x);
    const m = means[i]!;
    check(Number.isFinite(m) && (m > 0 || (m === 0 && x === 0)), "fitSize: means", "positive", m);
  });
  const excess = sum(counts.map((x, i) => (x - means[i]!) ** 2 - x));
  if (excess <= 0) return undefined;
  const slope = (logSize: number) => {
    const r = Math.exp(logSize);
    const term = (x: number, m: number) => digamma(x + r) - digamma(r) - Math.log1p(m / r) + (m - x) / (r + m);
    return sum(counts.map((x, i) => term(x, means[i]!)));
  };
  const [low, high] = [Math.log(1e-6), Math.log(1e6)];
  return slope(high) >= 0 || slope(low) <= 0 ? undefined : Math.exp(root(slope, low, high));
}

/** ln P(count); size undefined is Poisson. */
function logProbability(count: number, mean: number, size: number | undefined): number {
  if (mean === 0) return 0;
  if (size === undefined) return count * Math.log(mean) - mean - gammaln(count + 1);
  const choose = gammaln(count + size) - gammaln(size) - gammaln(count + 1);
  return choose - size * Math.log1p(mean / size) + count * Math.log(mean / (size + mean));
}

function checkShape(size: number, mean: number, upTo: number, where: string): void {
  check(size > 0, `${where}: size`, "positive", size);
  check(Number.isFinite(mean) && mean >= 0, `${where}: mean`, "0 or more", mean);
  check(Number.isInteger(upTo) && upTo >= 0, `${where}: upTo`, "a count", upTo);
}
