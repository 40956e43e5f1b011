import chiSquareCdf from "@stdlib/stats-base-dists-chisquare-cdf";
import chiSquareQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {check} from "../check.ts";
import {checkLevel} from "./interval.ts";
import {noncentralTQuantile} from "./noncentralT.ts";
import {normalQuantile} from "./normalQuantile.ts";
import {root} from "./root.ts";

export interface ToleranceInputs {
  /** How many pieces were measured. */
  n: number;
  /** Share of all pieces, measured or not, that must lie inside. */
  coverage: number;
  /** How sure of that. */
  level?: number;
  /** 2 for mean ∓ k·s, 1 for mean + k·s alone or mean − k·s alone. */
  sides?: 1 | 2;
}

/**
 * Tolerance factor k, without unit: with certainty `level`, at least a share `coverage` of a normal population lies
 * inside mean ∓ k·s (two sides) or on one side of mean + k·s, mean and s from n pieces. Exact, not Howe's
 * approximation.
 *
 *   one side   k = t′₍ₙ₋₁₎(level; δ = Φ⁻¹(coverage)·√n)/√n        quantile of the noncentral t
 *   two sides  ∫ φ(x; 0, 1/√n)·P( χ²₍ₙ₋₁₎ > (n − 1)·r(x)²/k² ) dx = level,    Φ(x + r) − Φ(x − r) = coverage
 *
 * Holds for measurements that scatter like a bell curve; pieces of one lot count as far fewer.
 *
 * Source: NIST/SEMATECH e-Handbook 7.2.6.3; Hahn and Meeker (1991), Statistical Intervals, section 4.6 (from memory).
 * Checked: tests/reference/tolerance.test.ts, against NIST, a handbook table and two quadratures in R.
 *
 * @throws RangeError unless n is whole and at least 2, and coverage and level are strictly between 0 and 1
 * @example toleranceFactor({n: 10, coverage: 0.95}) // 3.3934
 */
export function toleranceFactor({n, coverage, level = 0.95, sides = 2}: ToleranceInputs): number {
  checkInputs({n, coverage, level}, "toleranceFactor");
  if (sides === 1) {
    return noncentralTQuantile(level, n - 1, normalQuantile(coverage) * Math.sqrt(n)) / Math.sqrt(n);
  }
  const half = halfWidths(n, coverage);
  const miss = (k: number) => {
    const chance = half.map(({weight, r}) => weight * (1 - chiSquareCdf((n - 1) * (r / k) ** 2, n - 1)));
    return chance.reduce((a, b) => a + b) - level;
  };
  let [low, high] = [0.5, 2].map((factor) => factor * howeFactor({n, coverage, level})) as [number, number];
  while (miss(low) > 0) low /= 2;
  while (miss(high) < 0) high *= 2;
  return root(miss, low, high);
}

/** For each place x of the sample mean (in population deviations) its weight and the r(x) of `toleranceFactor`. */
function halfWidths(n: number, coverage: number): {weight: number; r: number}[] {
  const step = 0.125; // of the mean's own deviation; the trapezoid rule is then exact to 1e-12 and better
  const places = Array.from({length: 73}, (_, i) => i * step); // to 9 deviations, and doubled for symmetry
  return places.map((place) => {
    const x = place / Math.sqrt(n);
    const inside = (r: number) => normalCdf(x + r, 0, 1) - normalCdf(x - r, 0, 1) - coverage;
    const weight = ((place === 0 ? 1 : 2) * step * Math.exp(-(place ** 2) / 2)) / Math.sqrt(2 * Math.PI);
    return {weight, r: root(inside, 0, x - normalQuantile((1 - coverage) / 2))};
  });
}

/**
 * Howe's approximation of the two-sided tolerance factor, without unit, as older tables print it: within 1 % of the
 * exact one from n = 10 on, 0.2 % from n = 60 on.
 *
 *   k = Φ⁻¹((1 + coverage)/2)·√( (n − 1)(1 + 1/n)/χ²₍ₙ₋₁₎(1 − level) )
 *
 * Source: Howe (1969), JASA 64:610–620; NIST/SEMATECH e-Handbook 7.2.6.3.
 * Checked: tests/reference/tolerance.test.ts, against the 2.217 printed by NIST and R.
 *
 * @throws RangeError as `toleranceFactor`
 */
export function howeFactor({n, coverage, level = 0.95}: Omit<ToleranceInputs, "sides">): number {
  checkInputs({n, coverage, level}, "howeFactor");
  const z = normalQuantile((1 + coverage) / 2);
  return z * Math.sqrt(((n - 1) * (1 + 1 / n)) / chiSquareQuantile(1 - level, n - 1));
}

/**
 * Natrella's approximation of the one-sided tolerance factor, without unit, as older tables and hand calculations have
 * it: within 1 % of the exact one from n = 40 on, a fifth too large for n = 6 and level 0.99.
 *
 *   k = ( z_c + √(z_c² − a·b) )/a    a = 1 − z_l²/(2(n − 1))    b = z_c² − z_l²/n
 *   z_c = Φ⁻¹(coverage)    z_l = Φ⁻¹(level)
 *
 * Source: Natrella (1963), Experimental Statistics, NBS Handbook 91; NIST/SEMATECH e-Handbook 7.2.6.3.
 * Checked: tests/reference/tolerance.test.ts, against the 1.8752 and 5.2808 printed by NIST and R.
 *
 * @returns undefined where n is too small for it: a ≤ 0
 * @throws RangeError as `toleranceFactor`
 */
export function natrellaFactor({n, coverage, level = 0.95}: Omit<ToleranceInputs, "sides">): number | undefined {
  checkInputs({n, coverage, level}, "natrellaFactor");
  const [zc, zl] = [normalQuantile(coverage), normalQuantile(level)];
  const a = 1 - zl ** 2 / (2 * (n - 1));
  const b = zc ** 2 - zl ** 2 / n;
  return a > 0 ? (zc + Math.sqrt(zc ** 2 - a * b)) / a : undefined;
}

function checkInputs({n, coverage, level}: {n: number; coverage: number; level: number}, where: string): void {
  check(Number.isInteger(n) && n >= 2, `${where}: n`, "a count of 2 or more", n);
  check(coverage > 0 && coverage < 1, `${where}: coverage`, "between 0 and 1", coverage);
  checkLevel(level, where);
}
