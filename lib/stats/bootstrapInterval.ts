import {check} from "../check.ts";
import {bcaInterval} from "./bcaInterval.ts";
import {checkLevel, type Interval} from "./interval.ts";
import {jackknifeAcceleration} from "./jackknifeAcceleration.ts";
import {checkNumbers} from "./numbers.ts";
import {percentileInterval} from "./percentileInterval.ts";
import type {Random} from "./random.ts";

/** A number computed from a sample, in whatever order; undefined where the sample gives none. */
export type Statistic = (sample: readonly number[]) => number | undefined;

export interface BootstrapOptions {
  random: Random;
  level?: number;
  /** How many resamples; 1999 unless set. */
  resamples?: number;
  /** "bca" unless set: see `bcaInterval`; "basic" is the percentile interval mirrored at the estimate. */
  method?: "percentile" | "basic" | "bca";
}

/**
 * Bootstrap interval of any statistic of independent pieces, in its unit: the sample is drawn again with replacement,
 * many times. Pieces of one lot are not independent: leave out whole lots there (`clusterJackknife`).
 *
 *   percentile   [q(α/2), q(1 − α/2)]            q quantiles of the replicates, α = 1 − level
 *   basic        [2θ − q(1 − α/2), 2θ − q(α/2)]    θ the statistic of the sample
 *   bca          percentiles corrected for bias and skewness
 *
 * From few pieces all three promise too much: of 90 % intervals for a deviation, "bca" held the truth in 76 % of
 * samples of 10 normal values and in 87 % of samples of 40 ("percentile" 74 and 85 %, nearly all misses too low).
 *
 * Source: Efron and Tibshirani (1993), chapters 13 and 14; Davison and Hinkley (1997), chapter 5 (basic).
 * Checked: tests/reference/bootstrap.test.ts, against R's enumeration of all resamples.
 *
 * @returns undefined when the sample or one of its resamples gives no value, or all values are the same
 * @throws RangeError unless values are finite, resamples is at least 99 and 0 < level < 1
 */
export function bootstrapInterval(
  values: readonly number[],
  statistic: Statistic,
  {random, level = 0.95, resamples = 1999, method = "bca"}: BootstrapOptions
): Interval | undefined {
  checkNumbers(values, "bootstrapInterval: values");
  checkLevel(level, "bootstrapInterval");
  const enough = Number.isInteger(resamples) && resamples >= 99;
  check(enough, "bootstrapInterval: resamples", "a whole number from 99 on", resamples);
  const estimate = statistic(values);
  if (estimate === undefined || new Set(values).size < 2) return undefined;
  const replicates: number[] = [];
  for (let i = 0; i < resamples; i++) {
    const sample = values.slice();
    for (let k = 0; k < sample.length; k++) sample[k] = values[Math.floor(random() * values.length)]!;
    replicates.push(statistic(sample) ?? Number.NaN);
  }
  if (method === "bca") {
    const acceleration = jackknifeAcceleration(values, statistic);
    return acceleration === undefined ? undefined : bcaInterval(replicates, {estimate, acceleration, level});
  }
  const interval = percentileInterval(replicates, level);
  if (interval === undefined || method === "percentile") return interval;
  return {low: 2 * estimate - interval.high, high: 2 * estimate - interval.low};
}
