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
export function squareDensityAt12(square: Measured, species: string, settings: Settings): number {
  return speciesDensity(species, settings).at12(square);
}

/** What the density of a square follows from. */
type Measured = Pick<Square, "lengthMm" | "widthMm" | "thicknessMm" | "massG" | "moisturePct">;

/** The densities at 12 %, kg/m³, of squares of one species: what one has, as `squareDensityAt12`, and what they usually have. */
export interface SpeciesDensity {
  at12: (square: Measured) => number;
  usual: {low: number; high: number};
}

/**
 * The densities of a species, for those who ask of many squares.
 *
 * @throws RangeError when the species is not in the settings
 */
export function speciesDensity(species: string, settings: Settings): SpeciesDensity {
  const {wood} = settings.species[species]!;
  const constants = woodConstants(wood);
  return {
    at12: (square) => {
      const densityKgM3 = density({massG: square.massG, volumeMm3: barVolume(square)});
      return densityAt12({densityKgM3, moisturePct: square.moisturePct, species: constants});
    },
    usual: usualDensityAt12(wood)
  };
}

/** Whether a density noted of a square is not its mass over its volume, both kg/m³: 3 % apart or more; ours. */
export function isNotedApart(square: Measured, notedKgM3: number): boolean {
  return Math.abs(notedKgM3 / density({massG: square.massG, volumeMm3: barVolume(square)}) - 1) > 0.03;
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
