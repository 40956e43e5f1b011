import {eventTable, type Spell} from "./eventTable.ts";
import {allEvents} from "./kaplanMeier.ts";

/**
 * Cumulative hazard of pieces (Nelson–Aalen), one row for each event time, without unit: how many events a piece would
 * have met by then had it been put back after each. Straight where the danger stays the same, bent where it changes.
 *
 *   H(t) = Σ d/n        d events of any cause and n pieces at risk at each event time u ≤ t
 *
 * Trap: no share; it goes on beyond 1. e^(−H) is near the share of `kaplanMeier`, a little above it.
 *
 * Source: Aalen (1978), Ann. Statist. 6:701–726; Klein and Moeschberger (2003), Survival Analysis, section 4.2.
 * Checked: tests/reference/kaplanMeier.test.ts and delayedEntry.test.ts, against R's survfit (cumhaz).
 *
 * @returns no row when nothing ended
 * @throws RangeError on impossible spells (see `eventTable`)
 */
export function nelsonAalen(spells: readonly Spell[]): {time: number; cumulativeHazard: number}[] {
  const table = eventTable(spells);
  const events = allEvents(table);
  let cumulativeHazard = 0;
  return table.times.map((time, row) => {
    cumulativeHazard += events[row]! / table.atRisk[row]!;
    return {time, cumulativeHazard};
  });
}
