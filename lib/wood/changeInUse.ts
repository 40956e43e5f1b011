import {check} from "../check.ts";
import type {GrainDirection, MoistureChange} from "./shrinkage.ts";
import {knownConstant, type WoodConstants, woodConstants} from "./species.ts";

/**
 * How much smaller a seasoned face or diameter becomes between two moistures of use, mm: positive when it shrinks, negative
 * when it swells. The handbook's short form of shrinkage, for 6 to 14 %.
 *
 *   s = D · C · (M₁ − M₂)        D size at M₁, mm; M₁, M₂ % of oven-dry mass; C change for 1 %, a fraction
 *
 * The trap: the printed coefficients are a table of their own; green ash and black maple carry a relative's. Not for green
 * or air-wet wood: use shrinkage.
 * Error: as shrinkage; the short form itself differs from shrinkage by at most 1.6 % of the change.
 * Range: 6 to 14 % at both ends.
 * Source: Wood Handbook, FPL-GTR-190 (2010), eq. 13-2 (read in a secondary source) and table 13-5 (read).
 * Checked: tests/reference/wood-shrinkage.test.ts, against its worked example
 *
 * @throws RangeError unless sizeMm is positive, both moistures are from 6 to 14 and the coefficient is known
 * @example changeInUse({sizeMm: 30, fromPct: 8, toPct: 11, species: "sugar-maple", direction: "tangential"}) // -0.318
 */
export function changeInUse({sizeMm, fromPct, toPct, species, direction}: MoistureChange): number {
  check(sizeMm > 0 && sizeMm < Infinity, "changeInUse: sizeMm", "positive", sizeMm);
  check(fromPct >= 6 && fromPct <= 14, "changeInUse: fromPct", "from 6 to 14", fromPct);
  check(toPct >= 6 && toPct <= 14, "changeInUse: toPct", "from 6 to 14", toPct);
  return sizeMm * per1Pct(woodConstants(species), direction) * (fromPct - toPct);
}

function per1Pct(wood: WoodConstants, direction: GrainDirection): number {
  const isDirection = direction === "radial" || direction === "tangential" || direction === "between";
  check(isDirection, "changeInUse: direction", "one of radial, tangential, between", direction);
  if (direction === "radial") return knownConstant(wood, "radialPer1Pct", "changeInUse");
  if (direction === "tangential") return knownConstant(wood, "tangentialPer1Pct", "changeInUse");
  return (per1Pct(wood, "radial") + per1Pct(wood, "tangential")) / 2;
}
