import {check} from "../check.ts";
import {sum} from "./numbers.ts";
import {checkGroups, squaresBetween, squaresWithin} from "./varianceComponents.ts";

/** The spread of values split into three parts that add up: variances, in the square of the values' unit. */
export interface NestedVarianceComponents {
  /** Between the outer groups (suppliers). */
  outer: number;
  /** Between the inner groups (lots) of one outer group. */
  inner: number;
  /** Within one inner group. */
  within: number;
  /** True where the estimate was below 0 and is given as 0. */
  outerNegative: boolean;
  innerNegative: boolean;
}

/**
 * Variance between suppliers, between lots of one supplier and within a lot, by the method of analysis of variance,
 * groups of any sizes: variances, in the square of the values' unit.
 *
 *   MS_within = σ²    MS_inner = σ² + n₁σ²_inner    MS_outer = σ² + n₂σ²_inner + n₃σ²_outer        (expected values)
 *   n₁ = (N − Σᵢ Σⱼ n_ij²/nᵢ)/(b − a)    n₂ = (Σᵢ Σⱼ n_ij²/nᵢ − Σ n_ij²/N)/(a − 1)    n₃ = (N − Σ nᵢ²/N)/(a − 1)
 *   a outer groups, b inner groups in all, n_ij values in inner group j of outer group i, nᵢ = Σⱼ n_ij, N = Σ nᵢ
 *
 * Each component comes from the mean squares as they are: a negative inner one is still subtracted from the outer.
 *
 * Source: Searle, Casella and McCulloch (1992), Variance Components, section 5.3 (from memory).
 * Checked: tests/reference/varianceComponents.test.ts, against a published example and R.
 *
 * @param groups outer groups, each a list of inner groups of values
 * @returns undefined unless there are two outer groups, one with two inner groups, and an inner group with two values
 * @throws RangeError on an empty group and unless every value is finite
 */
export function nestedVarianceComponents(
  groups: readonly (readonly (readonly number[])[])[]
): NestedVarianceComponents | undefined {
  for (const group of groups) {
    check(group.length > 0, "nestedVarianceComponents: groups", "of at least one inner group", group.length);
    checkGroups(group, "nestedVarianceComponents");
  }
  const inners = groups.flat();
  const outers = groups.map((group) => group.flat());
  const [a, b, n] = [groups.length, inners.length, inners.flat().length];
  if (a < 2 || b === a || n === b) return undefined;
  const perOuter = sum(groups.map((group, i) => sum(group.map((inner) => inner.length ** 2)) / outers[i]!.length));
  const n1 = (n - perOuter) / (b - a);
  const n2 = (perOuter - sum(inners.map((inner) => inner.length ** 2)) / n) / (a - 1);
  const n3 = (n - sum(outers.map((outer) => outer.length ** 2)) / n) / (a - 1);
  const within = squaresWithin(inners) / (n - b);
  const inner = (sum(groups.map(squaresBetween)) / (b - a) - within) / n1;
  const outer = (squaresBetween(outers) / (a - 1) - within - n2 * inner) / n3;
  return {
    outer: Math.max(0, outer),
    inner: Math.max(0, inner),
    within,
    outerNegative: outer < 0,
    innerNegative: inner < 0
  };
}
