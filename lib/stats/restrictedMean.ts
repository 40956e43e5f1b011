import {check} from "../check.ts";
import type {Spell} from "./eventTable.ts";
import {kaplanMeier} from "./kaplanMeier.ts";
import {sum} from "./numbers.ts";

/**
 * Mean time to the event within the first `horizon`, in the unit of the spells, with its standard error: the area
 * under the Kaplan–Meier curve. Unlike the mean over pieces that are done it is not biased by those still going on.
 *
 *   μ = ∫₀^τ S(t) dt    se² = Σ (∫_u^τ S dt)²·d/(n(n − d))        over event times u ≤ τ = horizon, no term where n = d
 *
 * Source: Klein and Moeschberger (2003), Survival Analysis, section 4.5.
 * Checked: tests/reference/kaplanMeier.test.ts, against R's summary(survfit, rmean = ).
 *
 * @returns undefined when the curve is not known up to the horizon
 * @throws RangeError unless horizon is positive, and on impossible spells (see `eventTable`)
 */
export function restrictedMean(spells: readonly Spell[], horizon: number): {mean: number; se: number} | undefined {
  check(Number.isFinite(horizon) && horizon > 0, "restrictedMean: horizon", "positive", horizon);
  const rows = kaplanMeier(spells);
  const lastObserved = spells.reduce((last, spell) => Math.max(last, spell.exit), 0);
  if (horizon > lastObserved && rows.at(-1)?.survival !== 0) return undefined;
  const used = rows.filter((row) => row.time < horizon);
  const ends = [...used.slice(1).map((row) => row.time), horizon];
  const pieces = used.map((row, i) => row.survival * (ends[i]! - row.time));
  const first = used[0]?.time ?? horizon;
  const terms = used.map(({atRisk: n, events: d}, i) =>
    n === d ? 0 : (sum(pieces.slice(i)) ** 2 * d) / (n * (n - d))
  );
  return {mean: first + sum(pieces), se: Math.sqrt(sum(terms))};
}
