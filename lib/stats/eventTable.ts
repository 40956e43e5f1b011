import {check} from "../check.ts";
import {distinct} from "./numbers.ts";

/**
 * What is known of one piece on one clock: seen from `entry`, last seen at `exit`, and why it left.
 * Times in any one unit, here days.
 */
export interface Spell {
  /** When it came under observation; absent or 0 = from the start, so that an event at time 0 counts. */
  entry?: number;
  exit: number;
  /** What ended it; absent = censored, still going on at `exit`. */
  cause?: string;
  /** How many pieces are alike in all this; 1 unless given. */
  count?: number;
}

/** At each distinct event time: how many pieces could have had an event, and how many had one, by cause. */
export interface EventTable {
  /** Ascending, in the unit of the spells. */
  times: number[];
  /** Pieces at risk at that time: entry < time ≤ exit. */
  atRisk: number[];
  /** Every cause that occurs, in code-unit order. */
  causes: string[];
  /** Events per cause, one for each time. */
  events: Record<string, number[]>;
  /** The latest exit, of an event or not; 0 without spells. */
  lastObserved: number;
}

/**
 * The table between spells and their curves, which `kaplanMeier` and `aalenJohansen` share: counts of pieces.
 *
 * The trap: at equal times events come before departures, so a piece censored at t still counts as at
 * risk at t; and a piece that enters at t > 0 is not yet at risk at t. Times are equal only if exactly equal.
 *
 * Source: Klein and Moeschberger (2003), Survival Analysis, 2nd ed., sections 4.2 and 4.6.
 * Checked: tests/stats/eventTable.test.ts, by hand; tests/reference/delayedEntry.test.ts, against R.
 *
 * @throws RangeError unless 0 ≤ entry ≤ exit, both finite, entry < exit where entry > 0, and each count is a whole number from 1
 */
export function eventTable(spells: readonly Spell[]): EventTable {
  for (const spell of spells) checkSpell(spell, "eventTable");
  const ended = spells.filter((spell) => spell.cause !== undefined);
  const times = distinct(ended.map((spell) => spell.exit));
  const causes = [...new Set(ended.map((spell) => spell.cause!))].sort();
  const rowAt = new Map(times.map((time, row) => [time, row]));
  const counts = new Map(causes.map((cause) => [cause, times.map(() => 0)]));
  for (const {exit, cause, count = 1} of ended) counts.get(cause!)![rowAt.get(exit)!]! += count;
  return {
    times,
    atRisk: riskSets(spells, times),
    causes,
    events: Object.fromEntries(counts),
    lastObserved: spells.reduce((last, spell) => Math.max(last, spell.exit), 0)
  };
}

/**
 * Refuses a spell that cannot be: one that ends before, or as, it begins to be seen.
 *
 * Checked: tests/stats/eventTable.test.ts
 */
export function checkSpell({entry = 0, exit, count = 1}: Spell, where: string): void {
  check(Number.isFinite(exit) && exit >= 0, `${where}: exit`, "a time of 0 or more", exit);
  check(Number.isFinite(entry) && entry >= 0, `${where}: entry`, "a time of 0 or more", entry);
  check(entry === 0 || entry < exit, `${where}: exit`, `after the entry (${entry})`, exit);
  check(Number.isInteger(count) && count > 0, `${where}: count`, "a whole number from 1", count);
}

/**
 * Pieces with entry < time ≤ exit, at each of the ascending times; counts.
 *
 * Source: as `eventTable`. Checked: tests/reference/kaplanMeier.test.ts, against R's n.risk.
 */
export function riskSets(spells: readonly Spell[], times: readonly number[]): number[] {
  const change = new Array<number>(times.length + 1).fill(0);
  for (const {entry = 0, exit, count = 1} of spells) {
    change[entry > 0 ? firstAfter(times, entry) : 0]! += count;
    change[firstAfter(times, exit)]! -= count;
  }
  let atRisk = 0;
  return times.map((_, row) => (atRisk += change[row]!));
}

/**
 * The index of the first of ascending `times` beyond `time`; their number if none is.
 *
 * Checked: tests/stats/eventTable.test.ts
 */
export function firstAfter(times: readonly number[], time: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle]! > time) high = middle;
    else low = middle + 1;
  }
  return low;
}
