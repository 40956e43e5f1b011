import fc from "fast-check";
import {expect, test} from "vitest";
import {benjaminiHochberg} from "../../lib/stats/benjaminiHochberg.ts";

test("benjaminiHochberg([0.01, 0.04, 0.03]) is [0.03, 0.04, 0.04], in the order given", () => {
  expect(benjaminiHochberg([0.01, 0.04, 0.03])).toEqual([0.03, 0.04, 0.04].map((p) => expect.closeTo(p, 12)));
  expect(benjaminiHochberg([])).toEqual([]);
});

test("benjaminiHochberg rejects at q what the step-up rule rejects: all up to the last p(i) ≤ q·i/m", () => {
  const ps = fc.array(
    fc.integer({min: 0, max: 100}).map((p) => p / 100),
    {minLength: 1, maxLength: 20}
  );
  fc.assert(
    fc.property(ps, fc.constantFrom(0.05, 0.1, 0.2), (own, q) => {
      const sorted = [...own].sort((a, b) => a - b);
      const last = sorted.findLastIndex((p, i) => p <= (q * (i + 1)) / own.length + 1e-12);
      const rejected = benjaminiHochberg(own).filter((p) => p <= q + 1e-9).length;
      const bound = last < 0 ? -1 : sorted[last]!;
      expect(rejected).toBe(own.filter((p) => p <= bound).length);
    })
  );
});

test("benjaminiHochberg refuses what is no p", () => {
  expect(() => benjaminiHochberg([0.5, 5])).toThrow("benjaminiHochberg: ps must be between 0 and 1, got 5.");
});
