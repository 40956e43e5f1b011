import {check} from "../check.ts";

/**
 * Specific gravity at a moisture content: oven-dry mass over the volume at that moisture, relative to water; no unit.
 *
 *   G = ρ / (1000 · (1 + M/100))        ρ density at M, kg/m³; M moisture, % of oven-dry mass
 *
 * The trap: it is not density over 1000. A stick of 672 kg/m³ at 12 % has a specific gravity of 0.60, as the handbooks list
 * it; many trade pages print 0.67.
 * Error: 1 % of moisture is 0.9 % of the result, twice what it is for densityAt12: the volume is left as it was.
 * Range: 0 to 200 % moisture.
 * Source: ASTM D2395, method A (from memory); Wood Handbook, FPL-GTR-190 (2010), pp. 4-9 to 4-12 (read in a secondary
 * source).
 * Checked: tests/reference/wood-density.test.ts
 *
 * @throws RangeError unless densityKgM3 is positive and moisturePct from 0 to 200
 * @example specificGravity({densityKgM3: 672, moisturePct: 12}) // 0.6
 */
export function specificGravity({densityKgM3, moisturePct}: {densityKgM3: number; moisturePct: number}): number {
  check(densityKgM3 > 0 && densityKgM3 < Infinity, "specificGravity: densityKgM3", "positive", densityKgM3);
  check(moisturePct >= 0 && moisturePct <= 200, "specificGravity: moisturePct", "from 0 to 200", moisturePct);
  return densityKgM3 / (10 * (100 + moisturePct));
}
