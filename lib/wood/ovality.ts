import {check} from "../check.ts";
import {shrinkage} from "./shrinkage.ts";
import type {WoodConstants, WoodName} from "./species.ts";

/**
 * What a turned round becomes when it dries: its diameter across the rings, its diameter along them, and the difference, mm.
 *
 *   radial = D − s(D, radial)     tangential = D − s(D, tangential)     ovality = radial − tangential
 *
 * with D the diameter as turned, mm, and s as in shrinkage.
 *
 * The trap: to clear the next diameter it is the *smaller* of the two that must. Above fibre saturation nothing moves. The
 * rings are taken as straight across the piece; a piece with the pith in it splits instead.
 * Error: as shrinkage; the difference of the two is the less certain.
 * Range: as shrinkage.
 * Source: Wood Handbook, FPL-GTR-190 (2010), fig. 4-3 (a round dries to an oval; from memory), with shrinkage both ways.
 * Checked: tests/reference/wood-shrinkage.test.ts
 *
 * @throws RangeError unless diameterMm is positive, and as shrinkage does
 * @example ovality({diameterMm: 32, fromPct: 16, toPct: 10, species: "sugar-maple"}).ovalityMm // 0.35
 */
export function ovality(round: {
  diameterMm: number;
  fromPct: number;
  toPct: number;
  species: WoodName | WoodConstants;
}) {
  const {diameterMm: sizeMm, ...change} = round;
  check(sizeMm > 0 && sizeMm < Infinity, "ovality: diameterMm", "positive", sizeMm);
  const radialMm = sizeMm - shrinkage({...change, sizeMm, direction: "radial"});
  const tangentialMm = sizeMm - shrinkage({...change, sizeMm, direction: "tangential"});
  return {radialMm, tangentialMm, ovalityMm: radialMm - tangentialMm};
}
