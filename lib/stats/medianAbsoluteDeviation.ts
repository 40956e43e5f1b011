import {checkNumbers} from "./numbers.ts";
import {quantile} from "./quantile.ts";

/**
 * Median absolute deviation of a sample, in the unit of the values: a spread that a few slips of the pen cannot move.
 *
 *   MAD = 1.4826 · median |x − median|        1.4826 = 1/Φ⁻¹(¾): for a bell curve it is then the standard deviation
 *
 * Less sure than `deviation` where nothing is wrong: it takes about 2.7 times the pieces to be as exact.
 *
 * Source: Hampel (1974), JASA 69:383–393; the constant, to five digits, as in R's mad.
 * Checked: tests/reference/descriptive.test.ts, against R's mad.
 *
 * @returns undefined when there is no value; 0 when half of them are equal
 * @throws RangeError unless every value is finite
 * @example medianAbsoluteDeviation([1, 2, 3, 4, 100]) // 1.4826
 */
export function medianAbsoluteDeviation(values: readonly number[]): number | undefined {
  checkNumbers(values, "medianAbsoluteDeviation: values");
  const median = quantile(values, 0.5);
  if (median === undefined) return undefined;
  const distances = values.map((x) => Math.abs(x - median));
  return 1.4826 * quantile(distances, 0.5)!;
}
