import {dayNumber, dayText} from "../../lib/book/day.ts";
import {equilibriumMoisture} from "../../lib/wood/equilibriumMoisture.ts";
import type {Row} from "./csv.ts";
import {normal, stream} from "./random.ts";
import {asOf, firstDay} from "./truth.ts";
import {store} from "./truthMeasuring.ts";

/** The air of the store, read every Monday, and what it would bring wood to. */
export interface Store {
  rows: Row[];
  /** Equilibrium moisture content of the week in which a day lies, %. */
  moistureOn(day: number): number;
}

export function storeAir(): Store {
  const random = stream("store");
  const first = dayNumber(firstDay);
  const weeks: {temperature: string; humidity: string; moisture: number}[] = [];
  let warm = 0;
  let damp = 0;
  const {temperatureC, humidityPct, weatherKept, warmestDayOfYear} = store;
  for (let day = first; day <= dayNumber(asOf); day += 7) {
    const fresh = Math.sqrt(1 - weatherKept ** 2);
    warm = weatherKept * warm + fresh * normal(random, 0, temperatureC.weatherSd);
    damp = weatherKept * damp + fresh * normal(random, 0, humidityPct.weatherSd);
    const dayOfYear = day - dayNumber(`${dayText(day).slice(0, 4)}-01-01`) + 1;
    const wave = Math.cos((2 * Math.PI * (dayOfYear - warmestDayOfYear)) / 365.25);
    const temperature = (temperatureC.mean + temperatureC.wave * wave + warm).toFixed(1);
    const humidity = (humidityPct.mean + humidityPct.wave * wave + damp).toFixed(0);
    const moisture = equilibriumMoisture({temperatureC: Number(temperature), humidityPct: Number(humidity)});
    weeks.push({temperature, humidity, moisture});
  }
  const rows = weeks.map(({temperature, humidity}, week) => ({
    date: dayText(first + 7 * week),
    temperature_c: temperature,
    humidity_pct: humidity
  }));
  return {rows, moistureOn: (day) => weeks[Math.min(weeks.length - 1, Math.floor((day - first) / 7))]!.moisture};
}
