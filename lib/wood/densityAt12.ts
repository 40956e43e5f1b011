import {check} from "../check.ts";
import {type DensityAtMoisture, volumeShare} from "./basicDensity.ts";
import {type WoodConstants, type WoodName, woodConstants} from "./species.ts";

/**
 * Density that a piece has, or will have, at 12 % moisture, kg/m³: the figure by which sticks measured on different days
 * can be compared. The water is taken out or put in, and the wood shrinks or swells with it.
 *
 *   ρ12 = ρ(M) · (1.12 / (1 + M/100)) · v(M) / v(12)        v(M) = 1 − (βv/100)·(S − M)/S below S, and 1 from S up
 *
 * with M moisture and S fibre saturation, both % of oven-dry mass, βv volumetric shrinkage green to oven-dry, %.
 *
 * The trap: 1.12/(1 + M/100) alone forgets that wood shrinks, and errs by 2 % at 8 % and by 3 % at 18 %.
 * Error: 1 % of moisture is 0.4 to 0.5 % of the result near 12 %: a meter good to 1.5 % leaves 0.6 to 0.8 %. Sound formulas
 * differ by less than 1 %, so the meter matters more than the formula.
 * Range: 0 to 200 % moisture. From S up the volume is constant and only the water counts; a meter cannot be trusted there.
 * Source: Vieilledent et al. (2018), Am. J. Bot. 105, doi 10.1002/ajb2.1175, applied at M and at 12 %.
 * Checked: tests/reference/wood-density.test.ts, against the other published methods
 *
 * @throws RangeError unless densityKgM3 is positive, moisturePct from 0 to 200, and volumetricPct known
 * @example densityAt12({densityKgM3: 700, moisturePct: 16, species: "white-ash"}) // 688.9
 */
export function densityAt12({densityKgM3, moisturePct, species}: DensityAtMoisture): number {
  const isDensity = densityKgM3 > 0 && densityKgM3 < Infinity;
  check(isDensity, "densityAt12: densityKgM3", "positive", densityKgM3);
  const wood = woodConstants(species);
  const shareThen = volumeShare({moisturePct, wood, needing: "densityAt12"});
  const shareAt12 = volumeShare({moisturePct: 12, wood, needing: "densityAt12"});
  return densityKgM3 * (1.12 / (1 + moisturePct / 100)) * (shareThen / shareAt12);
}

/**
 * Density that a piece of a given density at 12 % has at another moisture, kg/m³: densityAt12 turned round. It says what a
 * good square weighs in a damp yard.
 *
 *   ρ(M) = ρ12 · ((1 + M/100)/1.12) · v(12) / v(M)        v as in densityAt12
 *
 * The trap, error, range and source: as densityAt12. Multiply by the volume *at that moisture*: the square is larger wet.
 * Checked: tests/wood/densityAt12.test.ts, there and back
 *
 * @throws RangeError unless densityAt12KgM3 is positive, moisturePct from 0 to 200, and volumetricPct known
 * @example densityAtMoisture({densityAt12KgM3: 700, moisturePct: 16, species: "white-ash"}) // 711.3
 */
export function densityAtMoisture(of: {
  densityAt12KgM3: number;
  moisturePct: number;
  species: WoodName | WoodConstants;
}): number {
  const {densityAt12KgM3, moisturePct, species} = of;
  const isDensity = densityAt12KgM3 > 0 && densityAt12KgM3 < Infinity;
  check(isDensity, "densityAtMoisture: densityAt12KgM3", "positive", densityAt12KgM3);
  const wood = woodConstants(species);
  const shareThen = volumeShare({moisturePct, wood, needing: "densityAtMoisture"});
  const shareAt12 = volumeShare({moisturePct: 12, wood, needing: "densityAtMoisture"});
  return densityAt12KgM3 * ((1 + moisturePct / 100) / 1.12) * (shareAt12 / shareThen);
}
