import {check} from "../check.ts";

/**
 * A pin meter's reading put right for the temperature of the wood, % of oven-dry mass. Warm wood conducts better and reads
 * high, cold wood reads low.
 *
 *   M = r − k · (T − 20)        r reading, %; T temperature of the wood, °C; k 0.1 to 0.15 % per °C
 *
 * The trap: once only. Many meters correct by themselves; then leave this out. Temperature first, then the species correction of the
 * meter's own sheet, unless it says otherwise (from memory). The wood's temperature counts, not the room's. Pins read the
 * depth of their tips, and the surface of a drying square is drier than its mean: for the mean go in a fifth to a quarter of
 * the thickness; EN 13183-2 says 0.3 of it, 300 mm from an end (both from memory).
 * Error: ±1.5 % for a single good reading; average at least three places.
 * Range: readings 6 to 28 %, where a resistance meter can be trusted; 0 to 40 °C (common practice, no source).
 * Source: Forsén & Tarvainen (2000), VTT Publications 420 (read): 0.1 to 0.15 % per °C. Wood Handbook (2021), p. 13-3: 0.5 %
 * for 5.6 °C, taken off for warm wood (read in a secondary source).
 * Checked: tests/reference/wood-moisture.test.ts
 *
 * @throws RangeError outside that range, and unless perDegreePct is from 0.1 to 0.15
 * @example meterCorrection({readingPct: 14, temperatureC: 5}) // 15.5
 */
export function meterCorrection(reading: {readingPct: number; temperatureC: number; perDegreePct?: number}): number {
  const {readingPct, temperatureC, perDegreePct = 0.1} = reading;
  check(readingPct >= 6 && readingPct <= 28, "meterCorrection: readingPct", "from 6 to 28", readingPct);
  check(temperatureC >= 0 && temperatureC <= 40, "meterCorrection: temperatureC", "from 0 to 40", temperatureC);
  const isPublished = perDegreePct >= 0.1 && perDegreePct <= 0.15;
  check(isPublished, "meterCorrection: perDegreePct", "from 0.1 to 0.15", perDegreePct);
  return readingPct - perDegreePct * (temperatureC - 20);
}
