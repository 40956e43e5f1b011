import {mean} from "./mean.ts";
import {checkNumbers, sum} from "./numbers.ts";

/**
 * Correlation of each value with the one before it, without unit, −1 to 1: whether a row of months, or of weighings on
 * one scale, drifts (above 0) or swings to and fro (below 0).
 *
 *   r₁ = Σ (xᵢ − m)(xᵢ₋₁ − m) / Σ (xᵢ − m)²        m the mean of all
 *
 * Trap: of n values that hang together in no way it lies within ±2/√n nineteen times in twenty: a dozen months say
 * little.
 *
 * Source: NIST/SEMATECH e-Handbook 1.3.5.12.
 * Checked: tests/reference/descriptive.test.ts, against the certified values of NIST StRD.
 *
 * @param values in order of time
 * @returns undefined below two values, or when all are equal
 * @throws RangeError unless every value is finite
 * @example lagOneAutocorrelation([1, 3, 2]) // -0.5
 */
export function lagOneAutocorrelation(values: readonly number[]): number | undefined {
  checkNumbers(values, "lagOneAutocorrelation: values");
  const m = mean(values);
  if (m === undefined || new Set(values).size < 2) return undefined;
  const left = values.map((x) => x - m);
  return sum(left.slice(1).map((x, i) => x * left[i]!)) / sum(left.map((x) => x ** 2));
}
