import {check} from "../check.ts";
import {volumeShare} from "./basicDensity.ts";
import {type BarSize, barVolume, density} from "./density.ts";
import {densityAt12} from "./densityAt12.ts";
import {type WoodConstants, type WoodName, woodConstants} from "./species.ts";

/** One measured square, and the standard uncertainty of each instrument it was measured with. */
export interface MeasuredBar extends BarSize {
  readonly massG: number;
  readonly moisturePct: number;
  readonly species: WoodName | WoodConstants;
  readonly scaleG: number;
  /** Of one face; width and thickness are read apart. */
  readonly calliperMm: number;
  /** Of the length. */
  readonly tapeMm: number;
  readonly meterPct: number;
}

/** What one instrument adds to the standard uncertainty of density, kg/m³. */
export interface DensityContribution {
  readonly instrument: "scale" | "calliper" | "tape" | "meter";
  readonly asMeasuredKgM3: number;
  readonly at12KgM3: number;
}

/**
 * Standard uncertainty of a square's density, as measured and at 12 % moisture, with each instrument's part, kg/m³.
 *
 *   u²(ρ)/ρ² = (um/m)² + (ua/a)² + (ub/b)² + (uL/L)²
 *   u²(ρ12)/ρ12² = u²(ρ)/ρ² + (g·uM)²        g = (βv/(100·S))/v(M) − 1/(100 + M) below S, −1/(100 + M) from S up
 *
 * with m mass, a and b the faces, L length, M moisture, βv and S of the species, v(M) as in densityAt12, g in 1/%.
 *
 * The trap: each input is a *standard* uncertainty. A maker's "±0.1" that is a limit is 0.1/√3; one that holds 95 times in
 * 100 is 0.1/2. A calliper that is off the same way on both faces adds in full, not in squares. A bow, wane, a wax end and
 * the spread of moisture through the section are not in it, nor that the species' constants are means.
 * Source: JCGM 100:2008 (GUM), eq. 10, first order (from memory).
 * Checked: tests/reference/wood-densityUncertainty.test.ts
 *
 * @throws RangeError unless the square is one that density and densityAt12 take and no uncertainty is negative
 * @example densityUncertainty({lengthMm: 1500, widthMm: 40, thicknessMm: 40, massG: 1680, moisturePct: 12,
 *   species: "white-ash", scaleG: 1, calliperMm: 0.1, tapeMm: 1, meterPct: 1.5}).at12KgM3 // 5.0
 */
export function densityUncertainty(bar: MeasuredBar) {
  for (const name of ["scaleG", "calliperMm", "tapeMm", "meterPct"] as const) {
    check(bar[name] >= 0 && bar[name] < Infinity, `densityUncertainty: ${name}`, "0 or more", bar[name]);
  }
  const {massG, lengthMm, widthMm, thicknessMm, moisturePct, species} = bar;
  const densityKgM3 = density({massG, volumeMm3: barVolume(bar)});
  const densityAt12KgM3 = densityAt12({densityKgM3, moisturePct, species});
  const share = {
    scale: bar.scaleG / massG,
    calliper: Math.hypot(bar.calliperMm / widthMm, bar.calliperMm / thicknessMm),
    tape: bar.tapeMm / lengthMm,
    meter: Math.abs(moistureSlope(moisturePct, woodConstants(species))) * bar.meterPct
  };
  const contributions = (["scale", "calliper", "tape", "meter"] as const).map(
    (instrument): DensityContribution => ({
      instrument,
      asMeasuredKgM3: instrument === "meter" ? 0 : densityKgM3 * share[instrument],
      at12KgM3: densityAt12KgM3 * share[instrument]
    })
  );
  return {
    densityKgM3,
    densityAt12KgM3,
    asMeasuredKgM3: Math.hypot(...contributions.map(({asMeasuredKgM3}) => asMeasuredKgM3)),
    at12KgM3: Math.hypot(...contributions.map(({at12KgM3}) => at12KgM3)),
    contributions
  };
}

/** Relative change of the density at 12 % when the moisture reading is 1 % higher. */
function moistureSlope(moisturePct: number, wood: WoodConstants): number {
  const ofWater = -1 / (100 + moisturePct);
  if (moisturePct >= wood.fibreSaturationPct) return ofWater;
  const needing = "densityUncertainty";
  const ofVolume = (1 - volumeShare({moisturePct: 0, wood, needing})) / wood.fibreSaturationPct;
  return ofWater + ofVolume / volumeShare({moisturePct, wood, needing});
}
