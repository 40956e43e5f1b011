import {check} from "../check.ts";

/**
 * Refuses a list with NaN or an infinity in it: a missing measurement must be decided on before it comes here.
 *
 * Checked: tests/stats/numbers.test.ts
 */
export function checkNumbers(values: readonly number[], where: string): void {
  for (const value of values) check(Number.isFinite(value), where, "finite numbers", value);
}

/**
 * A copy in ascending order of number, not of text.
 *
 * Checked: tests/stats/numbers.test.ts
 */
export function ascending(values: readonly number[]): number[] {
  // Numbers side by side are sorted some five times faster than a list by a function.
  return Array.from(Float64Array.from(values).sort());
}

/**
 * The distinct values in ascending order.
 *
 * Checked: tests/stats/numbers.test.ts
 */
export function distinct(values: Iterable<number>): number[] {
  return ascending([...new Set(values)]);
}

/**
 * The values added up from the first on, in their unit; 0 without values.
 *
 * Error: rounding grows with their number, about 1e-16 of the largest sum on the way for each; see `mean`.
 * Checked: tests/stats/numbers.test.ts
 */
export function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
