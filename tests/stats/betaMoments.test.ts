import fc from "fast-check";
import {expect, test} from "vitest";
import {betaByMoments, betaMoments} from "../../lib/stats/betaMoments.ts";

// By hand: Beta(1, 1) is uniform, mean 1/2, variance 1/12; Beta(2, 3): 2/5 and 6/150.
test("betaMoments of Beta(1, 1) and Beta(2, 3), worked by hand", () => {
  expect(betaMoments({alpha: 1, beta: 1})).toEqual({mean: 0.5, variance: expect.closeTo(1 / 12, 15)});
  expect(betaMoments({alpha: 2, beta: 3})).toEqual({mean: 0.4, variance: expect.closeTo(0.04, 15)});
});

test("betaByMoments takes betaMoments back", () => {
  const shape = fc.integer({min: 1, max: 4000}).map((tenths) => tenths / 10);
  fc.assert(
    fc.property(shape, shape, (alpha, beta) => {
      const got = betaByMoments(betaMoments({alpha, beta}))!;
      expect(got.alpha / alpha).toBeCloseTo(1, 9);
      expect(got.beta / beta).toBeCloseTo(1, 9);
    })
  );
});

test("betaByMoments has no answer for the variance of shares that are 0 or 1", () => {
  expect(betaByMoments({mean: 0.5, variance: 0.25})).toBeUndefined();
  expect(betaByMoments({mean: 0.5, variance: 0.2})).toBeDefined();
});

test("betaMoments and betaByMoments refuse what no share can have", () => {
  expect(() => betaMoments({alpha: 0, beta: 1})).toThrow("betaMoments: alpha must be positive, got 0.");
  expect(() => betaMoments({alpha: 1, beta: Number.NaN})).toThrow("betaMoments: beta must be positive, got NaN.");
  expect(() => betaByMoments({mean: 73, variance: 0.01})).toThrow(
    "betaByMoments: mean must be strictly between 0 and 1, got 73."
  );
  expect(() => betaByMoments({mean: 0.7, variance: 0})).toThrow("betaByMoments: variance must be positive, got 0.");
});
