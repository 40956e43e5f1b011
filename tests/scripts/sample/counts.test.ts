import betaCdf from "@stdlib/stats-base-dists-beta-cdf";
import negativeBinomialCdf from "@stdlib/stats-base-dists-negative-binomial-cdf";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {expect, test} from "vitest";
import {beta, gamma, negativeBinomial, poisson} from "../../../scripts/sample/counts.ts";
import {normal, stream} from "../../../scripts/sample/random.ts";
import {mean, sd} from "./csvRows.ts";

const n = 20_000;
const draws = (name: string, one: (random: () => number) => number) => {
  const random = stream(name);
  return Array.from({length: n}, () => one(random));
};
const shareUpTo = (values: number[], limit: number) => values.filter((value) => value <= limit).length / values.length;

// The distribution functions are those of @stdlib. Tolerance: four standard errors of a share of 20 000, at most 0.0141.
const tolerance = 4 * Math.sqrt(0.25 / n);

test("stream(name) is the same on every run, and another for another name", () => {
  expect(stream("a")()).toBe(stream("a")());
  expect(stream("a")()).not.toBe(stream("b")());
});

test("normal(random) follows the normal distribution", () => {
  const values = draws("normal", (random) => normal(random, 10, 2));
  for (const x of [6, 8, 10, 11, 13])
    expect(Math.abs(shareUpTo(values, x) - normalCdf(x, 10, 2))).toBeLessThan(tolerance);
});

test("beta(random, 1.3, 2.2) follows the beta distribution", () => {
  const values = draws("beta", (random) => beta(random, 1.3, 2.2));
  for (const x of [0.1, 0.3, 0.5, 0.8])
    expect(Math.abs(shareUpTo(values, x) - betaCdf(x, 1.3, 2.2))).toBeLessThan(tolerance);
});

test("negativeBinomial(random, 15, 7) follows the negative binomial distribution", () => {
  const values = draws("negative binomial", (random) => negativeBinomial(random, 15, 7));
  for (const x of [4, 9, 14, 20, 30])
    expect(Math.abs(shareUpTo(values, x) - negativeBinomialCdf(x, 7, 7 / 22))).toBeLessThan(tolerance);
});

test("gamma(random, 2, 26) and poisson(random, 15) have their mean and deviation", () => {
  const waits = draws("gamma", (random) => gamma(random, 2, 26));
  expect(Math.abs(mean(waits) - 26)).toBeLessThan((4 * 26) / Math.sqrt(2 * n));
  expect(Math.abs(sd(waits) / (26 / Math.SQRT2) - 1)).toBeLessThan(0.05);
  const events = draws("poisson", (random) => poisson(random, 15));
  expect(Math.abs(mean(events) - 15)).toBeLessThan(4 * Math.sqrt(15 / n));
  expect(Math.abs(sd(events) / Math.sqrt(15) - 1)).toBeLessThan(0.05);
});
