import {check} from "../check.ts";

/**
 * Slope of grain from a mark that leaves the line of the stick: sideways run over length, a plain number (1 in 20 is 0.05).
 *
 *   s = o / l        o sideways run, l length along the stick, mm
 *
 * The trap: on one face it is only one of two slopes; see combinedSlope. Rings seen on a flat-sawn face are not the grain:
 * follow a split, an ink line that bleeds, or the vessels.
 * Error: 1 mm on 100 mm of mark is 1 in 100, the difference between 1 in 20 and 1 in 25; a longer mark tells more.
 * Source: Wood Handbook, FPL-GTR-190 (2010), p. 5-30 (read): slope is the tangent of the angle.
 * Checked: tests/wood/slopeOfGrain.test.ts
 *
 * @throws RangeError unless runMm is 0 or more and lengthMm positive
 * @example slopeOfGrain({runMm: 5, lengthMm: 100}) // 0.05
 */
export function slopeOfGrain({runMm, lengthMm}: {runMm: number; lengthMm: number}): number {
  check(runMm >= 0 && runMm < Infinity, "slopeOfGrain: runMm", "0 or more", runMm);
  check(lengthMm > 0 && lengthMm < Infinity, "slopeOfGrain: lengthMm", "positive", lengthMm);
  return runMm / lengthMm;
}

/**
 * The true slope of a stick whose grain runs out on two faces at right angles (spiral and diagonal grain), a plain number.
 *
 *   s = √(s₁² + s₂²)
 *
 * The trap: two slopes that each pass a limit may fail it together.
 * Source: Wood Handbook, FPL-GTR-190 (2010), p. 5-31 (read). Checked: tests/reference/wood-grain.test.ts
 *
 * @throws RangeError unless both are 0 or more
 * @example combinedSlope(1 / 20, 1 / 15) // 1 in 12
 */
export function combinedSlope(first: number, second: number): number {
  check(first >= 0 && first < Infinity, "combinedSlope: first", "0 or more", first);
  check(second >= 0 && second < Infinity, "combinedSlope: second", "0 or more", second);
  return Math.hypot(first, second);
}

/**
 * Angle of a slope of grain, degrees.
 *
 *   θ = atan(s)
 *
 * Source: as slopeOfGrain. Checked: tests/reference/wood-grain.test.ts
 *
 * @throws RangeError unless slope is 0 or more
 * @example slopeAngle(1 / 20) // 2.86
 */
export function slopeAngle(slope: number): number {
  check(slope >= 0 && slope < Infinity, "slopeAngle: slope", "0 or more", slope);
  return (Math.atan(slope) * 180) / Math.PI;
}

/**
 * The greatest length over which one fibre can stay inside a round, mm: beyond it the grain has run out of the side. A thin
 * tip therefore forgives less slope than a thick butt.
 *
 *   l = d / s        d diameter, mm; s slope
 *
 * Source: geometry. Checked: tests/reference/wood-grain.test.ts
 *
 * @returns Infinity when the slope is 0: it never runs out
 * @throws RangeError unless diameterMm is positive and slope 0 or more
 * @example runOutLength({diameterMm: 10, slope: 1 / 20}) // 200
 */
export function runOutLength({diameterMm, slope}: {diameterMm: number; slope: number}): number {
  check(diameterMm > 0 && diameterMm < Infinity, "runOutLength: diameterMm", "positive", diameterMm);
  check(slope >= 0 && slope < Infinity, "runOutLength: slope", "0 or more", slope);
  return diameterMm / slope;
}
