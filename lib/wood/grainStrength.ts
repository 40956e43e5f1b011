import {check} from "../check.ts";

/** A strength that slope of grain takes away: bending, resistance to a blow, crushing along the grain. */
export type GrainProperty = "rupture" | "impact" | "compression";

/** Share of the straight-grained strength that is left, by slope. */
const published: readonly ({readonly slope: number} & Record<GrainProperty, number>)[] = [
  {slope: 0, rupture: 1, impact: 1, compression: 1},
  {slope: 1 / 25, rupture: 0.96, impact: 0.95, compression: 1},
  {slope: 1 / 20, rupture: 0.93, impact: 0.9, compression: 1},
  {slope: 1 / 15, rupture: 0.89, impact: 0.81, compression: 1},
  {slope: 1 / 10, rupture: 0.81, impact: 0.62, compression: 0.99},
  {slope: 1 / 5, rupture: 0.55, impact: 0.36, compression: 0.93}
];

/**
 * Share of its strength that a stick keeps when the grain slopes, as a fraction of 1; between the rows of the table by a
 * straight line in the slope.
 *
 * The trap: these are means of clear wood. Strength ratios of grading rules (ASTM D245: 0.61 at 1 in 10, but 1 at 1 in
 * 20) are made for another use; do not mix them. Slope on two faces adds up: combinedSlope.
 * Error: a slope read as 1 in 15 that is 1 in 10 costs 8 points of bending strength and 19 of toughness.
 * Range: slope 0 to 1 in 5.
 * Source: Wood Handbook, FPL-GTR-190 (2010), table 5-12 (place read, values from memory).
 * Checked: tests/reference/wood-grain.test.ts, against the handbook's Hankinson fit, which was read
 *
 * @throws RangeError unless slope is from 0 to 0.2
 * @example grainStrength({slope: 1 / 15, property: "rupture"}) // 0.89
 */
export function grainStrength({slope, property}: {slope: number; property: GrainProperty}): number {
  check(slope >= 0 && slope <= 0.2, "grainStrength: slope", "from 0 to 0.2 (1 in 5)", slope);
  const isProperty = property === "rupture" || property === "impact" || property === "compression";
  check(isProperty, "grainStrength: property", "one of rupture, impact, compression", property);
  const above = published.findIndex((row) => row.slope >= slope);
  const high = published[above]!;
  const low = published[above - 1] ?? high;
  if (high.slope === slope) return high[property];
  return low[property] + ((slope - low.slope) / (high.slope - low.slope)) * (high[property] - low[property]);
}

/**
 * Strength at an angle to the grain between the two that are known, as a fraction of the strength along the grain.
 *
 *   N/P = q / (sinⁿθ + q·cosⁿθ)        q = Q/P, across over along; θ angle to the grain; tan θ the slope
 *
 * The trap: a fit, 3 to 5 points below the table for the shallow slopes a shaft has: prefer grainStrength there.
 * Range: q between 0 and 1, n 1.5 to 2.5. Bending q 0.1, n 1.5; impact q 0.05, n 1.5; compression q 0.1, n 2.5.
 * Source: Wood Handbook, FPL-GTR-190 (2010), p. 5-30 (read), after Hankinson.
 * Checked: tests/reference/wood-grain.test.ts
 *
 * @throws RangeError unless slope is 0 or more, acrossOverAlong above 0 to 1 and exponent from 1.5 to 2.5
 * @example hankinson({slope: 1 / 10, acrossOverAlong: 0.1, exponent: 1.5}) // 0.765
 */
export function hankinson(at: {slope: number; acrossOverAlong: number; exponent: number}): number {
  const {slope, acrossOverAlong, exponent} = at;
  check(slope >= 0 && slope < Infinity, "hankinson: slope", "0 or more", slope);
  const isRatio = acrossOverAlong > 0 && acrossOverAlong <= 1;
  check(isRatio, "hankinson: acrossOverAlong", "above 0 and at most 1", acrossOverAlong);
  check(exponent >= 1.5 && exponent <= 2.5, "hankinson: exponent", "from 1.5 to 2.5", exponent);
  const angle = Math.atan(slope);
  return acrossOverAlong / (Math.sin(angle) ** exponent + acrossOverAlong * Math.cos(angle) ** exponent);
}
