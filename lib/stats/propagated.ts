import {check} from "../check.ts";

/**
 * Standard uncertainty of a result, in the result's unit, from those of the values it is worked out from, when their errors are independent.
 *
 *   u² = Σ [½ (f(…, xᵢ + uᵢ, …) − f(…, xᵢ − uᵢ, …))]²
 *
 * Range: f nearly straight over each xᵢ ± uᵢ. The trap: a value that comes in twice is one value, and must be written once.
 * Source: JCGM 100:2008 (GUM), 5.1.2 and the numerical form in 5.1.3, note 2 (from memory).
 * Checked: tests/stats/propagated.test.ts, by hand
 *
 * @param values what f takes, each with its standard uncertainty `u`
 * @throws RangeError unless each u is 0 or more
 * @example propagated(([a, b]) => a! * b!, [{value: 10, u: 0.1}, {value: 5, u: 0.2}]) // 2.06
 */
export function propagated(
  f: (values: readonly number[]) => number,
  values: readonly {value: number; u: number}[]
): number {
  const means = values.map(({value}) => value);
  const parts = values.map(({value, u}, i) => {
    check(u >= 0 && u < Infinity, "propagated: u", "0 or more", u);
    return u === 0 ? 0 : (f(means.with(i, value + u)) - f(means.with(i, value - u))) / 2;
  });
  return Math.hypot(...parts);
}
