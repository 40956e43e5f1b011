import {check} from "../check.ts";
import {clusterMeanInterval, clusterShareInterval} from "./clusterInterval.ts";
import {clusterJackknife} from "./clusterJackknife.ts";
import {type ClusterTable, clusterTable, endedByCause} from "./clusterTable.ts";
import {firstAfter, type Spell} from "./eventTable.ts";
import type {Interval} from "./interval.ts";
import {sum} from "./numbers.ts";

/** When pieces end by one cause, of those that end by it at all. Times in the unit of the spells. */
export interface EndingTimes {
  /** Pieces seen to end so. */
  ended: number;
  /** Clusters (lots) with a piece seen at all. */
  clusters: number;
  /** Share of all pieces that will end so, F(∞), a fraction of 1. */
  endShare: number;
  /** Share that has ended so by a time, of those that will: from 0 to 1. */
  shareBy: (time: number) => number;
  /** 95 % interval of that share, from how clusters differ; undefined with fewer than four. */
  shareInterval: (time: number, options?: {level?: number}) => Interval | undefined;
  /** The time by which a share of them has ended: the smallest t with shareBy(t) ≥ p. */
  quantile: (p: number) => number;
  /** Where that time lies in 95 of 100 cases, from how clusters differ; undefined with fewer than four. */
  quantileInterval: (p: number, options?: {level?: number}) => Interval | undefined;
  mean: number;
  meanInterval: (options?: {level?: number}) => Interval | undefined;
  /** The mean when cluster i counts `weights[i]` times, `out` as in `clusterTable`; undefined where nothing ends so. */
  meanOf: (weights: readonly number[], out?: readonly number[]) => number | undefined;
}

/** Sums of shares reach a share given only but for rounding. */
const slack = 1e-12;

/**
 * The times at which pieces end by one cause (a stage passed, a shaft finished), of those that end by it, with pieces still going on taken for
 * what they are: not ended.
 *
 *   G(t) = F(t)/F(∞)    F the Aalen–Johansen cumulative incidence of the cause, ∞ the last event seen
 *   mean = Σ t ΔG(t)    quantile(p) = smallest t with G(t) ≥ p
 *   limits of the quantile = quantile(p₋), quantile(p₊) with p₋, p₊ the limits of the share p by lots, its variance that of G(t) at t = quantile(p)
 *
 * Trap: of what takes longer than anything yet followed nothing is known, so in a young book times are too short.
 *
 * Source: Aalen and Johansen (1978), Scand. J. Statist. 5:141–150; Woodruff (1952), J. Amer. Statist. Assoc. 47:635–646, for the limits of the
 * quantile (both from memory); the jackknife by lots as `clusterJackknife`.
 * Checked: tests/stats/endingTimes.test.ts, by hand, against `aalenJohansen`, and coverage in simulated lots
 *
 * @param clusters the spells of each cluster (lot), or their table
 * @returns undefined when none has ended by the cause
 * @throws RangeError on impossible spells (see `eventTable`), and unless p is between 0 and 1
 */
export function endingTimes(
  clusters: readonly (readonly Spell[])[] | ClusterTable,
  cause: string
): EndingTimes | undefined {
  const table = "sums" in clusters ? clusters : clusterTable(clusters, "endingTimes");
  const {times, causes, sums, pieces} = table;
  const ended = endedByCause(table).get(cause);
  if (ended === undefined) return undefined;
  const ours = causes.indexOf(cause);
  /** F after each time when cluster i counts weights[i] times. */
  const incidence = (weights?: readonly number[], out?: readonly number[]): number[] => {
    const {change, events, ended: ends} = sums(weights, out);
    let [survival, fraction, n] = [1, 0, 0];
    return times.map((_, row) => {
      n += change[row]!;
      const d = ends[row]!;
      if (n > 0) fraction += (survival * events[row * causes.length + ours]!) / n;
      if (n > 0) survival *= Math.max(0, 1 - d / n);
      return fraction;
    });
  };
  /** G after each time. */
  const shares = (weights?: readonly number[], out?: readonly number[]): number[] | undefined => {
    const steps = incidence(weights, out);
    const end = steps.at(-1)!;
    return end > 0 ? steps.map((step) => step / end) : undefined;
  };
  const whole = shares()!;
  const meanOfShares = (steps: readonly number[] | undefined) =>
    steps && sum(steps.map((step, row) => times[row]! * (step - (row === 0 ? 0 : steps[row - 1]!))));
  const present = pieces.flatMap((own, i) => (own > 0 ? [i] : []));
  // Each way to leave some out is worked out once. Clusters without a piece change nothing, whatever they count.
  const known = new Map<number | undefined, number[] | undefined>();
  const without = (out?: readonly number[]) => {
    if (!out) return whole;
    if (!known.has(out[0]))
      known.set(
        out[0],
        shares(
          undefined,
          out.map((k) => present[k]!)
        )
      );
    return known.get(out[0]);
  };
  const quantile = (p: number) => {
    check(p >= 0 && p <= 1, "endingTimes: p", "between 0 and 1", p);
    return times[whole.findIndex((share) => share >= p - slack)]!;
  };
  /** The share after a row of the times (−1: before the first), with its variance by leaving clusters out. */
  const estimateAt = (row: number) =>
    clusterJackknife(present.length, (_, out) => [row < 0 ? 0 : without(out)?.[row]])[0];
  return {
    ended,
    clusters: present.length,
    endShare: Math.min(1, incidence().at(-1)!), // the sum can come to 1 + 2e-16
    shareBy: (time) => whole[firstAfter(times, time) - 1] ?? 0,
    shareInterval: (time, {level = 0.95} = {}) => {
      const estimate = estimateAt(firstAfter(times, time) - 1);
      return estimate && clusterShareInterval(estimate, ended, {level});
    },
    quantile,
    quantileInterval: (p, {level = 0.95} = {}) => {
      const estimate = estimateAt(times.indexOf(quantile(p)));
      if (!estimate) return undefined;
      const {low, high} = clusterShareInterval({...estimate, estimate: p}, ended, {level});
      return {low: quantile(low), high: quantile(high)};
    },
    mean: meanOfShares(whole)!,
    meanInterval: ({level = 0.95} = {}) => {
      const [estimate] = clusterJackknife(present.length, (_, out) => [meanOfShares(without(out))]);
      return estimate && clusterMeanInterval(estimate, {level});
    },
    meanOf: (weights, out) => meanOfShares(shares(weights, out))
  };
}
