import cdf from "@stdlib/stats-base-dists-normal-cdf";
import fc from "fast-check";
import {expect, test} from "vitest";
import {normalQuantile} from "../../lib/stats/normalQuantile.ts";

test("normalQuantile(0.5) is 0, its ends are infinite, outside there is nothing", () => {
  expect(normalQuantile(0.5)).toBe(0);
  expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
  expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
  expect(normalQuantile(1.01)).toBeNaN();
});

test("the distribution function takes normalQuantile back, to 10 digits of the smaller tail", () => {
  fc.assert(
    fc.property(fc.double({min: -12, max: -0.05, noNaN: true}), (log) => {
      const p = 10 ** log;
      expect(Math.abs(cdf(normalQuantile(p), 0, 1) / p - 1)).toBeLessThan(1e-10);
    })
  );
});
