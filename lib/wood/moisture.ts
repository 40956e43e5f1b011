import {check} from "../check.ts";

/**
 * Mass a piece would have with all water out, g.
 *
 *   m₀ = m / (1 + M/100)        m mass now, g; M moisture now, % of oven-dry mass
 *
 * The trap: it inherits the error of the one moisture reading it is made from, and every later moisture by mass with it.
 * Error: a meter good to 1.5 % leaves 1.3 %, or 20 g on a 1680 g square.
 * Range: 0 to 200 % moisture (common practice, no source): green ash and maple stay below 100 %, and 1200 is a lost comma.
 * Source: Wood Handbook, FPL-GTR-190 (2010), eq. 4-1, turned round.
 * Checked: tests/reference/wood-moisture.test.ts
 *
 * @throws RangeError unless massG is positive and moisturePct from 0 to 200
 * @example ovenDryMass({massG: 1680, moisturePct: 12}) // 1500
 */
export function ovenDryMass({massG, moisturePct}: {massG: number; moisturePct: number}): number {
  check(massG > 0 && massG < Infinity, "ovenDryMass: massG", "positive", massG);
  check(moisturePct >= 0 && moisturePct <= 200, "ovenDryMass: moisturePct", "from 0 to 200", moisturePct);
  return (100 * massG) / (100 + moisturePct);
}

/**
 * Moisture content by weighing, % of oven-dry mass.
 *
 *   M = 100 · (m − m₀) / m₀        m mass now, m₀ oven-dry mass, g
 *
 * The trap: the base is the dry mass, so a green piece may exceed 100 %; the same water over the wet mass is a smaller
 * figure and a different convention. Wood turned off between two weighings is not water.
 * Error: ±1 g on a 1500 g dry piece is ±0.07 %, ten times finer than a meter, but the error of m₀ stays in it.
 * Range: 0 to 200 % moisture, as ovenDryMass.
 * Source: Wood Handbook, FPL-GTR-190 (2010), eq. 4-1; EN 13183-1; ASTM D4442.
 * Checked: tests/reference/wood-moisture.test.ts
 *
 * @throws RangeError unless ovenDryMassG is positive and massG from that to three times that
 * @example moistureByMass({massG: 1680, ovenDryMassG: 1500}) // 12
 */
export function moistureByMass({massG, ovenDryMassG}: {massG: number; ovenDryMassG: number}): number {
  check(ovenDryMassG > 0 && ovenDryMassG < Infinity, "moistureByMass: ovenDryMassG", "positive", ovenDryMassG);
  const isWet = massG >= ovenDryMassG && massG <= 3 * ovenDryMassG;
  check(isWet, "moistureByMass: massG", `from 1 to 3 times the oven-dry mass (${ovenDryMassG})`, massG);
  return (100 * (massG - ovenDryMassG)) / ovenDryMassG;
}
