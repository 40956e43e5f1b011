import {check} from "../check.ts";

/**
 * How many times longer a thick piece takes to air-dry than a thin one, a plain number.
 *
 *   t/t₀ = (a/a₀)ⁿ        a, a₀ thickness, mm; n 1.5, by others 1.3 to 2
 *
 * The trap: the same wood, yard and season; a pile laid in winter may wait till spring. A square dries from four faces, a
 * board from two, so a square is quicker than this says.
 * Error: n from 1.3 to 2 makes 40 mm against 25 mm anything from 1.8 to 2.6 times.
 * Range: 10 to 150 mm (common practice, no source).
 * Source: drying practice (from memory).
 * Checked: tests/reference/wood-drying.test.ts; tests/wood/dryingTimeRatio.test.ts, by hand
 *
 * @throws RangeError unless both thicknesses are from 10 to 150 and exponent from 1.3 to 2
 * @example dryingTimeRatio({thicknessMm: 40, referenceMm: 25}) // 2.02
 */
export function dryingTimeRatio(of: {thicknessMm: number; referenceMm: number; exponent?: number}): number {
  const {thicknessMm, referenceMm, exponent = 1.5} = of;
  check(thicknessMm >= 10 && thicknessMm <= 150, "dryingTimeRatio: thicknessMm", "from 10 to 150", thicknessMm);
  check(referenceMm >= 10 && referenceMm <= 150, "dryingTimeRatio: referenceMm", "from 10 to 150", referenceMm);
  check(exponent >= 1.3 && exponent <= 2, "dryingTimeRatio: exponent", "from 1.3 to 2", exponent);
  return (thicknessMm / referenceMm) ** exponent;
}
