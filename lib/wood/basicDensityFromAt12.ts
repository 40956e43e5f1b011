import {check} from "../check.ts";

/**
 * Basic density (oven-dry mass over green volume) from the density at 12 % of a wood whose shrinkage nobody has published,
 * kg/m³.
 *
 *   ρb = 0.828 · ρ12
 *
 * The trap: a mean over 3832 trees of all kinds; use basicDensity where the species' shrinkage is known.
 * Error: 15 kg/m³ residual.
 * Range: 100 to 1300 kg/m³ at 12 %, where wood lies (common practice, no source).
 * Source: Vieilledent et al. (2018), Am. J. Bot. 105, doi 10.1002/ajb2.1175 (read in the authors' repository).
 * Checked: tests/reference/wood-density.test.ts, against the exact formula and Reyes (1992)
 *
 * @throws RangeError unless densityAt12KgM3 is from 100 to 1300
 * @example basicDensityFromAt12({densityAt12KgM3: 700}) // 579.6
 */
export function basicDensityFromAt12({densityAt12KgM3}: {densityAt12KgM3: number}): number {
  const isWood = densityAt12KgM3 >= 100 && densityAt12KgM3 <= 1300;
  check(isWood, "basicDensityFromAt12: densityAt12KgM3", "from 100 to 1300", densityAt12KgM3);
  return 0.828 * densityAt12KgM3;
}
