import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import {check} from "../check.ts";
import {normalQuantile} from "./normalQuantile.ts";

/** Two limits in the unit of the estimate between them; for a share, fractions of 1. */
export interface Interval {
  low: number;
  high: number;
}

/**
 * Half-width of a two-sided normal interval, in standard errors.
 *
 *   z = Φ⁻¹((1 + level)/2)
 *
 * Checked: tests/stats/interval.test.ts, against the printed 1.959964 of the normal table.
 *
 * @param where the caller, which the error names
 * @throws RangeError unless 0 < level < 1
 * @example normalFactor(0.95, "wilson") // 1.959964
 */
export function normalFactor(level: number, where: string): number {
  checkLevel(level, where);
  return normalQuantile((1 + level) / 2);
}

/**
 * Half-width of a two-sided interval in standard errors, when the error itself is known only from the scatter of few values.
 *
 *   t = quantile of Student's law at (1 + level)/2
 *
 * Checked: tests/stats/interval.test.ts, against the printed table of t.
 *
 * @param freedom degrees of freedom, positive, need not be whole
 * @throws RangeError unless 0 < level < 1 and freedom is positive
 * @example studentFactor(0.95, 3, "caller") // 3.182446
 */
export function studentFactor(level: number, freedom: number, where: string): number {
  checkLevel(level, where);
  check(freedom > 0, `${where}: degrees of freedom`, "positive", freedom);
  return tQuantile((1 + level) / 2, freedom);
}

/** Refuses a confidence level that is not strictly between 0 and 1 (95 is a mistake for 0.95). */
export function checkLevel(level: number, where: string): void {
  check(level > 0 && level < 1, `${where}: level`, "between 0 and 1", level);
}

/** Refuses counts that cannot be `part` of `whole`: 0 ≤ part ≤ whole, no fractions; `names` are the caller's. */
export function checkCounts(part: number, whole: number, where: string, names = ["successes", "trials"]): void {
  check(Number.isInteger(whole) && whole >= 0, `${where}: ${names[1]}`, "a count", whole);
  check(Number.isInteger(part) && part >= 0, `${where}: ${names[0]}`, "a count", part);
  check(part <= whole, `${where}: ${names[0]}`, `at most ${names[1]} (${whole})`, part);
}
