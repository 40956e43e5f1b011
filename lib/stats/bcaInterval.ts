import cdf from "@stdlib/stats-base-dists-normal-cdf";
import {checkLevel, type Interval} from "./interval.ts";
import {normalQuantile} from "./normalQuantile.ts";
import {ascending} from "./numbers.ts";
import {sortedQuantile} from "./quantile.ts";

/** What the corrected percentiles need besides the replicates. */
export interface BcaInputs {
  /** The statistic of the sample itself. */
  estimate: number;
  /** See `jackknifeAcceleration`. */
  acceleration: number;
  level?: number;
}

/**
 * Bias-corrected and accelerated (BCa) interval of bootstrap replicates, in their unit.
 *
 *   z₀ = Φ⁻¹( share of replicates below the estimate + half the share equal to it )
 *   α(p) = Φ( z₀ + (z₀ + Φ⁻¹p)/(1 − a(z₀ + Φ⁻¹p)) )    limits = type-7 quantiles at α((1 ∓ level)/2)
 *
 * Replicates count as equal to the estimate within 1e-12 of its size: the same pieces in another order
 * give the same spread but for rounding.
 *
 * Source: Efron (1987), JASA 82:171–185; Efron and Tibshirani (1993), section 14.3.
 * Checked: tests/reference/bootstrap.test.ts, against a full enumeration in R.
 *
 * @returns undefined without replicates, when one is NaN, or when all lie on one side of the estimate
 * @throws RangeError unless 0 < level < 1
 */
export function bcaInterval(replicates: readonly number[], inputs: BcaInputs): Interval | undefined {
  const {estimate, acceleration, level = 0.95} = inputs;
  checkLevel(level, "bcaInterval");
  if (replicates.length === 0 || replicates.some(Number.isNaN)) return undefined;
  const z0 = biasCorrection(replicates, estimate);
  if (!Number.isFinite(z0)) return undefined;
  const sorted = ascending(replicates);
  const [low, high] = [1 - level, 1 + level].map((twice) => correctedShare(twice / 2, z0, acceleration)) as [
    number,
    number
  ];
  return {low: sortedQuantile(sorted, low)!, high: sortedQuantile(sorted, high)!};
}

/**
 * α(p) of `bcaInterval`, a fraction of 1: the share of replicates to read at instead of `p`.
 *
 * Source: Efron and Tibshirani (1993), equation 14.10 (from memory).
 * Checked: tests/reference/bootstrap.test.ts, against a full enumeration in R.
 */
export function correctedShare(p: number, z0: number, acceleration: number): number {
  const z = z0 + normalQuantile(p);
  return cdf(z0 + z / (1 - acceleration * z), 0, 1);
}

/**
 * z₀ of `bcaInterval`, in standard deviations: infinite when no replicate lies below, or none above, the estimate.
 *
 * Source: Efron and Tibshirani (1993), equation 14.14 (from memory), with half the ties.
 * Checked: tests/reference/bootstrap.test.ts, against a full enumeration in R.
 */
export function biasCorrection(replicates: readonly number[], estimate: number): number {
  const near = 1e-12 * Math.abs(estimate);
  const equal = replicates.filter((value) => Math.abs(value - estimate) <= near).length;
  const below = replicates.filter((value) => value < estimate - near).length;
  return normalQuantile((below + equal / 2) / replicates.length);
}
