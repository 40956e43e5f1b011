import {check} from "../check.ts";
import {knownConstant, type WoodConstants, type WoodName, woodConstants} from "./species.ts";

/** A density with the moisture it was measured at, and the wood it is of. */
export interface DensityAtMoisture {
  readonly densityKgM3: number;
  readonly moisturePct: number;
  readonly species: WoodName | WoodConstants;
}

/**
 * Basic density: the oven-dry mass of a piece over the volume it had when green, kg/m³. It has no moisture in it, so it is
 * the same for a piece all its life.
 *
 *   ρb = ρ(M) · v(M) / (1 + M/100)        v(M) = 1 − (βv/100)·(S − M)/S below S, and 1 from S up
 *
 * with M moisture and S fibre saturation, both % of oven-dry mass, βv volumetric shrinkage green to oven-dry, %, and v the
 * volume as a share of the green volume.
 *
 * The trap: databases that list wood by "specific gravity" mean this figure over 1000; a stick at 12 % weighs about
 * a fifth more.
 * Error: 1 % of moisture is 0.4 to 0.5 % of the result, so the meter counts for more than the scale.
 * Range: 0 to 200 % moisture. From S up the volume is constant.
 * Source: Vieilledent et al. (2018), Am. J. Bot. 105, doi 10.1002/ajb2.1175, eq. for Db from Dw (read in the authors'
 * repository); identical with shrinking the volume by volumeShare.
 * Checked: tests/reference/wood-density.test.ts, against their Khaya ivorensis and Fraxinus excelsior
 *
 * @throws RangeError unless densityKgM3 is positive, moisturePct from 0 to 200, and volumetricPct known
 * @example basicDensity({densityKgM3: 672, moisturePct: 12, species: "white-ash"}) // 552.12
 */
export function basicDensity({densityKgM3, moisturePct, species}: DensityAtMoisture): number {
  const isDensity = densityKgM3 > 0 && densityKgM3 < Infinity;
  check(isDensity, "basicDensity: densityKgM3", "positive", densityKgM3);
  const share = volumeShare({moisturePct, wood: woodConstants(species), needing: "basicDensity"});
  return (densityKgM3 * share) / (1 + moisturePct / 100);
}

/**
 * Volume of a piece at a moisture content as a share of its green volume, a plain number.
 *
 *   v(M) = 1 − (βv/100)·(S − M)/S below S, and 1 from S up        symbols as in basicDensity
 *
 * The trap: a straight line; near fibre saturation real wood bends off it, as parts of a piece are still above.
 * Range and source: as basicDensity. `needing` is the function that the error sentence names.
 * Checked: tests/reference/wood-shrinkage.test.ts, oven-dry against table 4-3; tests/wood/basicDensity.test.ts
 *
 * @throws RangeError unless moisturePct is from 0 to 200 and volumetricPct known
 * @example volumeShare({moisturePct: 12, wood: woodConstants("white-ash"), needing: "mine"}) // 0.9202
 */
export function volumeShare(at: {moisturePct: number; wood: WoodConstants; needing: string}): number {
  const {moisturePct, wood, needing} = at;
  check(moisturePct >= 0 && moisturePct <= 200, `${needing}: moisturePct`, "from 0 to 200", moisturePct);
  const {fibreSaturationPct} = wood;
  const missing = Math.max(0, fibreSaturationPct - moisturePct) / fibreSaturationPct;
  return 1 - (knownConstant(wood, "volumetricPct", needing) / 100) * missing;
}
