import {check} from "../check.ts";

/** The air of a store. */
export interface Air {
  readonly temperatureC: number;
  readonly humidityPct: number;
}

/**
 * Equilibrium moisture content: the moisture at which wood left in this air neither gains nor loses, % of oven-dry mass.
 *
 *   EMC = (1800/W) · [ Kh/(1 − Kh) + (K₁Kh + 2K₁K₂K²h²)/(1 + K₁Kh + K₁K₂K²h²) ]        h relative humidity, 0 to 1
 *   W = 349 + 1.29T + 0.0135T²                 K = 0.805 + 0.000736T − 0.00000273T²        T in °C
 *   K₁ = 6.27 − 0.00938T − 0.000303T²          K₂ = 1.91 + 0.0407T − 0.000293T²
 *
 * The trap: it is where the wood is going, not where it is; a 40 mm square takes months to get there, and store air changes
 * in hours. At 100 % humidity the equation gives 28 to 30 %, which is not fibre saturation.
 * Error: ±1 % of moisture by species, by whether the wood is drying or wetting, and by extractives (from memory); a
 * hygrometer that is 3 % out adds about 0.5 %.
 * Range: −1.2 to 99 °C, 0 to 100 % humidity. The published table runs from −1.1 °C (30 °F) and from 5 to 95 %; above 99 °C
 * it would need steam under pressure, which no store holds.
 * Source: Wood Handbook, FPL-GTR-190 (2010), eq. 4-5 (read; coefficients read in two secondary sources); Simpson (1973),
 * Forest Prod. J. 23(5):41-49; Hailwood & Horrobin (1946).
 * Checked: tests/reference/wood-equilibriumMoisture.test.ts, against its table 4-2
 *
 * @throws RangeError unless temperatureC is from -1.2 to 99 and humidityPct from 0 to 100
 * @example equilibriumMoisture({temperatureC: 20, humidityPct: 65}) // 12.0
 */
export function equilibriumMoisture({temperatureC, humidityPct}: Air): number {
  const isCovered = temperatureC >= -1.2 && temperatureC <= 99;
  check(isCovered, "equilibriumMoisture: temperatureC", "from -1.2 to 99", temperatureC);
  check(humidityPct >= 0 && humidityPct <= 100, "equilibriumMoisture: humidityPct", "from 0 to 100", humidityPct);
  const t = temperatureC;
  const w = 349 + 1.29 * t + 0.0135 * t ** 2;
  const k = 0.805 + 0.000736 * t - 0.00000273 * t ** 2;
  const k1 = 6.27 - 0.00938 * t - 0.000303 * t ** 2;
  const k2 = 1.91 + 0.0407 * t - 0.000293 * t ** 2;
  const kh = (k * humidityPct) / 100;
  const dissolved = kh / (1 - kh);
  const hydrated = (k1 * kh + 2 * k1 * k2 * kh ** 2) / (1 + k1 * kh + k1 * k2 * kh ** 2);
  return (1800 / w) * (dissolved + hydrated);
}
