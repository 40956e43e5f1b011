import {clearWoodVariation} from "../wood/clearWoodVariation.ts";
import {barVolume, density} from "../wood/density.ts";
import {densityAt12} from "../wood/densityAt12.ts";
import {gravityAtMoisture} from "../wood/gravityAtMoisture.ts";
import {type WoodName, woodConstants} from "../wood/species.ts";
import type {Square} from "./records.ts";
import type {Settings} from "./settings.ts";

/**
 * Density of a square at 12 % moisture content, kg/m³, from its mass, size and moisture when it came in and the constants of
 * its species.
 *
 * @throws RangeError when the species is not in the settings, or the moisture is beyond what the formula covers
 */
export function squareDensityAt12(square: Square, species: string, settings: Settings): number {
  const densityKgM3 = density({massG: square.massG, volumeMm3: barVolume(square)});
  const wood = woodConstants(settings.species[species]!.wood);
  return densityAt12({densityKgM3, moisturePct: square.moisturePct, species: wood});
}

/** So many standard deviations from the mean of its species a clear stick hardly lies; ours. */
const deviations = 4;

/**
 * Between which densities at 12 % moisture, kg/m³, a clear stick of a wood nearly always lies:
 *
 *   1000 · G₁₂ · 1.12 · (1 ± 4 · 0.1)
 *
 * with G₁₂ from the basic specific gravity of the species and 0.1 the variation of clear wood, both as published; knots and
 * reaction wood are heavier. A square outside is no proof of a fault, only worth a look.
 */
export function usualDensityAt12(wood: WoodName): {low: number; high: number} {
  const {basicSpecificGravity} = woodConstants(wood);
  const mean = 1120 * gravityAtMoisture({basicSpecificGravity: basicSpecificGravity!, moisturePct: 12});
  const most = deviations * clearWoodVariation.specificGravity;
  return {low: mean * (1 - most), high: mean * (1 + most)};
}
