import {check} from "../check.ts";

/**
 * Specific gravity at a moisture content when only the basic specific gravity of the wood is known; no unit. The general
 * hardwood-and-softwood rule, for a wood whose own shrinkage is not published.
 *
 *   G = Gb / (1 − 0.265·a·Gb)        a = (30 − M)/30 below 30 %, and 0 from there up
 *
 * with Gb oven-dry mass over green volume, relative to water, and M moisture, % of oven-dry mass. Density, kg/m³, is
 * 1000·G·(1 + M/100).
 *
 * The trap: it supposes that a wood shrinks by 26.5 times its gravity; prefer densityAt12 where the shrinkage is known.
 * Error: within 0.02 of the handbook's own gravities at 12 %, which is up to 3 %.
 * Range: 0 to 200 % moisture, basic gravity 0.1 to 1.2.
 * Source: Simpson (1993), FPL-GTR-76 (read as quoted by Vieilledent et al. 2018).
 * Checked: tests/reference/wood-density.test.ts
 *
 * @throws RangeError outside that range
 * @example gravityAtMoisture({basicSpecificGravity: 0.55, moisturePct: 12}) // 0.6027
 */
export function gravityAtMoisture(at: {basicSpecificGravity: number; moisturePct: number}): number {
  const {basicSpecificGravity, moisturePct} = at;
  const isGravity = basicSpecificGravity >= 0.1 && basicSpecificGravity <= 1.2;
  check(isGravity, "gravityAtMoisture: basicSpecificGravity", "from 0.1 to 1.2", basicSpecificGravity);
  check(moisturePct >= 0 && moisturePct <= 200, "gravityAtMoisture: moisturePct", "from 0 to 200", moisturePct);
  return basicSpecificGravity / (1 - 0.265 * dryness(moisturePct) * basicSpecificGravity);
}

/**
 * Basic specific gravity from a density at any moisture, by the same rule; no unit.
 *
 *   Gb = 1 / (0.265·a + (100 + M)/(100·D))        D density, g/cm³ = ρ/1000
 *
 * The trap, error, range and source: as gravityAtMoisture. D is mass over volume, both as the piece is.
 * Checked: tests/reference/wood-density.test.ts
 *
 * @throws RangeError unless moisturePct is from 0 to 200 and densityKgM3 leads to a basic gravity from 0.1 to 1.2
 * @example basicGravity({densityKgM3: 675, moisturePct: 12}) // 0.55
 */
export function basicGravity({densityKgM3, moisturePct}: {densityKgM3: number; moisturePct: number}): number {
  check(moisturePct >= 0 && moisturePct <= 200, "basicGravity: moisturePct", "from 0 to 200", moisturePct);
  const gravity = 1 / (0.265 * dryness(moisturePct) + (10 * (100 + moisturePct)) / densityKgM3);
  const isGravity = gravity >= 0.1 && gravity <= 1.2;
  check(isGravity, "basicGravity: densityKgM3", "that of a wood of basic gravity 0.1 to 1.2, in kg/m³", densityKgM3);
  return gravity;
}

function dryness(moisturePct: number): number {
  return Math.max(0, 30 - moisturePct) / 30;
}
