import chiSquareCdf from "@stdlib/stats-base-dists-chisquare-cdf";
import type {ChiSquareTest} from "./chiSquareTest.ts";
import {deviation} from "./deviation.ts";
import {sum} from "./numbers.ts";
import {checkGroups} from "./varianceComponents.ts";

/**
 * Bartlett's test that groups have one spread: p is the chance of spreads as different if they did, a fraction of 1.
 *
 *   χ² = ( (N − k) ln s² − Σ (nᵢ − 1) ln sᵢ² ) / ( 1 + (Σ 1/(nᵢ − 1) − 1/(N − k)) / (3(k − 1)) )    df = k − 1
 *   s² = Σ (nᵢ − 1)sᵢ²/(N − k)        sᵢ the deviation of group i of nᵢ values, k groups, N values
 *
 * Traps: only for values that scatter like a bell curve; with longer tails it finds differences where there are none,
 * so `brownForsythe` is the test to use, and this one to compare with what others print. It takes pieces as
 * independent.
 *
 * Source: Bartlett (1937), Proc. R. Soc. A 160:268–282; NIST/SEMATECH e-Handbook 1.3.5.7.
 * Checked: tests/reference/spread.test.ts, against R's bartlett.test.
 *
 * @returns undefined below two groups, and when a group has fewer than two values or no spread at all (ln 0)
 * @throws RangeError on an empty group and unless every value is finite
 */
export function bartlett(
  groups: readonly (readonly number[])[]
): Pick<ChiSquareTest, "chiSquare" | "df" | "p"> | undefined {
  checkGroups(groups, "bartlett");
  const df = groups.length - 1;
  const parts = groups.map((group) => ({weight: group.length - 1, variance: (deviation(group) ?? 0) ** 2}));
  if (df < 1 || parts.some(({variance}) => variance === 0)) return undefined;
  const weight = sum(parts.map((part) => part.weight));
  const pooled = sum(parts.map((part) => part.weight * part.variance)) / weight;
  const gap = sum(parts.map((part) => part.weight * Math.log(pooled / part.variance)));
  const chiSquare = gap / (1 + (sum(parts.map((part) => 1 / part.weight)) - 1 / weight) / (3 * df));
  return {chiSquare, df, p: 1 - chiSquareCdf(chiSquare, df)};
}
