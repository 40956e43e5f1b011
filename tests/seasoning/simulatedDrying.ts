import {dayText} from "../../lib/book/day.ts";
import type {Measurement, Piece} from "../../lib/book/histories.ts";
import type {Reading} from "../../lib/book/records.ts";
import {equilibriumMoisture} from "../../lib/wood/equilibriumMoisture.ts";
import {makePiece, settings} from "../pieces.ts";

/** Numbers between 0 and 1 from a seed (a linear congruence modulo 2³¹ − 1, Park & Miller), for tests only. */
export function dice(seed: number) {
  let state = (seed * 7919 + 1) % 2147483647;
  const uniform = () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
  for (let i = 0; i < 20; i++) uniform();
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  return {uniform, normal};
}

export interface DryingWorkshop {
  seed: number;
  lots?: number;
  perLot?: number;
  /** True time constants by stage, days; of winter the second if there are two. */
  days?: readonly number[];
  winterTimes?: number;
  /** Mean moisture of the lots at purchase, and how they scatter. */
  startPct?: number;
  sdLots?: number;
  sdWithin?: number;
  meterPct?: number;
  scaleG?: number;
  /** What is added to every reading of the meter. */
  meterOffPct?: number;
  /** How far a written reading of the air's humidity is from the week's own. */
  humidityOffPct?: number;
}

const isWinter = (day: number) => {
  const month = Number(dayText(day).slice(5, 7));
  return month < 4 || month > 9;
};

/** A workshop whose pieces follow the store by the exponential law, day by day, and are weighed and read with error. */
export function dryingWorkshop({
  seed,
  lots = 24,
  perLot = 12,
  days = [45, 32, 20, 15],
  winterTimes = 1,
  startPct = 14.5,
  sdLots = 1.2,
  sdWithin = 0.6,
  meterPct = 1.2,
  scaleG = 1,
  meterOffPct = 0,
  humidityOffPct = 0
}: DryingWorkshop): {
  pieces: Piece[];
  climate: Reading[];
  asOf: number;
  trueMoisture: (square: string, day: number) => number;
} {
  const {uniform, normal} = dice(seed);
  const first = 18_000;
  const asOf = first + 1400;
  const store: number[] = [];
  const climate: Reading[] = [];
  let weather = 0;
  for (let day = first; day <= asOf; day += 7) {
    weather = 0.6 * weather + 0.8 * 2 * normal();
    const humidityPct = 50 + 5 * Math.cos((2 * Math.PI * (day - first)) / 365.25) + weather;
    store.push(...Array<number>(7).fill(equilibriumMoisture({temperatureC: 17, humidityPct})));
    climate.push({date: dayText(day), temperatureC: 17, humidityPct: humidityPct + humidityOffPct * normal()});
  }
  const pieces: Piece[] = [];
  const courses = new Map<string, Map<number, number>>();
  for (let l = 0; l < lots; l++) {
    const boughtOn = first + 5 + Math.floor((l * 1000) / lots);
    const lotPct = startPct + sdLots * normal();
    const delay = 20 * uniform();
    for (let p = 0; p < perLot; p++) {
      let day = boughtOn;
      let moisture = lotPct + sdWithin * normal();
      const measurements: Measurement[] = [];
      const course = new Map([[day, moisture]]);
      courses.set(`${l}-${p}`, course);
      const turned: number[] = [];
      const intake = {moisturePct: 0};
      [1500, 950, 500, 340].forEach((dryMean, s) => {
        const stage = settings.stages[s]!.name;
        const dryG = dryMean * (1 + 0.03 * normal());
        const weigh = (fresh: boolean, readIt: boolean) => {
          const massG = Math.round(dryG * (1 + moisture / 100) + scaleG * normal());
          const moisturePct = moisture + meterOffPct + meterPct * normal();
          if (s === 0 && measurements.length === 0) intake.moisturePct = moisturePct;
          measurements.push({day, stage, turned: fresh, massG, ...(readIt && {moisturePct})});
        };
        const tau = days[s]! * (isWinter(day) ? winterTimes : 1);
        const rest = s === 0 ? 60 : 30;
        const late = day + Math.round(rest * (0.75 + 0.25 * uniform()));
        const leave = day + Math.round(rest + delay + 20 * uniform());
        weigh(s > 0, s === 0 || uniform() < 0.2);
        for (; day < leave; ) {
          moisture += -Math.expm1(-1 / tau) * (store[day - first]! - moisture);
          day++;
          course.set(day, moisture);
          if (day === late) weigh(false, uniform() < 0.1);
        }
        weigh(false, uniform() < 0.2);
        turned.push(day);
      });
      pieces.push(makePiece({square: `${l}-${p}`, lot: `L${l}`, boughtOn, turned, measurements, intake}));
    }
  }
  return {pieces, climate, asOf, trueMoisture: (square, day) => courses.get(square)!.get(day)!};
}
