import {check} from "../check.ts";
import {equilibriumMoisture} from "./equilibriumMoisture.ts";

/**
 * Relative humidity at which wood of this moisture neither gains nor loses, %: what to set a store to, or to read from a
 * stick at rest what air it has lived in.
 *
 *   h such that EMC(T, h) = M        by halving; EMC rises with h
 *
 * The trap: it is the mean air of the last months that a stick at rest tells of, not today's. At 20 °C 8 % needs 42 % of
 * humidity, 12 % needs 65 %, 16 % needs 80 %.
 * Error: 1 % of moisture is 4 to 6 % of humidity in the middle of the range.
 * Range: as equilibriumMoisture, and no moisture above what 100 % humidity would give.
 * Source: Wood Handbook, FPL-GTR-190 (2010), eq. 4-5, turned round.
 * Checked: tests/reference/wood-equilibriumMoisture.test.ts
 *
 * @throws RangeError outside that range
 * @example equilibriumHumidity({temperatureC: 20, moisturePct: 12}) // 65.0
 */
export function equilibriumHumidity(at: {temperatureC: number; moisturePct: number}): number {
  const {temperatureC, moisturePct} = at;
  const isCovered = temperatureC >= -1.2 && temperatureC <= 99;
  check(isCovered, "equilibriumHumidity: temperatureC", "from -1.2 to 99", temperatureC);
  const highestPct = equilibriumMoisture({temperatureC, humidityPct: 100});
  const isReached = moisturePct >= 0 && moisturePct <= highestPct;
  check(isReached, "equilibriumHumidity: moisturePct", `from 0 to ${highestPct.toFixed(1)}`, moisturePct);
  let low = 0;
  let high = 100;
  for (let halving = 0; halving < 60; halving++) {
    const humidityPct = (low + high) / 2;
    if (equilibriumMoisture({temperatureC, humidityPct}) < moisturePct) low = humidityPct;
    else high = humidityPct;
  }
  return high;
}
