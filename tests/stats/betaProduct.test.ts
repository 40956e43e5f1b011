import betaCdf from "@stdlib/stats-base-dists-beta-cdf";
import fc from "fast-check";
import {expect, test} from "vitest";
import {betaMoments} from "../../lib/stats/betaMoments.ts";
import {betaProductCdf, betaProductMoments, betaProductQuantile} from "../../lib/stats/betaProduct.ts";
import {shuffled} from "./arbitrary.ts";

const uniform = {alpha: 1, beta: 1};
const at = [0.001, 0.01, 0.1, 0.5, 0.9, 0.99];

// By hand: the product of two uniform shares is at most x with chance x(1 − ln x), of three x(1 − ln x + ln²x/2).
test("betaProductCdf of two and of three uniform shares is the closed form", () => {
  for (const x of at) {
    const log = -Math.log(x);
    expect(betaProductCdf(x, [uniform, uniform])).toBeCloseTo(x * (1 + log), 9);
    expect(betaProductCdf(x, [uniform, uniform, uniform])).toBeCloseTo(x * (1 + log + log ** 2 / 2), 9);
  }
});

// Beta(α, β)·Beta(α + β, γ) is Beta(α, β + γ): Johnson, Kotz and Balakrishnan (1995), vol. 2, section 25.8 (from
// memory).
test("betaProductCdf of one share is its Beta, and so is that of two which follow on each other", () => {
  for (const [alpha, beta, gamma] of [
    [0.5, 3, 2],
    [8, 2, 1],
    [46, 14, 20],
    [220, 19, 3]
  ] as const) {
    for (const x of at) {
      expect(Math.abs(betaProductCdf(x, [{alpha, beta}]) - betaCdf(x, alpha, beta))).toBeLessThanOrEqual(1e-8);
      const two = [
        {alpha, beta},
        {alpha: alpha + beta, beta: gamma}
      ];
      expect(Math.abs(betaProductCdf(x, two) - betaCdf(x, alpha, beta + gamma))).toBeLessThanOrEqual(1e-8);
    }
  }
});

const shape = fc.record({alpha: fc.integer({min: 1, max: 80}), beta: fc.integer({min: 1, max: 30})});
const shapes = fc.array(shape, {minLength: 1, maxLength: 4});

test("betaProductCdf rises from 0 to 1 and does not care which share comes first", () => {
  fc.assert(
    fc.property(shapes, fc.nat(), (own, seed) => {
      expect([betaProductCdf(0, own), betaProductCdf(1, own)]).toEqual([0, 1]);
      const got = at.map((x) => betaProductCdf(x, own));
      got.forEach((p, i) => {
        expect(p).toBeGreaterThanOrEqual((got[i - 1] ?? 0) - 1e-8);
      });
      expect(at.map((x) => betaProductCdf(x, shuffled(own, seed)))).toEqual(got.map((p) => expect.closeTo(p, 8)));
    }),
    {numRuns: 40}
  );
});

test("betaProductQuantile takes betaProductCdf back, and its interval widens with the level", () => {
  fc.assert(
    fc.property(shapes, (own) => {
      const [a, b, c, d] = [0.005, 0.1, 0.9, 0.995].map((p) => betaProductQuantile(p, own)) as [
        number,
        number,
        number,
        number
      ];
      expect(betaProductCdf(b, own)).toBeCloseTo(0.1, 8);
      expect(a < b && b < c && c < d).toBe(true);
    }),
    {numRuns: 20}
  );
});

// By hand: two uniform shares have mean 1/4 and second moment 1/9.
test("betaProductMoments of two uniform shares, worked by hand; of one, its own", () => {
  expect(betaProductMoments([uniform, uniform])).toEqual({mean: 0.25, variance: expect.closeTo(1 / 9 - 1 / 16, 15)});
  const one = {alpha: 46, beta: 14};
  const {mean, variance} = betaMoments(one);
  expect(betaProductMoments([one])).toEqual({mean, variance: expect.closeTo(variance, 15)});
});

test("betaProductCdf and betaProductQuantile refuse what is no shape, and shares too surely 1", () => {
  expect(() => betaProductCdf(0.5, [{alpha: -1, beta: 1}])).toThrow("betaMoments: alpha must be positive, got -1.");
  expect(() => betaProductCdf(0.5, [])).toThrow(
    "betaProductCdf: shapes must be of betas that add up to at least 0.5, got 0."
  );
  expect(() => betaProductQuantile(1, [uniform])).toThrow(
    "betaProductQuantile: p must be strictly between 0 and 1, got 1."
  );
});
