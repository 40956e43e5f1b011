import {checkCounts} from "./interval.ts";
import {sum} from "./numbers.ts";

/** Two groups of one stratum: how many each has, and how many of them had the event. */
export interface TwoGroups {
  events: number;
  n: number;
  otherEvents: number;
  otherN: number;
}

/** Two groups compared inside strata, all strata together. */
export interface MantelHaenszel {
  /** Strata that have both groups: the only ones that tell. */
  strata: number;
  /** Share of events in the first group less that in the other, fractions of 1. */
  difference: number;
  differenceVariance: number;
  /** Share of events in the first group as a multiple of that in the other; absent without an event in the other. */
  ratio?: number;
  /** Variance of the ratio's natural logarithm; absent also without an event in the first. */
  logRatioVariance?: number;
  /** Odds likewise. */
  odds?: number;
  logOddsVariance?: number;
}

/**
 * Two groups compared inside strata (lots): what is common to a stratum falls out, however few it has of each. With a of n and b of m having the
 * event and N = n + m in each stratum:
 *
 *   difference = Σ (a m − b n)/N ÷ Σ n m/N        ratio = Σ a m/N ÷ Σ b n/N        odds = R/S, R = Σ a(m − b)/N, S = Σ b(n − a)/N
 *   Var difference = (difference · Σ P + Σ Q)/(Σ n m/N)²        P = (n² b − m² a + n m (m − n)/2)/N²        Q = (a(m − b) + b(n − a))/2N
 *   Var ln ratio = Σ (n m (a + b) − a b N)/N² ÷ (Σ a m/N · Σ b n/N)
 *   Var ln odds = Σ P R/2R² + Σ (P S + Q R)/2RS + Σ Q S/2S², with R and S of the stratum in the sums and P = (a + m − b)/N, Q = (b + n − a)/N
 *
 * Traps: it is one difference for all strata; where they differ it is a mean that weighs strata with much of both groups most. The variances take pieces
 * of a stratum as independent but for what is common to them.
 * Source: Mantel & Haenszel (1959), J. Natl. Cancer Inst. 22:719–748; variances: Sato (1989), Biometrics 45:1323–1324; Greenland & Robins (1985),
 * Biometrics 41:55–68; Robins, Breslow & Greenland (1986), Biometrics 42:311–323.
 * Checked: tests/reference/mantelHaenszel.test.ts, against R, SAS and Agresti; tests/stats/mantelHaenszel.test.ts
 *
 * @returns undefined where no stratum has both groups
 * @throws RangeError unless all are counts, and events no more than there are
 */
export function mantelHaenszel(strata: readonly TwoGroups[]): MantelHaenszel | undefined {
  for (const {events, n, otherEvents, otherN} of strata) {
    checkCounts(events, n, "mantelHaenszel", ["events", "n"]);
    checkCounts(otherEvents, otherN, "mantelHaenszel", ["otherEvents", "otherN"]);
  }
  const both = strata.filter(({n, otherN}) => n > 0 && otherN > 0);
  if (both.length === 0) return undefined;
  const total = (f: (a: number, n: number, b: number, m: number, all: number) => number) =>
    sum(both.map(({events, n, otherEvents, otherN}) => f(events, n, otherEvents, otherN, n + otherN)));
  const {weight, above, below, ...estimates} = inside(both);
  const {difference} = estimates;
  const p = total((a, n, b, m, all) => (n ** 2 * b - m ** 2 * a + (n * m * (m - n)) / 2) / all ** 2);
  const q = total((a, n, b, m, all) => (a * (m - b) + b * (n - a)) / (2 * all));
  const r = total((a, _, b, m, all) => (a * (m - b)) / all);
  const s = total((a, n, b, _, all) => (b * (n - a)) / all);
  const c = total((a, n, b, m, all) => (n * m * (a + b) - a * b * all) / all ** 2);
  const pr = total((a, _, b, m, all) => ((a + m - b) * a * (m - b)) / all ** 2);
  const mixed = total((a, n, b, m, all) => ((a + m - b) * b * (n - a) + (b + n - a) * a * (m - b)) / all ** 2);
  const qs = total((a, n, b, _, all) => ((b + n - a) * b * (n - a)) / all ** 2);
  return {
    strata: both.length,
    ...estimates,
    differenceVariance: (difference * p + q) / weight ** 2,
    ...(below > 0 && above > 0 && {logRatioVariance: c / (above * below)}),
    ...(s > 0 && {odds: r / s}),
    ...(s > 0 && r > 0 && {logOddsVariance: pr / (2 * r ** 2) + mixed / (2 * r * s) + qs / (2 * s ** 2)})
  };
}

/**
 * The difference and the ratio of `mantelHaenszel` alone, for whoever asks again and again, leaving some strata out.
 *
 * Checked: tests/stats/mantelHaenszel.test.ts, against `mantelHaenszel`
 *
 * @returns undefined where no stratum has both groups
 */
export function mantelHaenszelEstimates(
  strata: readonly TwoGroups[]
): Pick<MantelHaenszel, "difference" | "ratio"> | undefined {
  const {weight, above: _, below: __, ...estimates} = inside(strata);
  return weight > 0 ? estimates : undefined;
}

/** Σ n m/N, Σ a m/N and Σ b n/N with what they make. */
function inside(strata: readonly TwoGroups[]) {
  let [weight, above, below] = [0, 0, 0];
  for (const {events, n, otherEvents, otherN} of strata) {
    if (n === 0 || otherN === 0) continue;
    const all = n + otherN;
    weight += (n * otherN) / all;
    above += (events * otherN) / all;
    below += (otherEvents * n) / all;
  }
  return {weight, above, below, difference: (above - below) / weight, ...(below > 0 && {ratio: above / below})};
}
