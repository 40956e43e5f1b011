import type {Statistic} from "./bootstrapInterval.ts";
import {sum} from "./numbers.ts";

/**
 * Acceleration of a statistic, without unit: how fast its standard error changes with its value, from the values
 * it takes when each of the sample is left out in turn.
 *
 *   uᵢ = statistic without xᵢ    a = Σ(ū − uᵢ)³ / ( 6 · (Σ(ū − uᵢ)²)^1.5 )
 *
 * Source: Efron and Tibshirani (1993), An Introduction to the Bootstrap, equation 14.15.
 * Checked: tests/reference/bootstrap.test.ts, against the 0.061 printed there for their spatial data, and R.
 *
 * @returns undefined when the statistic has no value without one of them; 0 when it never changes
 */
export function jackknifeAcceleration(values: readonly number[], statistic: Statistic): number | undefined {
  const left = values.map((_, out) => statistic(values.toSpliced(out, 1)) ?? Number.NaN);
  if (left.length === 0 || !left.every(Number.isFinite)) return undefined;
  const center = sum(left) / left.length;
  const powerSum = (power: number) => sum(left.map((u) => (center - u) ** power));
  const squares = powerSum(2);
  return squares === 0 ? 0 : powerSum(3) / (6 * squares ** 1.5);
}
