import {type Day, dayNumber, dayText} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import {purchaseSpells} from "../book/spells.ts";
import {aalenJohansen} from "../stats/aalenJohansen.ts";

/** How long squares take to become shafts, and when they must be bought for a season. */
export interface LeadTime {
  /** Share of the shafts that a purchase will give, finished within the days. */
  shareFraction: number;
  days: number;
  /** The last day to have the squares in the store. */
  buyBy: Day;
  /** Days left; negative when the day is past. */
  daysLeft: number;
}

/** The next season that begins after a day: its first and last day, by the settings. */
export function nextSeason({settings, asOf}: Pick<Histories, "settings" | "asOf">): {startsOn: Day; endsOn: Day} {
  const year = Number(dayText(asOf).slice(0, 4));
  const start = [year, year + 1].map((y) => `${y}-${settings.season.startsOn}`).find((day) => dayNumber(day) > asOf)!;
  return {
    startsOn: start,
    endsOn: dayText(dayNumber(`${Number(start.slice(0, 4)) + 1}-${settings.season.startsOn}`) - 1)
  };
}

/**
 * The days from purchase within which half, three quarters and nine tenths of the shafts to come are finished, and so the last day on which to
 * buy for a season's first day. From the cumulative incidence of finishing, so that pieces still resting count for what they are.
 *
 *   days(q) = smallest t with F(t) ≥ q · F(∞)
 *
 * Checked: tests/buying/leadTime.test.ts
 *
 * @returns nothing while no piece has finished
 */
export function leadTimes({asOf}: Pick<Histories, "asOf">, pieces: readonly Piece[], startsOn: Day): LeadTime[] {
  const curve = aalenJohansen(purchaseSpells(pieces, asOf));
  const finished = curve.incidence.finished?.fraction;
  const end = finished?.at(-1);
  if (!finished || !end) return [];
  return [0.5, 0.75, 0.9].map((share) => {
    const days = curve.times[finished.findIndex((value) => value >= share * end - 1e-12)]!;
    const buyBy = dayText(dayNumber(startsOn) - Math.ceil(days));
    return {shareFraction: share, days, buyBy, daysLeft: dayNumber(buyBy) - asOf};
  });
}
