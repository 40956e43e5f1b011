import {normal, type Random} from "./random.ts";
import {measuringSd, written} from "./truthMeasuring.ts";

type Instrument = keyof typeof measuringSd;
const digits: Record<Instrument, number> = {scaleG: 0, calliperMm: 1, tapeMm: 0, meterPct: 1};

/** A true value as it gets written down: the error of the instrument, then rounded to what it shows. */
export function reading(random: Random, instrument: Instrument, value: number): string {
  const shown = Math.round(normal(random, value, measuringSd[instrument]) / written[instrument]) * written[instrument];
  return shown.toFixed(digits[instrument]);
}
