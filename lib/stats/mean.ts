import {checkNumbers, sum} from "./numbers.ts";

/**
 * Arithmetic mean, in the unit of the values.
 *
 *   m = Σx/n, then m + Σ(x − m)/n
 *
 * The second pass takes back the rounding of the first: weights near 10⁷ keep all their digits.
 *
 * Source: two-pass mean, e.g. Chan, Golub and LeVeque (1983), Amer. Statist. 37:242–247.
 * Checked: tests/reference/descriptive.test.ts, against the certified values of NIST StRD.
 *
 * @returns undefined when there is no value
 * @throws RangeError unless every value is finite
 * @example mean([1, 2, 6]) // 3
 */
export function mean(values: readonly number[]): number | undefined {
  checkNumbers(values, "mean: values");
  const n = values.length;
  if (n === 0) return undefined;
  const first = sum(values) / n;
  let rest = 0;
  for (let i = 0; i < n; i++) rest += values[i]! - first;
  return first + rest / n;
}
