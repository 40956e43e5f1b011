import type {StageName, TurnedStage} from "./truthStages.ts";

/** Sizes, moisture and how they are measured. See `truth.ts`. */

/** Squares as sawn, mm, at the moisture they are bought at. */
export const sawn = {
  length: {mean: 1506, sd: 7, least: 1494},
  side: {mean: 40.4, sd: 0.45, least: 39}
} as const;

/** Moisture content of a square when it is bought, %: the lot's mean and the spread about it. */
export const moistureAtPurchase = {
  air: {mean: 14.4, sdBetweenLots: 0.9, sdWithinLot: 0.6},
  kiln: {mean: 9.2, sdBetweenLots: 0.35, sdWithinLot: 0.35}
} as const;

/** Moisture drifts towards that of the store's air, exponentially; time constant in days. */
export const dryingDays: Record<StageName, number> = {
  square: 45,
  "rough-round": 32,
  "second-round": 20,
  "proud-round": 15,
  finished: 13
};

/** The store: a yearly wave, warmest and dampest near the end of July, and weather, which lingers from week to week. */
export const store = {
  temperatureC: {mean: 17.5, wave: 3.2, weatherSd: 0.7},
  humidityPct: {mean: 48.5, wave: 4.2, weatherSd: 1.8},
  warmestDayOfYear: 208,
  weatherKept: 0.6
} as const;

/** Turned diameters: how far they end from the target, mm. */
export const lathe: Record<TurnedStage, {mean: number; sd: number}> = {
  "rough-round": {mean: 0.2, sd: 0.2},
  "second-round": {mean: 0.15, sd: 0.18},
  "proud-round": {mean: 0.1, sd: 0.12},
  finished: {mean: 0, sd: 0.07}
};
export const latheLengthSdMm = 0.8;

/** Standard deviation of what is written about what is: the error of the reading, and the rounding on top. */
export const measuringSd = {
  scaleG: 0.95,
  calliperMm: 0.095,
  tapeMm: 0.95,
  meterPct: 1.2
} as const;
export const written = {scaleG: 1, calliperMm: 0.1, tapeMm: 1, meterPct: 0.1} as const;

/** Rings in 25 mm: ash is ring-porous, so wide rings (few of them) go with dense wood; maple hardly cares. */
export const rings = {
  ash: {mean: 8, sd: 2.4, correlationWithDensity: -0.6, recordedShare: 0.9},
  maple: {mean: 11, sd: 2.8, correlationWithDensity: -0.05, recordedShare: 0.5}
} as const;

/** How often things are written down. Half way through, the owner took to weighing each piece twice a rest. */
export const habits = {
  secondWeighingFrom: "2025-05-01",
  weighedInRestBefore: 0.12,
  weighedInRestAfter: 0.75,
  weighedBeforeTurning: 0.8,
  meterAtWeighing: 0.08,
  meterAtTurning: 0.2
} as const;
