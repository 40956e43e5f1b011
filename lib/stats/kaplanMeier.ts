import {type EventTable, eventTable, type Spell} from "./eventTable.ts";
import {type Interval, normalFactor} from "./interval.ts";

/** The Kaplan–Meier curve from one event time to the next. */
export interface SurvivalRow {
  /** In the unit of the spells. */
  time: number;
  /** Pieces at risk at that time, a count. */
  atRisk: number;
  /** Events of any cause at that time, a count. */
  events: number;
  /** Share still without event just after that time, a fraction of 1. */
  survival: number;
  /** Greenwood's standard error; undefined once survival is 0. */
  se?: number;
  low?: number;
  high?: number;
}

/** The scale on which limits are drawn; "log-log" unless set. */
export type SurvivalScale = "log-log" | "log" | "logit" | "plain";

/**
 * Share of pieces still without an event, one row for each event time, as fractions of 1 (Kaplan–Meier),
 * with Greenwood's standard error and limits.
 *
 *   S(t) = ∏ (1 − d/n)    G = Σ d/(n(n − d))    se = S√G        over times u ≤ t
 *   limits   "log-log"  S^exp(±z√G / ln S)                     stay inside 0 and 1
 *            "logit"    1/(1 + (1 − S)/S · exp(±z√G/(1 − S)))  stay inside 0 and 1
 *            "log"      S·exp(±z√G)                            cut at 1
 *            "plain"    S ± z·se                               cut at 0 and 1
 *   d events and n pieces at risk at u, z = Φ⁻¹((1 + level)/2)
 *
 * Traps: every cause counts as the same event; for shares by cause use `aalenJohansen`, as one minus this
 * curve per cause adds up to more than 1. With delayed entry a small early risk set can pull the whole curve
 * to 0: look at `atRisk`. Before the first row the share is 1; after the last observation it is not known.
 *
 * Source: Kaplan and Meier (1958), JASA 53:457–481; Greenwood (1926); limits: Kalbfleisch and Prentice (1980), and
 * as in R's survfit (conf.type).
 * Checked: tests/reference/kaplanMeier.test.ts and delayedEntry.test.ts, against Freireich's data in textbooks and R;
 * rolledYield.test.ts, "logit".
 *
 * @returns no row when nothing ended
 * @throws RangeError on impossible spells (see `eventTable`) and unless 0 < level < 1
 */
export function kaplanMeier(
  spells: readonly Spell[],
  {level = 0.95, limits = "log-log"}: {level?: number; limits?: SurvivalScale} = {}
): SurvivalRow[] {
  const z = normalFactor(level, "kaplanMeier");
  const table = eventTable(spells);
  const events = allEvents(table);
  let survival = 1;
  let greenwood = 0;
  return table.times.map((time, row) => {
    const atRisk = table.atRisk[row]!;
    const d = events[row]!;
    survival *= (atRisk - d) / atRisk;
    greenwood += d / (atRisk * (atRisk - d));
    const counts = {time, atRisk, events: d, survival};
    if (survival === 0) return counts; // 0 · ∞: the standard error is not defined
    const logSe = Math.sqrt(greenwood);
    return {...counts, se: survival * logSe, ...survivalLimits(survival, z * logSe, limits)};
  });
}

/** Limits of a share strictly between 0 and 1, `spread` to either side of its logarithm. */
function survivalLimits(survival: number, spread: number, scale: SurvivalScale): Interval {
  const at: Record<SurvivalScale, (side: number) => number> = {
    "log-log": (side) => survival ** Math.exp(side / Math.log(survival)),
    logit: (side) => 1 / (1 + ((1 - survival) / survival) * Math.exp(-side / (1 - survival))),
    log: (side) => Math.min(1, survival * Math.exp(side)),
    plain: (side) => Math.min(1, Math.max(0, survival * (1 + side)))
  };
  return {low: at[scale](-spread), high: at[scale](spread)};
}

/**
 * Events of all causes together, one count for each time of the table.
 *
 * Checked: tests/reference/aalenJohansen.test.ts, against R's n.event.
 */
export function allEvents({times, causes, events}: EventTable): number[] {
  return times.map((_, row) => causes.reduce((total, cause) => total + events[cause]![row]!, 0));
}
