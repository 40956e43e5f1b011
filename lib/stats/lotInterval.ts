import {check} from "../check.ts";
import {clusterWeights} from "./clusterWeights.ts";
import type {Interval} from "./interval.ts";
import {percentileInterval} from "./percentileInterval.ts";
import type {Random} from "./random.ts";

/** Fewer groups than this cannot stand for the groups not seen: their resampling intervals come out far too narrow. */
export const fewestClusters = 6;

/** How an interval by resampling is made. */
export interface Resampling {
  random: Random;
  resamples?: number;
  level?: number;
}

/**
 * Percentile interval of a statistic when whole clusters (lots) are drawn with replacement, in the statistic's own unit. Pieces
 * of one lot are alike, so drawing single pieces would promise too much.
 *
 * @param clusters how many there are; several numbers are groups (suppliers) that are resampled each within itself
 * @param statistic the value when cluster i counts weights[i] times; undefined where a resample cannot give one
 * @returns undefined with fewer than six clusters, or when over a tenth of the resamples give no value
 * Source: Davison & Hinkley (1997), Bootstrap Methods and their Application, §3.8 (from memory).
 * Checked: tests/stats/lotInterval.test.ts
 */
export function lotInterval(
  clusters: number | readonly number[],
  statistic: (weights: readonly number[]) => number | undefined,
  resampling: Resampling
): Interval | undefined {
  return lotIntervals(clusters, (weights) => [statistic(weights)], resampling)[0];
}

/** The same for several statistics of the same resamples: one interval each, in their order; the list may be empty. */
export function lotIntervals(
  clusters: number | readonly number[],
  statistics: (weights: readonly number[]) => readonly (number | undefined)[],
  {random, resamples = 499, level = 0.95}: Resampling
): (Interval | undefined)[] {
  check(
    Number.isInteger(resamples) && resamples >= 19,
    "lotInterval: resamples",
    "a whole number of 19 or more",
    resamples
  );
  const strata = typeof clusters === "number" ? [clusters] : clusters;
  if (Math.min(...strata) < fewestClusters) return [];
  const columns: number[][] = [];
  for (let i = 0; i < resamples; i++) {
    const values = statistics(strata.flatMap((count) => clusterWeights(count, random)));
    values.forEach((value, k) => {
      columns[k] ??= [];
      if (value !== undefined && Number.isFinite(value)) columns[k].push(value);
    });
  }
  return columns.map((values) => (values.length < 0.9 * resamples ? undefined : percentileInterval(values, level)));
}
