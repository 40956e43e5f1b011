import fCdf from "@stdlib/stats-base-dists-f-cdf";
import {mean} from "./mean.ts";
import {sum} from "./numbers.ts";
import {quantile} from "./quantile.ts";
import {checkGroups, squaresBetween, squaresWithin} from "./varianceComponents.ts";

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
  const distances = groups.map((group) => {
    const middle = center === "mean" ? mean(group)! : quantile(group, 0.5)!;
    return group.map((x) => Math.abs(x - middle));
  });
  const [all, df1] = [distances.flat(), groups.length - 1];
  const df2 = all.length - groups.length;
  if (df1 < 1 || df2 < 1) return undefined;
  const [between, within] = [squaresBetween(distances), squaresWithin(distances)];
  if (within <= 1e-20 * sum(all.map((z) => z ** 2))) return undefined; // nothing but rounding
  const f = between / df1 / (within / df2);
  return {f, df1, df2, p: 1 - fCdf(f, df1, df2)};
}
