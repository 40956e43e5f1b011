import type {Histories, Piece} from "../book/histories.ts";
import {mean} from "../stats/mean.ts";
import {barVolume} from "../wood/density.ts";
import {taperVolume} from "../wood/taper.ts";

/** How much of the wood bought ends up in shafts. Fractions of 1. */
export interface WoodYield {
  squares: number;
  /** Mean volume of a square as bought, and of a finished shaft by the settings, mm³. */
  squareVolumeMm3: number;
  shaftVolumeMm3: number;
  /** What is left of a square that becomes a shaft. */
  taperFraction: number;
  /** The share of squares that become shafts, as handed in. */
  yieldFraction: number;
  /** taperFraction · yieldFraction */
  woodFraction: number;
  /** Lost as shavings from pieces that finish, and in pieces that do not. With woodFraction they add up to 1. */
  shavingsFraction: number;
  discardsFraction: number;
}

/**
 * Wood yield: volume of finished shaft in volume of square, fraction of 1, with what the taper costs and what discards cost apart.
 *
 *   taper = V_shaft / V_square    wood yield = yield · taper    shavings = yield · (1 − taper)    discards = 1 − yield
 *
 * V_shaft is the frustum of the last stage's settings, π L (D² + D d + d²) / 12; shrinkage (some 3 % of the volume) is not taken off.
 * Checked: tests/yield/woodYield.test.ts, tests/reference (taper volume worked from the formula)
 *
 * @param yieldFraction the rolled yield of these pieces, from `stageYields`
 * @returns undefined without pieces, or when the settings give the last stage no diameters
 */
export function woodYield(
  {settings}: Pick<Histories, "settings">,
  pieces: readonly Piece[],
  yieldFraction: number | undefined
): WoodYield | undefined {
  const {largeMm, smallMm, lengthMm} = settings.stages.at(-1)!;
  const squareVolumeMm3 = mean(pieces.map(({intake}) => barVolume(intake)));
  if (!largeMm || !smallMm || !lengthMm || squareVolumeMm3 === undefined || yieldFraction === undefined)
    return undefined;
  const shaftVolumeMm3 = taperVolume({largeMm, smallMm, lengthMm});
  const taperFraction = shaftVolumeMm3 / squareVolumeMm3;
  return {
    squares: pieces.length,
    squareVolumeMm3,
    shaftVolumeMm3,
    taperFraction,
    yieldFraction,
    woodFraction: taperFraction * yieldFraction,
    shavingsFraction: (1 - taperFraction) * yieldFraction,
    discardsFraction: 1 - yieldFraction
  };
}
