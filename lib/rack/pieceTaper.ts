import type {Histories, Piece} from "../book/histories.ts";
import {latheOffs} from "../book/latheOffs.ts";
import type {Settings} from "../book/settings.ts";
import type {Taper} from "../wood/taper.ts";

/** The taper of a piece at a stage, and how well its ends are known. */
export interface PieceTaper extends Taper {
  /** Whether the large end was measured; else it is the stage's target. */
  measured: boolean;
  /** Standard uncertainties of the two diameters, mm. */
  largeSdMm: number;
  smallSdMm: number;
}

/**
 * How far pieces come off the lathe from the target at a stage, mm: root mean square of measured large diameter less target, the calliper's
 * share taken out. It stands for the small end, which nobody measures.
 *
 *   s² = Σ (D − target)²/n − u²        u the calliper's standard uncertainty; 0 where that is more
 *
 * The trap: it takes the small end to be turned as true as the large one.
 * Source: common practice, no source. Checked: tests/rack/pieceTaper.test.ts, by hand; tests/recovery/rack.test.ts
 *
 * @returns the calliper's uncertainty where fewer than ten were measured: for want of anything better
 */
export function latheSdMm({settings, pieces}: Pick<Histories, "settings" | "pieces">, stage: string): number {
  const {calliperMm} = settings.accuracy;
  const offs = latheOffs({settings, pieces}, stage);
  if (offs.length < fewestMeasured) return calliperMm;
  const squares = offs.reduce((total, off) => total + off ** 2, 0) / offs.length;
  return Math.sqrt(Math.max(0, squares - calliperMm ** 2));
}

/** Fewest diameters of which a spread is made; ours. */
const fewestMeasured = 10;

/**
 * The taper that a piece has at a stage: the stage's targets, the large diameter as it was measured there last, if it was. A reading below
 * the target of the small end is a slip and passed over.
 *
 * Checked: tests/rack/pieceTaper.test.ts
 *
 * @param latheMm how far pieces come off the lathe from the target there, mm, of `latheSdMm`
 * @returns undefined where the settings give the stage no sizes
 */
export function pieceTaper(
  {measurements}: Pick<Piece, "measurements">,
  stage: string,
  {settings, latheMm}: {settings: Pick<Settings, "stages" | "accuracy">; latheMm: number}
): PieceTaper | undefined {
  const target = settings.stages.find(({name}) => name === stage);
  const {largeMm, smallMm, lengthMm} = target ?? {};
  if (largeMm === undefined || smallMm === undefined || lengthMm === undefined || smallMm > largeMm) return undefined;
  const read = measurements.findLast(
    (one) => one.stage === stage && one.diameterMm !== undefined && one.diameterMm >= smallMm
  )?.diameterMm;
  return {
    largeMm: read ?? largeMm,
    smallMm,
    lengthMm,
    measured: read !== undefined,
    largeSdMm: read === undefined ? latheMm : settings.accuracy.calliperMm,
    smallSdMm: latheMm
  };
}
