import {barVolume, density} from "../wood/density.ts";
import {densityAt12} from "../wood/densityAt12.ts";
import {woodConstants} from "../wood/species.ts";
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
