import binomialPmf from "@stdlib/stats-base-dists-binomial-pmf";
import fc from "fast-check";
import {expect, test} from "vitest";
import {betaBinomialPmf} from "../../lib/stats/betaBinomial.ts";
import {thin} from "../../lib/stats/thin.ts";

test("a binomial thinned is the binomial of the product", () => {
  fc.assert(
    fc.property(
      fc.integer({min: 0, max: 20}),
      fc.double({min: 0, max: 1, noNaN: true}),
      fc.double({min: 0, max: 1, noNaN: true}),
      (n, p, share) => {
        const whole = Array.from({length: n + 1}, (_, k) => binomialPmf(k, n, p));
        const want = whole.map((_, k) => expect.closeTo(binomialPmf(k, n, p * share), 9));
        expect(thin(whole, share)).toEqual(want);
      }
    )
  );
});

test("thin keeps all at share 1, none at share 0, and the share of the mean between", () => {
  const pmf = betaBinomialPmf(12, 46, 14);
  const mean = (own: readonly number[]) => own.reduce((sum, p, k) => sum + p * k, 0);
  expect(thin(pmf, 1)).toEqual(pmf);
  expect(thin(pmf, 0)[0]).toBeCloseTo(1, 12);
  expect(mean(thin(pmf, 0.4))).toBeCloseTo(0.4 * mean(pmf), 12);
});

test("thin refuses a share in percent", () => {
  expect(() => thin([1], 40)).toThrow("thin: share must be between 0 and 1, got 40.");
});
