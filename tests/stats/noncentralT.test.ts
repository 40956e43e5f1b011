import {expect, test} from "vitest";
import {noncentralTCdf, noncentralTQuantile} from "../../lib/stats/noncentralT.ts";

test("noncentralTCdf rises with t, falls with delta, and is mirrored", () => {
  for (const df of [1, 3, 30, 900]) {
    expect(noncentralTCdf(2, df, 1)).toBeGreaterThan(noncentralTCdf(1.5, df, 1));
    expect(noncentralTCdf(2, df, 1)).toBeLessThan(noncentralTCdf(2, df, 0.5));
    expect(noncentralTCdf(2, df, 1) + noncentralTCdf(-2, df, -1)).toBeCloseTo(1, 11);
  }
});

// By hand: P(T ≤ 0) = P(Z ≤ −δ); Φ(−1) = 0.158655253931457 (normal table, from memory).
test("noncentralTCdf(0) is Φ(−delta), whatever the degrees of freedom", () => {
  for (const df of [1, 7, 100]) expect(noncentralTCdf(0, df, 1)).toBeCloseTo(0.158655253931457, 11);
});

test("noncentralTQuantile takes noncentralTCdf back, both tails", () => {
  for (const [df, delta] of [
    [1, 0],
    [2, 3],
    [9, -5],
    [60, 12]
  ] as const) {
    for (const p of [0.01, 0.5, 0.99]) {
      expect(noncentralTCdf(noncentralTQuantile(p, df, delta), df, delta)).toBeCloseTo(p, 11);
    }
  }
});

test("noncentralT refuses what has no distribution", () => {
  expect(() => noncentralTCdf(1, 0, 0)).toThrow("noncentralTCdf: df must be 1 or more, got 0.");
  expect(() => noncentralTCdf(Number.NaN, 1, 0)).toThrow("noncentralTCdf: t must be finite, got NaN.");
  expect(() => noncentralTCdf(1, 1, Infinity)).toThrow("noncentralTCdf: delta must be finite, got Infinity.");
  expect(() => noncentralTQuantile(1, 5, 0)).toThrow("noncentralTQuantile: p must be strictly between 0 and 1, got 1.");
});
