import {dayNumber} from "../book/day.ts";
import type {Reading} from "../book/records.ts";
import type {Settings} from "../book/settings.ts";
import {groupBy} from "../book/spells.ts";
import {mean} from "../stats/mean.ts";
import {equilibriumMoisture} from "../wood/equilibriumMoisture.ts";
import {storeAir} from "./storeAir.ts";

/** The moisture that timber in the store tends to, % of oven-dry mass, and whence it is known. */
export interface StoreMoisture {
  equilibriumPct: number;
  source: "climate.csv" | "workshop.json";
  /** Readings it is the mean of, with the first and the last day of them; none of the setting. */
  readings: number;
  from?: string;
  to?: string;
}

/**
 * The moisture that timber in the store tends to now: the mean over the readings of the last `store.days` days; without one the setting
 * `store.moisturePct`; without that undefined.
 *
 * The trap: it is where the wood is going, not where it is.
 * Error: as `equilibriumMoisture`, ±1 point by species and by whether the wood dries or wets.
 * Source: as `equilibriumMoisture`. Checked: tests/seasoning/storeMoisture.test.ts
 *
 * @param asOf the day of the question, a day number
 */
export function storeMoisture(
  climate: readonly Reading[],
  {settings: {store}, asOf}: {settings: Pick<Settings, "store">; asOf: number}
): StoreMoisture | undefined {
  const air = storeAir(climate, asOf, {days: store.days});
  if (air) {
    const {equilibriumPct, readings, from, to} = air;
    return {equilibriumPct, source: "climate.csv", readings, from, to};
  }
  if (store.moisturePct === undefined) return undefined;
  return {equilibriumPct: store.moisturePct, source: "workshop.json", readings: 0};
}

/**
 * The moisture that timber in the store tended to on each day from one to another, both included, % of oven-dry mass: that of the reading in
 * force, the mean of a day's where there are several. A reading is in force until the next, for `store.days` days at most; days without one
 * have the setting `store.moisturePct`, or undefined.
 *
 * Source: as `equilibriumMoisture`; how long a reading holds is common practice, no source. Checked: tests/seasoning/storeMoisture.test.ts
 *
 * @param from first day and
 * @param to last day, as day numbers
 */
export function storeCourse(
  climate: readonly Reading[],
  {settings: {store}, from, to}: {settings: Pick<Settings, "store">; from: number; to: number}
): (number | undefined)[] {
  const byDay = new Map(
    [...groupBy(climate, ({date}) => date)].map(([date, readings]) => [
      dayNumber(date),
      mean(readings.map((reading) => equilibriumMoisture(reading)))!
    ])
  );
  const days = [...byDay.keys()].sort((a, b) => a - b);
  const course: (number | undefined)[] = [];
  let next = 0;
  for (let day = from; day <= to; day++) {
    while (next < days.length && days[next]! <= day) next++;
    const read = days[next - 1];
    course.push(read !== undefined && day - read < store.days ? byDay.get(read) : store.moisturePct);
  }
  return course;
}
