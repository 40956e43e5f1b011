import {check} from "../check.ts";

/** A rectangular bar, as measured with calliper and tape. */
export interface BarSize {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
}

/**
 * Volume of a square or any other rectangular bar, mm³.
 *
 *   V = l · w · t        all in mm
 *
 * The trap: a waney edge, a wax-dipped end or a bow makes the bar smaller than its sizes say.
 * Error: on a 40 × 40 mm square, 0.1 mm on both faces alike is 0.5 % of the volume.
 * Checked: tests/wood/density.test.ts, by hand
 *
 * @throws RangeError unless all three are positive
 * @example barVolume({lengthMm: 1500, widthMm: 40, thicknessMm: 40}) // 2400000
 */
export function barVolume({lengthMm, widthMm, thicknessMm}: BarSize): number {
  check(lengthMm > 0 && lengthMm < Infinity, "barVolume: lengthMm", "positive", lengthMm);
  check(widthMm > 0 && widthMm < Infinity, "barVolume: widthMm", "positive", widthMm);
  check(thicknessMm > 0 && thicknessMm < Infinity, "barVolume: thicknessMm", "positive", thicknessMm);
  return lengthMm * widthMm * thicknessMm;
}

/**
 * Density of a piece as it lies on the bench, kg/m³: mass and volume at the same moisture.
 *
 *   ρ = 10⁶ · m / V        m in g, V in mm³; 1 g/mm³ is 10⁶ kg/m³
 *
 * The trap: a wet piece is not a dense one; compare pieces by densityAt12. Trade pages print this figure, divided by 1000,
 * as "specific gravity", which is oven-dry mass and therefore smaller.
 * Error: δρ/ρ = √((δm/m)² + (δV/V)²); see densityUncertainty. The calliper, not the scale, decides.
 * Checked: tests/wood/density.test.ts, by hand; tests/reference/wood-density.test.ts
 *
 * @throws RangeError unless massG and volumeMm3 are positive
 * @example density({massG: 1680, volumeMm3: 2400000}) // 700
 */
export function density({massG, volumeMm3}: {massG: number; volumeMm3: number}): number {
  check(massG > 0 && massG < Infinity, "density: massG", "positive", massG);
  check(volumeMm3 > 0 && volumeMm3 < Infinity, "density: volumeMm3", "positive", volumeMm3);
  return (1e6 * massG) / volumeMm3;
}
