import {firstAfter, type Spell} from "./eventTable.ts";
import {kaplanMeier} from "./kaplanMeier.ts";

/**
 * The Kaplan–Meier curve of `spells` read at any times, as fractions of 1: right-continuous steps, 1 before the
 * first event.
 *
 * Source: as `kaplanMeier`.
 * Checked: tests/reference/kaplanMeier.test.ts, against R's summary(survfit, times = ).
 *
 * @returns one value for each time; undefined beyond the last observation, where nothing is known (and not the
 *   last value, as if no piece could fail any more), unless the curve has reached 0
 */
export function kaplanMeierAt(spells: readonly Spell[], times: readonly number[]): (number | undefined)[] {
  const rows = kaplanMeier(spells);
  const eventTimes = rows.map((row) => row.time);
  const lastObserved = spells.reduce((last, spell) => Math.max(last, spell.exit), 0);
  return times.map((time) => {
    const survival = rows[firstAfter(eventTimes, time) - 1]?.survival ?? 1;
    return time <= lastObserved || survival === 0 ? survival : undefined;
  });
}
