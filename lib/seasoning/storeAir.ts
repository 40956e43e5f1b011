import {dayText} from "../book/day.ts";
import type {Reading} from "../book/records.ts";
import {mean} from "../stats/mean.ts";
import {equilibriumMoisture} from "../wood/equilibriumMoisture.ts";

/** What the air of the store would bring timber to. */
export interface StoreAir {
  from: string;
  to: string;
  readings: number;
  temperatureC: number;
  humidityPct: number;
  equilibriumPct: number;
}

/**
 * The store's air over the last weeks and the moisture content that timber in it tends to, % of oven-dry mass (mean of the readings'
 * equilibrium moistures). A piece follows over weeks, so single readings say little.
 *
 * @returns undefined without a reading in the time
 */
export function storeAir(climate: readonly Reading[], asOf: number, {days = 60} = {}): StoreAir | undefined {
  const from = dayText(asOf - days);
  const recent = climate.filter(({date}) => date > from && date <= dayText(asOf));
  if (recent.length === 0) return undefined;
  return {
    from: recent.map(({date}) => date).sort()[0]!,
    to: recent
      .map(({date}) => date)
      .sort()
      .at(-1)!,
    readings: recent.length,
    temperatureC: mean(recent.map(({temperatureC}) => temperatureC))!,
    humidityPct: mean(recent.map(({humidityPct}) => humidityPct))!,
    equilibriumPct: mean(recent.map((reading) => equilibriumMoisture(reading)))!
  };
}
