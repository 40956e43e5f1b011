import {check} from "../check.ts";

/**
 * Strength or stiffness of clear wood at another moisture than 12 %, MPa, from its published values at 12 % and green.
 *
 *   P = P12 · (P12/Pg)^((12 − M)/(Mp − 12))        below Mp, and P = Pg from there up
 *
 * with P12 and Pg the values at 12 % and green, MPa; M moisture and Mp intersection moisture, % of oven-dry mass.
 *
 * The trap: drier wood is stronger and stiffer but not tougher; not for work to maximum load. It is a mean of clear, straight
 * pieces: slope of grain and the single stick count for more.
 * Error: 1 % of moisture is 4 % of rupture and 2 % of modulus; clear pieces of one species vary by 16 and 22 %.
 * Range: 8 % moisture upwards, and only what drying makes greater: P12 at least Pg.
 * Source: Wood Handbook, FPL-GTR-190 (2010), eq. 5-3 and table 5-13 (from memory).
 * Checked: tests/reference/wood-strength.test.ts, against its worked example and a rule of thumb read in a secondary source
 *
 * @throws RangeError unless greenMPa is positive, at12MPa at least that, moisturePct is from 8 to 200 and intersectionPct from 15 to 35
 * @example strengthAtMoisture({at12MPa: 103, greenMPa: 66, moisturePct: 8, intersectionPct: 24}) // 119.5
 */
export function strengthAtMoisture(of: {
  at12MPa: number;
  greenMPa: number;
  moisturePct: number;
  /** 25 where the wood's own is not tabulated. */
  intersectionPct?: number;
}): number {
  const {at12MPa, greenMPa, moisturePct, intersectionPct = 25} = of;
  check(greenMPa > 0 && greenMPa < Infinity, "strengthAtMoisture: greenMPa", "positive", greenMPa);
  const isStronger = at12MPa >= greenMPa && at12MPa < Infinity;
  check(isStronger, "strengthAtMoisture: at12MPa", `at least greenMPa (${greenMPa})`, at12MPa);
  check(moisturePct >= 8 && moisturePct <= 200, "strengthAtMoisture: moisturePct", "from 8 to 200", moisturePct);
  const isIntersection = intersectionPct >= 15 && intersectionPct <= 35;
  check(isIntersection, "strengthAtMoisture: intersectionPct", "from 15 to 35", intersectionPct);
  if (moisturePct >= intersectionPct) return greenMPa;
  return at12MPa * (at12MPa / greenMPa) ** ((12 - moisturePct) / (intersectionPct - 12));
}
