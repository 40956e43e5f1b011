import {barVolume} from "../../lib/wood/density.ts";
import {densityAt12} from "../../lib/wood/densityAt12.ts";
import {taperVolume} from "../../lib/wood/taper.ts";
import type {Piece} from "./pieces.ts";
import {normal, stream} from "./random.ts";
import {lathe, latheLengthSdMm} from "./truthMeasuring.ts";
import {stageSettings, type TurnedStage} from "./truthStages.ts";

export const woods = {ash: "european-ash", maple: "sugar-maple"} as const;

/** True mass without water per volume at the moisture, g/mm³: the formula for density at 12 % read backwards; it is linear. */
export function dryPerVolume({densityAt12: rho, lot}: Piece, moisturePct: number): number {
  const share = densityAt12({densityKgM3: 1, moisturePct, species: woods[lot.species]});
  return rho / share / 1e6 / (1 + moisturePct / 100);
}

/** Oven-dry mass of a square, g. */
export function squareDryG(piece: Piece): number {
  return dryPerVolume(piece, piece.moisturePct) * barVolume(piece);
}

export interface Turned {
  largeMm: number;
  smallMm: number;
  lengthMm: number;
  dryG: number;
}

/** A piece fresh from the lathe: the size it came to, near the target, and its oven-dry mass. */
export function turned(piece: Piece, stage: TurnedStage, moisturePct: number): Turned {
  const random = stream(`lathe ${piece.square} ${stage}`);
  const target = stageSettings.find(({name}) => name === stage)! as {
    largeMm: number;
    smallMm: number;
    lengthMm: number;
  };
  const off = () => normal(random, lathe[stage].mean, lathe[stage].sd);
  const largeMm = target.largeMm + off();
  const smallMm = target.smallMm === target.largeMm ? largeMm : target.smallMm + off();
  const lengthMm = target.lengthMm + normal(random, 0, latheLengthSdMm);
  return {
    largeMm,
    smallMm,
    lengthMm,
    dryG: dryPerVolume(piece, moisturePct) * taperVolume({largeMm, smallMm, lengthMm})
  };
}
