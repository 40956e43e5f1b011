import {mean} from "./mean.ts";
import {checkNumbers} from "./numbers.ts";

/**
 * Standard deviation of a sample, in the unit of the values.
 *
 *   s = √( Σ(x − m)² / (n − 1) )        m the mean
 *
 * Divided by n − 1: the values are a sample of what the supplier cuts, not all of it. Two passes, as the
 * difference of two sums of squares keeps no digit of a small spread around a large mean.
 *
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.6.
 * Checked: tests/reference/descriptive.test.ts, against the certified values of NIST StRD.
 *
 * @returns undefined below 2 values: one piece has no spread
 * @throws RangeError unless every value is finite
 * @example deviation([1, 2, 6]) // 2.6458
 */
export function deviation(values: readonly number[]): number | undefined {
  checkNumbers(values, "deviation: values");
  const m = mean(values);
  if (m === undefined || values.length < 2) return undefined;
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i]! - m) * (values[i]! - m);
  return Math.sqrt(squares / (values.length - 1));
}
