import {check} from "../check.ts";
import {knownConstant, type WoodConstants, type WoodName, woodConstants} from "./species.ts";

/** Which way a size lies: from pith to bark, along the rings, or at 45° to both, where the mean of the two holds. */
export type GrainDirection = "radial" | "tangential" | "between";

/** A size across the grain that dries, or wets, from one moisture to another. */
export interface MoistureChange {
  /** The size at fromPct. */
  readonly sizeMm: number;
  readonly fromPct: number;
  readonly toPct: number;
  readonly species: WoodName | WoodConstants;
  readonly direction: GrainDirection;
}

/**
 * How much smaller a face or a diameter becomes when the wood dries, mm: positive when it shrinks, negative when it swells.
 *
 *   s = D · (1 − f(M₂)/f(M₁))        f(M) = 1 − (β/100)·(S − M)/S below S, and 1 from S up
 *
 * with D the size at M₁, mm; M₁ and M₂ moisture before and after and S fibre saturation, % of oven-dry mass; β shrinkage of
 * that direction, green to oven-dry, %, and f the size as a share of the green size. Between 6 and 14 % it is
 * changeInUse to within the rounding of the tables.
 *
 * The trap: nothing happens above fibre saturation, and the surface of a square is below it long before its mean is. Along
 * the grain the shrinkage is 0.1 to 0.2 % green to oven-dry and is left out; juvenile wood shrinks more.
 * Error: one stick's shrinkage is easily a fifth away from that of its species, so carry oversize accordingly.
 * Range: 0 to 200 % moisture. The handbook's equation ends at 30 %; above fibre saturation the size is the green size.
 * Source: Wood Handbook, FPL-GTR-190 (2010), eq. 13-3 (from memory, and it reproduces the printed coefficients), with the
 * wood's own fibre saturation for its 30 %, and table 4-3.
 * Checked: tests/reference/wood-shrinkage.test.ts
 *
 * @throws RangeError unless sizeMm is positive, moistures are from 0 to 200 and the shrinkage of that direction is known
 * @example shrinkage({sizeMm: 40, fromPct: 30, toPct: 12, species: "white-ash", direction: "radial"}) // 1.18
 */
export function shrinkage({sizeMm, fromPct, toPct, species, direction}: MoistureChange): number {
  check(sizeMm > 0 && sizeMm < Infinity, "shrinkage: sizeMm", "positive", sizeMm);
  check(fromPct >= 0 && fromPct <= 200, "shrinkage: fromPct", "from 0 to 200", fromPct);
  check(toPct >= 0 && toPct <= 200, "shrinkage: toPct", "from 0 to 200", toPct);
  const wood = woodConstants(species);
  const share = (moisturePct: number) =>
    1 -
    (totalPct(wood, direction) / 100) * (Math.max(0, wood.fibreSaturationPct - moisturePct) / wood.fibreSaturationPct);
  return sizeMm * (1 - share(toPct) / share(fromPct));
}

function totalPct(wood: WoodConstants, direction: GrainDirection): number {
  const isDirection = direction === "radial" || direction === "tangential" || direction === "between";
  check(isDirection, "shrinkage: direction", "one of radial, tangential, between", direction);
  if (direction === "radial") return knownConstant(wood, "radialPct", "shrinkage");
  if (direction === "tangential") return knownConstant(wood, "tangentialPct", "shrinkage");
  return (knownConstant(wood, "radialPct", "shrinkage") + knownConstant(wood, "tangentialPct", "shrinkage")) / 2;
}
