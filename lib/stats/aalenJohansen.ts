import {check} from "../check.ts";
import {type EventTable, eventTable, firstAfter, type Spell} from "./eventTable.ts";
import {normalFactor} from "./interval.ts";
import {allEvents} from "./kaplanMeier.ts";

/** One cause's cumulative incidence: one value for each time of the curve, all fractions of 1. */
export interface Incidence {
  fraction: number[];
  /** Standard error by the delta method; 0 while the fraction is 0. */
  se: number[];
  /** Log-log limits; undefined where the fraction is 0 or 1. */
  low: (number | undefined)[];
  high: (number | undefined)[];
}

/** Shares of the pieces by what became of them, at each event time. */
export interface IncidenceCurve {
  /** Distinct event times, ascending, in the unit of the spells. */
  times: number[];
  atRisk: number[];
  /** Share without any event yet just after that time; with the incidences it adds up to 1. */
  survival: number[];
  /** The latest time at which any piece was seen: beyond it the curves are not known. */
  lastObserved: number;
  causes: string[];
  incidence: Record<string, Incidence>;
}

/**
 * Share of pieces that had ended by each cause at each event time (Aalen–Johansen cumulative incidence), as
 * fractions of 1, with delta-method standard errors and log-log limits. Pieces still going on are right-censored:
 * neither passed nor failed.
 *
 *   F_k(t) = Σ S(u−)·d_k/n        S the Kaplan–Meier curve of all causes together, over times u ≤ t
 *   Var F_k(t) = Σ (F(t) − F(u))²·d/(n(n − d)) + Σ S(u−)²·d_k(n − d_k)/n³ − 2 Σ (F(t) − F(u))·S(u−)·d_k/n²
 *   with `variance: "aalen"`, a little larger, terms that divide by 0 left out:
 *     Σ (F(t) − F(u))²·d/((n − 1)(n − d)) + Σ S(u−)²·d_k(n − d_k)/((n − 1)n²)
 *     − 2 Σ (F(t) − F(u))·S(u−)·d_k(n − d_k)/(n(n − d)(n − 1))
 *   limits = F^exp(±z·se/(F ln F))
 *   d_k events of cause k, d of all causes, n pieces at risk at u; the first sum has no term where n = d
 *
 * Traps: the standard error takes pieces as independent. Pieces of one lot are alike: leave out whole lots
 * (`clusterJackknife`). Aalen's variance is what some programs print unasked: it differs in
 * the third digit, and from program to program where several events share a time.
 *
 * Source: Aalen and Johansen (1978), Scand. J. Statist. 5:141–150; variances: Marubini and Valsecchi (1995),
 * Analysing Survival Data, section 10.2 (from memory; the first equals R's infinitesimal jackknife); Aalen (1978),
 * Ann. Statist. 6:534–545.
 * Checked: tests/reference/aalenJohansen.test.ts, against two published data sets, SAS and R (survival, cmprsk).
 *
 * @throws RangeError on impossible spells (see `eventTable`) and unless 0 < level < 1
 */
export function aalenJohansen(
  spells: readonly Spell[] | EventTable,
  {level = 0.95, variance = "delta"}: {level?: number; variance?: "delta" | "aalen"} = {}
): IncidenceCurve {
  const z = normalFactor(level, "aalenJohansen");
  const table = "times" in spells ? spells : eventTable(spells);
  const all = allEvents(table);
  let survival = 1;
  const survivals = table.atRisk.map((n, row) => (survival *= (n - all[row]!) / n));
  const incidence = table.causes.map((cause) => [
    cause,
    causeIncidence(table, all, survivals, cause, z, variance === "aalen")
  ]);
  const {times, atRisk, causes, lastObserved} = table;
  return {times, atRisk, survival: survivals, lastObserved, causes, incidence: Object.fromEntries(incidence)};
}

/**
 * One pass over the times. The sums over u are carried along: when F grows by δ, Σ(F − F(u))²a grows by
 * 2δΣ(F − F(u))a + δ²Σa, so nothing large is subtracted from anything large and no time is visited twice.
 */
function causeIncidence(
  {atRisk, events}: EventTable,
  all: number[],
  survivals: number[],
  cause: string,
  z: number,
  aalen: boolean
) {
  const result: Incidence = {fraction: [], se: [], low: [], high: []};
  let [fraction, a0, a1, a2, b, c0, c1] = [0, 0, 0, 0, 0, 0, 0];
  events[cause]!.forEach((dk, row) => {
    const n = atRisk[row]!;
    const d = all[row]!;
    const before = row === 0 ? 1 : survivals[row - 1]!;
    const growth = (before * dk) / n;
    fraction += growth;
    a2 += growth * (2 * a1 + growth * a0);
    a1 += growth * a0;
    c1 += growth * c0;
    const less = aalen ? n - 1 : n;
    if (n > d) a0 += d / (less * (n - d));
    if (less > 0) b += (before ** 2 * dk * (n - dk)) / (less * n ** 2);
    if (!aalen) c0 += (before * dk) / n ** 2;
    else if (n > d) c0 += (before * dk * (n - dk)) / (n * (n - d) * less);
    const se = Math.sqrt(Math.max(0, a2 + b - 2 * c1)); // a zero variance can come out as −1e-19
    const open = fraction > 0 && fraction < 1;
    const spread = (z * se) / (fraction * Math.log(fraction)); // negative
    result.fraction.push(fraction);
    result.se.push(se);
    result.low.push(open ? fraction ** Math.exp(-spread) : undefined);
    result.high.push(open ? fraction ** Math.exp(spread) : undefined);
  });
  return result;
}

/**
 * Share of pieces ended by `cause` by time `t`, a fraction of 1: right-continuous steps, 0 before the first event and
 * for a cause that never occurred.
 *
 *   F_k at the latest event time u ≤ t
 *
 * Trap: beyond `curve.lastObserved` it keeps its last value, a lower bound.
 *
 * Source: as `aalenJohansen`. Checked: tests/reference/aalenJohansen.test.ts, against a SAS listing.
 */
export function incidenceAt(curve: IncidenceCurve, cause: string, t: number): number {
  return curve.incidence[cause]?.fraction[firstAfter(curve.times, t) - 1] ?? 0;
}

/**
 * Share of pieces without any event by time `t`, a fraction of 1: right-continuous steps, 1 before the first event.
 *
 *   S at the latest event time u ≤ t
 *
 * Trap: beyond `curve.lastObserved` it keeps its last value, an upper bound; `kaplanMeierAt` says undefined there.
 *
 * Source: as `kaplanMeier`. Checked: tests/reference/kaplanMeier.test.ts, against R.
 */
export function survivalAt(curve: IncidenceCurve, t: number): number {
  return curve.survival[firstAfter(curve.times, t) - 1] ?? 1;
}

/**
 * Chance that a piece which has reached `age` without event ends by `cause` within `horizon`, a fraction of 1.
 *
 *   ( F(age + horizon) − F(age) ) / S(age)
 *
 * Trap: the curve is known only up to `curve.lastObserved`; when age + horizon lies beyond it, this is the chance
 * to end by then among what has been seen, a lower bound. Near that time it runs down to 0 for want of older
 * pieces, not because they fail.
 *
 * Source: the conditional probability written out; e.g. Putter, Fiocco and Geskus (2007), Statist. Med. 26:2389–2430.
 * Checked: tests/reference/aalenJohansen.test.ts, against R.
 *
 * @param age how long the piece has gone on, in the unit of the curve
 * @returns undefined where S(age) = 0 or age > lastObserved: no piece got so far
 * @throws RangeError unless age ≥ 0 and horizon ≥ 0
 */
export function conditionalIncidence(
  curve: IncidenceCurve,
  cause: string,
  age: number,
  horizon: number
): number | undefined {
  check(age >= 0, "conditionalIncidence: age", "0 or more", age);
  check(horizon >= 0, "conditionalIncidence: horizon", "0 or more", horizon);
  const survival = survivalAt(curve, age);
  if (survival === 0 || age > curve.lastObserved) return undefined;
  return (incidenceAt(curve, cause, age + horizon) - incidenceAt(curve, cause, age)) / survival;
}
