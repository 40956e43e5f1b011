import {check} from "../check.ts";
import {mean} from "./mean.ts";
import {checkNumbers, sum} from "./numbers.ts";

/** The spread of values split into parts that add up: variances, in the square of the values' unit. */
export interface VarianceComponents {
  /** Between groups (lots). */
  between: number;
  /** Within one group. */
  within: number;
  /** True where the estimate of `between` was below 0 and is given as 0: no difference is detectable. */
  betweenNegative: boolean;
}

/**
 * Variance between groups and within a group, by the method of analysis of variance, groups of any sizes: variances, in
 * the square of the values' unit.
 *
 *   within = MS_w = Σ (x_ij − x̄_i)²/(N − k)    between = (MS_b − MS_w)/n₀    MS_b = Σ n_i(x̄_i − x̄)²/(k − 1)
 *   n₀ = (N − Σ n_i²/N)/(k − 1)        k groups, n_i in group i, N in all
 *
 * `between` rests on k − 1 degrees of freedom: with five lots its 95 % interval spans a factor of twenty or more.
 *
 * Source: Searle, Casella and McCulloch (1992), Variance Components, section 3.6 (from memory).
 * Checked: tests/reference/varianceComponents.test.ts, against a published example and R.
 *
 * @returns undefined below two groups, or when no group has two values
 * @throws RangeError on an empty group and unless every value is finite
 */
export function varianceComponents(groups: readonly (readonly number[])[]): VarianceComponents | undefined {
  checkGroups(groups, "varianceComponents");
  const all = groups.flat();
  const [df1, df2] = [groups.length - 1, all.length - groups.length];
  if (df1 < 1 || df2 < 1) return undefined;
  const within = squaresWithin(groups) / df2;
  const size = (all.length - sum(groups.map((group) => group.length ** 2)) / all.length) / df1;
  const between = (squaresBetween(groups) / df1 - within) / size;
  return {between: Math.max(0, between), within, betweenNegative: between < 0};
}

/**
 * Σ (x − mean of its group)², in the square of the values' unit.
 *
 * Checked: tests/reference/varianceComponents.test.ts, through the mean squares of R's anova.
 */
export function squaresWithin(groups: readonly (readonly number[])[]): number {
  return sum(
    groups.flatMap((group) => {
      const center = mean(group)!;
      return group.map((x) => (x - center) ** 2);
    })
  );
}

/**
 * Σ n_i (mean of group i − mean of all)², in the square of the values' unit; n_i values in group i.
 *
 * Checked: tests/reference/varianceComponents.test.ts, through the mean squares of R's anova.
 */
export function squaresBetween(groups: readonly (readonly number[])[]): number {
  const grand = mean(groups.flat())!;
  return sum(groups.map((group) => group.length * (mean(group)! - grand) ** 2));
}

/**
 * Refuses a group without values and values that are not finite.
 *
 * Checked: tests/stats/varianceComponents.test.ts
 */
export function checkGroups(groups: readonly (readonly number[])[], where: string): void {
  for (const group of groups) {
    check(group.length > 0, `${where}: groups`, "of at least one value", group.length);
    checkNumbers(group, `${where}: groups`);
  }
}
