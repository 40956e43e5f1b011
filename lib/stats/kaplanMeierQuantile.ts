import {check} from "../check.ts";
import type {Spell} from "./eventTable.ts";
import {kaplanMeier} from "./kaplanMeier.ts";

/** Equality of a survival with 1 − p: products of fractions miss ½ by a few units of 1e-16. */
const slack = 1e-9;

/**
 * The time by which a share `p` of the pieces had their event, in the unit of the spells; p = ½ is the median.
 *
 *   t = the first event time with S(t) < 1 − p
 *   where S stays at 1 − p from one event to the next, t = the middle of that flat part (R's rule); when
 *   nothing happens after it, the flat part ends at the last observation
 *
 * Source: Brookmeyer and Crowley (1982), Biometrics 38:29–41; the rule of the flat part as in R's quantile.survfit.
 * Checked: tests/reference/kaplanMeier.test.ts, against R.
 *
 * @returns undefined when the curve does not come down to 1 − p: most pieces are still without event
 * @throws RangeError unless 0 < p < 1
 */
export function kaplanMeierQuantile(spells: readonly Spell[], p: number): number | undefined {
  check(p > 0 && p < 1, "kaplanMeierQuantile: p", "between 0 and 1", p);
  const rows = kaplanMeier(spells);
  const reached = rows.find((row) => row.survival <= 1 - p + slack);
  if (reached === undefined) return undefined;
  if (reached.survival < 1 - p - slack) return reached.time;
  const lastObserved = spells.reduce((last, spell) => Math.max(last, spell.exit), 0);
  const next = rows.find((row) => row.survival < 1 - p - slack);
  return (reached.time + (next?.time ?? lastObserved)) / 2;
}
