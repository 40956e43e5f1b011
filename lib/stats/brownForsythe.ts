import fCdf from "@stdlib/stats-base-dists-f-cdf";
import {mean} from "./mean.ts";
import {sum} from "./numbers.ts";
import {quantile} from "./quantile.ts";
import {checkGroups, squaresWithin} from "./varianceComponents.ts";

/** An F test: the statistic, its degrees of freedom, and the chance of one as large if there is no difference. */
export interface FTest {
  f: number;
  df1: number;
  df2: number;
  p: number;
}

/**
 * Brown–Forsythe test that groups have one spread, whatever their means: analysis of variance of the distances from
 * each group's median. p is the chance of an F as large if all spreads were equal.
 *
 *   z_ij = |x_ij − median_i|    F = ( Σ n_i(z̄_i − z̄)²/(k − 1) ) / ( Σ (z_ij − z̄_i)²/(N − k) )
 *   with `center: "mean"`, z_ij = |x_ij − x̄_i|: Levene's older test, which longer tails mislead
 *
 * It takes pieces as independent: pieces of one lot are alike, and then p is too small. Groups of two say nothing, as
 * both lie equally far from their median.
 *
 * Source: Brown and Forsythe (1974), JASA 69:364–367; Levene (1960); NIST/SEMATECH e-Handbook 1.3.5.10.
 * Checked: tests/reference/spread.test.ts, against NIST's GEAR.DAT and R package car.
 *
 * @returns undefined below two groups, or when no group has distances that differ (F would be 0/0 or infinite)
 * @throws RangeError on an empty group and unless every value is finite
 */
export function brownForsythe(
  groups: readonly (readonly number[])[],
  {center = "median"}: {center?: "median" | "mean"} = {}
): FTest | undefined {
  checkGroups(groups, "brownForsythe");
  return brownForsytheOf(groups.map((group) => distancesFrom(center, group)));
}

/** How far the values of a group lie from its middle, as the test needs to know it. */
export interface Distances {
  n: number;
  mean: number;
  /** Σ z² */
  squares: number;
  /** Σ (z − z̄)² */
  within: number;
}

/** The distances of a group's values from its middle, so that a group of many pairs is looked through once. */
export function distancesFrom(center: "median" | "mean", group: readonly number[]): Distances {
  const middle = center === "mean" ? mean(group)! : quantile(group, 0.5)!;
  const distances = group.map((x) => Math.abs(x - middle));
  return {
    n: group.length,
    mean: mean(distances)!,
    squares: sum(distances.map((z) => z ** 2)),
    within: squaresWithin([distances])
  };
}

/** The test from the distances of each group. */
export function brownForsytheOf(groups: readonly Distances[]): FTest | undefined {
  const total = sum(groups.map(({n}) => n));
  const [df1, df2] = [groups.length - 1, total - groups.length];
  if (df1 < 1 || df2 < 1) return undefined;
  const all = sum(groups.map((group) => group.n * group.mean)) / total;
  const between = sum(groups.map((group) => group.n * (group.mean - all) ** 2));
  const within = sum(groups.map((group) => group.within));
  if (within <= 1e-20 * sum(groups.map(({squares}) => squares))) return undefined; // nothing but rounding
  const f = between / df1 / (within / df2);
  return {f, df1, df2, p: 1 - fCdf(f, df1, df2)};
}
