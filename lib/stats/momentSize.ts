import {check} from "../check.ts";
import {sum} from "./numbers.ts";
import {root} from "./root.ts";

/**
 * Size of a negative binomial for counts around a fitted curve, by moments: the size at which the counts scatter as much as their degrees of
 * freedom want. Small size, wide scatter; variance mᵢ + mᵢ²/r. Unlike the likelihood's (`fitSize`) it pays for the curve's coefficients,
 * so it does not promise too little scatter from few months.
 *
 *   Σ (xᵢ − mᵢ)² / (mᵢ + mᵢ²/r) = df
 *
 * Source: Breslow (1984), Applied Statistics 33:38–44. Checked: tests/reference/momentSize.test.ts, against R's MASS::theta.mm
 *
 * @param freedom counts less coefficients fitted
 * @returns undefined, for Poisson, when the counts scatter no more than chance: Pearson's Σ (x − m)²/m ≤ df
 * @throws RangeError unless there are as many means, all positive, and freedom is positive
 */
export function momentSize(counts: readonly number[], means: readonly number[], freedom: number): number | undefined {
  check(means.length === counts.length, "momentSize: means", `${counts.length} numbers`, means.length);
  for (const m of means) check(Number.isFinite(m) && m > 0, "momentSize: means", "positive", m);
  check(freedom > 0, "momentSize: freedom", "positive", freedom);
  const excess = (logSize: number) =>
    sum(counts.map((x, i) => (x - means[i]!) ** 2 / (means[i]! + means[i]! ** 2 / Math.exp(logSize)))) - freedom;
  const [low, high] = [Math.log(1e-6), Math.log(1e6)];
  return excess(high) <= 0 ? undefined : Math.exp(root(excess, low, high));
}
