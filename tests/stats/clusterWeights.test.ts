import {expect, test} from "vitest";
import {clusterWeights} from "../../lib/stats/clusterWeights.ts";
import {randomStream} from "../../lib/stats/random.ts";

test("clusterWeights(count) are whole numbers that add up to count", () => {
  const random = randomStream(3);
  for (const count of [1, 2, 7, 50]) {
    const weights = clusterWeights(count, random);
    expect(weights).toHaveLength(count);
    expect(weights.every((weight) => Number.isInteger(weight) && weight >= 0)).toBe(true);
    expect(weights.reduce((a, b) => a + b)).toBe(count);
  }
});

test("clusterWeights follows the numbers it is given", () => {
  const given = [0, 0.26, 0.99, 0.74];
  expect(clusterWeights(4, () => given.shift()!)).toEqual([1, 1, 1, 1]);
  expect(clusterWeights(3, () => 0.5)).toEqual([0, 3, 0]);
});

// Multinomial: mean 1, variance 1 − 1/count, covariance −1/count. 20 000 draws, four standard errors of a mean (about
// 0.03).
test("clusterWeights scatter as a multinomial does", () => {
  const random = randomStream(11);
  const draws = Array.from({length: 20_000}, () => clusterWeights(5, random));
  const average = (value: (weights: number[]) => number) =>
    draws.reduce((sum, weights) => sum + value(weights), 0) / 20_000;
  expect(Math.abs(average((weights) => weights[0]!) - 1)).toBeLessThan(0.03);
  expect(Math.abs(average((weights) => (weights[1]! - 1) ** 2) - 0.8)).toBeLessThan(0.05);
  expect(Math.abs(average((weights) => (weights[2]! - 1) * (weights[3]! - 1)) + 0.2)).toBeLessThan(0.03);
});

test("clusterWeights refuses no clusters", () => {
  expect(() => clusterWeights(0, () => 0)).toThrow("clusterWeights: count must be a positive count, got 0.");
});
