import {check} from "../check.ts";
import type {ClusterEstimate} from "./clusterJackknife.ts";
import {type Interval, normalFactor, studentFactor} from "./interval.ts";
import {wilsonLimits} from "./wilson.ts";

/**
 * How many independent pieces would tell as much of a share as these pieces of a few lots do.
 *
 *   n* = p (1 − p)/v · (z/t)²        at most the pieces there are
 *   z of the normal, t of Student's law with k − 1 degrees of freedom: few lots say less, as their own scatter is hardly known
 *
 * Source: Korn & Graubard (1998), Survey Methodology 24:193–201, with the pieces as bound of the corrected number (from memory).
 * Checked: tests/reference/clusterJackknife.test.ts, against R package survey; tests/stats/clusterInterval.test.ts
 *
 * @param pieces decided, of all lots; a positive number
 * @throws RangeError unless 0 ≤ p ≤ 1 (1e-9 of rounding is let pass)
 */
export function effectiveCount(share: ClusterEstimate, pieces: number, {level = 0.95} = {}): number {
  const {estimate, variance, clusters} = share;
  check(estimate > -1e-9 && estimate < 1 + 1e-9, "effectiveCount: estimate", "between 0 and 1", estimate);
  check(pieces > 0, "effectiveCount: pieces", "positive", pieces);
  const factor = normalFactor(level, "effectiveCount") / studentFactor(level, clusters - 1, "effectiveCount");
  // Where all or none came through, or every lot gave the same, the scatter is rounding.
  if (estimate < 1e-9 || estimate > 1 - 1e-9 || variance < 1e-18) return pieces;
  return Math.min(pieces, ((estimate * (1 - estimate)) / variance) * factor ** 2);
}

/**
 * Interval for a share that was estimated from whole lots, fractions of 1: Wilson's, at the number of independent pieces that tell as much
 * (`effectiveCount`). It has a width when every lot gave the same, or no piece failed.
 *
 * Checked: tests/stats/clusterInterval.test.ts; its coverage in the contributor's guide
 *
 * @param pieces decided, of all lots; a positive number
 * @throws RangeError as `effectiveCount`
 */
export function clusterShareInterval(share: ClusterEstimate, pieces: number, {level = 0.95} = {}): Interval {
  const p = Math.min(1, Math.max(0, share.estimate));
  return wilsonLimits(p, effectiveCount(share, pieces, {level}), normalFactor(level, "clusterShareInterval"));
}

/**
 * Interval for a mean that was estimated from whole lots, in its unit: estimate ∓ t √v, Student's law with k − 1 degrees of freedom.
 *
 * Checked: tests/stats/clusterInterval.test.ts, against R's t.test on the means of like lots; its coverage in the contributor's guide
 */
export function clusterMeanInterval({estimate, variance, clusters}: ClusterEstimate, {level = 0.95} = {}): Interval {
  const half = studentFactor(level, clusters - 1, "clusterMeanInterval") * Math.sqrt(variance);
  return {low: estimate - half, high: estimate + half};
}

/**
 * Interval for a positive quantity (a standard deviation, a cost, the ratio of two), in its unit, from its logarithm or from the logarithms
 * that add up to it, each estimated from lots of its own.
 *
 *   exp( Σ θ ∓ t √V )        V = Σ v, t with 1 / Σ ((v/V)²/(k − 1)) degrees of freedom
 *
 * Source: Satterthwaite (1946), Biometrics Bulletin 2:110–114, for the degrees of freedom (from memory).
 * Checked: tests/stats/clusterInterval.test.ts; its coverage in the contributor's guide
 */
export function clusterLogInterval(logs: readonly ClusterEstimate[], {level = 0.95} = {}): Interval {
  const total = (f: (log: ClusterEstimate) => number) => logs.reduce((sum, log) => sum + f(log), 0);
  const [estimate, variance] = [total((log) => log.estimate), total((log) => log.variance)];
  const freedom = 1 / total((log) => (log.variance / variance) ** 2 / (log.clusters - 1));
  const half = variance > 0 ? studentFactor(level, freedom, "clusterLogInterval") * Math.sqrt(variance) : 0;
  return {low: Math.exp(estimate - half), high: Math.exp(estimate + half)};
}
