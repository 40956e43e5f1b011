import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import tCdf from "@stdlib/stats-base-dists-t-cdf";
import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import {check} from "../check.ts";
import {normalQuantile} from "./normalQuantile.ts";

/** A number that is not known exactly. */
export interface UnsureNumber {
  estimate: number;
  /** Its standard error, in its unit. */
  sd: number;
  /** Degrees of freedom of the standard error; without them it is taken as known. */
  freedom?: number;
}

/** Places at which the integral is taken: enough for four digits. */
const places = 2000;

/**
 * The chance of each of several independent numbers to be the lowest of all, fractions of 1 that add up to 1: what a rank is worth.
 *
 *   P(i) = ∫₀¹ ∏ⱼ≠ᵢ (1 − Fⱼ(Fᵢ⁻¹(u))) du        F = Student's law about the estimate (normal without degrees of freedom), midpoint rule
 *
 * Ties of numbers known exactly are shared. Range: any number of values.
 * Source: the law of the minimum of independent variables, any textbook. Checked: tests/stats/chanceLowest.test.ts (two normals in closed
 * form, like ones by symmetry, three by Simpson's rule in Python)
 *
 * @throws RangeError unless estimates are finite, sd is 0 or more and freedom positive
 * @example chanceLowest([{estimate: 1, sd: 1}, {estimate: 1, sd: 1}]) // [0.5, 0.5]
 */
export function chanceLowest(values: readonly UnsureNumber[]): number[] {
  for (const {estimate, sd, freedom = 1} of values) {
    check(Number.isFinite(estimate), "chanceLowest: estimate", "finite", estimate);
    check(sd >= 0 && sd < Infinity, "chanceLowest: sd", "0 or more", sd);
    check(freedom > 0, "chanceLowest: freedom", "positive", freedom);
  }
  const raw = values.map((value, i) => {
    const others = values.filter((_, j) => j !== i);
    let total = 0;
    for (let k = 0; k < places; k++) {
      const x = at(value, (k + 0.5) / places);
      total += others.reduce((product, other) => product * above(other, x), 1);
    }
    return total / places;
  });
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map((chance) => chance / sum);
}

/** The value below which the number lies with chance u. */
function at({estimate, sd, freedom}: UnsureNumber, u: number): number {
  return estimate + sd * (freedom === undefined ? normalQuantile(u) : tQuantile(u, freedom));
}

/** The chance that the number lies above x; half where it is known to be x. */
function above({estimate, sd, freedom}: UnsureNumber, x: number): number {
  if (sd === 0) return x < estimate ? 1 : x > estimate ? 0 : 0.5;
  const z = (x - estimate) / sd;
  return 1 - (freedom === undefined ? normalCdf(z, 0, 1) : tCdf(z, freedom));
}
