import {check} from "../check.ts";

/**
 * Density at 12 % moisture by the rule of European timber grading, kg/m³: half a percent for each percent of moisture.
 *
 *   ρ12 = ρ · (1 − 0.005·(u − 12))        u moisture, % of oven-dry mass
 *
 * The trap: it knows no species. For sticks use densityAt12; this is for comparing with graded timber's papers.
 * Error: up to 0.7 % away from densityAt12 for white ash, most at 18 %.
 * Range: 8 to 18 % moisture.
 * Source: EN 384:2016+A1 (from memory).
 * Checked: tests/reference/wood-density.test.ts, within 1 % of the exact formula
 *
 * @throws RangeError unless densityKgM3 is positive and moisturePct from 8 to 18
 * @example densityAt12En384({densityKgM3: 700, moisturePct: 16}) // 686
 */
export function densityAt12En384({densityKgM3, moisturePct}: {densityKgM3: number; moisturePct: number}): number {
  check(densityKgM3 > 0 && densityKgM3 < Infinity, "densityAt12En384: densityKgM3", "positive", densityKgM3);
  check(moisturePct >= 8 && moisturePct <= 18, "densityAt12En384: moisturePct", "from 8 to 18", moisturePct);
  return densityKgM3 * (1 - 0.005 * (moisturePct - 12));
}
