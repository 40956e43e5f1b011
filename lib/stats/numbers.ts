import {check} from "../check.ts";

/** Refuses a list with NaN or an infinity in it: a missing measurement must be decided on before it comes here. */
export function checkNumbers(values: readonly number[], where: string): void {
  for (const value of values) check(Number.isFinite(value), where, "finite numbers", value);
}

/** A copy in ascending order of number, not of text. */
export function ascending(values: readonly number[]): number[] {
  return [...values].sort((a, b) => a - b);
}

/** The distinct values in ascending order. */
export function distinct(values: Iterable<number>): number[] {
  return ascending([...new Set(values)]);
}

/** The values added up, in their unit; 0 without values. */
export function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
