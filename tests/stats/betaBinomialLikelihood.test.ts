import {expect, test} from "vitest";
import {betaBinomialPmf} from "../../lib/stats/betaBinomial.ts";
import {
  betterPrecision,
  binomialLogLikelihood,
  logChoose,
  logLikelihoodAt,
  repeated,
  shapesAt
} from "../../lib/stats/betaBinomialLikelihood.ts";

const rates = [
  {successes: 6, trials: 60},
  {successes: 4, trials: 12},
  {successes: 6, trials: 60},
  {successes: 0, trials: 9}
];

test("repeated takes equal rates together", () => {
  expect(repeated(rates)).toEqual([
    {successes: 6, trials: 60, times: 2},
    {successes: 4, trials: 12, times: 1},
    {successes: 0, trials: 9, times: 1}
  ]);
});

test("logLikelihoodAt with logChoose is the logarithm of betaBinomialPmf", () => {
  const direct = rates.reduce(
    (sum, {successes, trials}) => sum + Math.log(betaBinomialPmf(trials, 2, 11)[successes]!),
    0
  );
  expect(logLikelihoodAt(repeated(rates), 2, 11) + logChoose(repeated(rates))).toBeCloseTo(direct, 9);
});

test("binomialLogLikelihood is what logLikelihoodAt comes to as α + β grows", () => {
  const p = 16 / 141;
  expect(logLikelihoodAt(repeated(rates), 1e6 * p, 1e6 * (1 - p))).toBeCloseTo(
    binomialLogLikelihood(repeated(rates), p),
    3
  );
  expect(binomialLogLikelihood([{successes: 0, trials: 9, times: 1}], 0)).toBe(0);
});

test("shapesAt is the best of its precision", () => {
  const rows = repeated(rates);
  const [alpha, beta] = shapesAt(rows, 20);
  expect(alpha + beta).toBeCloseTo(20, 10);
  const best = logLikelihoodAt(rows, alpha, beta);
  for (const move of [-0.05, 0.05]) expect(logLikelihoodAt(rows, alpha + move, beta - move)).toBeLessThan(best);
});

test("betterPrecision is undefined when the binomial limit is the best", () => {
  const alike = repeated([
    {successes: 5, trials: 50},
    {successes: 6, trials: 55},
    {successes: 4, trials: 45}
  ]);
  expect(betterPrecision(alike, binomialLogLikelihood(alike, 0.1))).toBeUndefined();
  const apart = repeated([
    {successes: 5, trials: 50},
    {successes: 30, trials: 55},
    {successes: 4, trials: 45}
  ]);
  const precision = betterPrecision(apart, binomialLogLikelihood(apart, 39 / 150))!;
  const height = (at: number) => logLikelihoodAt(apart, ...shapesAt(apart, at));
  expect(height(precision)).toBeGreaterThan(height(1.02 * precision));
  expect(height(precision)).toBeGreaterThan(height(0.98 * precision));
});
