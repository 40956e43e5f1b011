import {expect} from "vitest";

/** Numbers, or nested lists of them; undefined where there must be no answer. */
export type Nested = number | undefined | readonly Nested[];

/**
 * Expects `got` to be `want` to within relTol·|want| + 1e-12, element by element, and undefined exactly where `want`
 * is. The 1e-12 is for values that should be 0.
 */
export function expectClose(got: Nested, want: Nested, relTol: number, where = "value"): void {
  if (Array.isArray(want)) {
    expect(Array.isArray(got), `${where} is a list`).toBe(true);
    expect((got as Nested[]).length, `${where}.length`).toBe(want.length);
    for (const [i, value] of want.entries()) expectClose((got as Nested[])[i], value, relTol, `${where}[${i}]`);
  } else if (want === undefined) {
    expect(got, where).toBeUndefined();
  } else {
    expect(typeof got, `${where} is a number`).toBe("number");
    const allowed = relTol * Math.abs(want as number) + 1e-12;
    expect(Math.abs((got as number) - (want as number)), `${where}: ${got} for ${want}`).toBeLessThanOrEqual(allowed);
  }
}

/** Expects `got` to be `want` to within relTol·|want|, element by element, with no slack for 0: for far tails. */
export function expectRelative(
  got: readonly number[] | number,
  want: readonly number[] | number,
  relTol: number
): void {
  const [all, wanted] = [[got].flat(), [want].flat()] as [number[], number[]];
  expect(all.length, "length").toBe(wanted.length);
  for (const [i, value] of wanted.entries()) {
    expect(Math.abs(all[i]! - value), `[${i}]: ${all[i]} for ${value}`).toBeLessThanOrEqual(relTol * Math.abs(value));
  }
}
