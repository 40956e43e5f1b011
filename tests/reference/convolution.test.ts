import binomialPmf from "@stdlib/stats-base-dists-binomial-pmf";
import {expect, test} from "vitest";
import {betaBinomialPmf} from "../../lib/stats/betaBinomial.ts";
import {convolve} from "../../lib/stats/convolve.ts";
import {countQuantile} from "../../lib/stats/countQuantile.ts";
import {poissonBinomialPmf} from "../../lib/stats/poissonBinomialPmf.ts";
import {thin} from "../../lib/stats/thin.ts";
import {expectClose} from "./close.ts";

const binomial = (n: number, p: number) => Array.from({length: n + 1}, (_, k) => binomialPmf(k, n, p));

function moments(pmf: readonly number[]) {
  const mean = pmf.reduce((sum, p, k) => sum + p * k, 0);
  return {mean, variance: pmf.reduce((sum, p, k) => sum + p * (k - mean) ** 2, 0)};
}

// Check conv.binomials: pmf of Bin(4,.9)+Bin(6,.82)+Bin(9,.7).
// Published: none; R only.
// R: direct convolution. Tolerance 1e-09 relative.
const three = {
  input: {
    binomials: [
      {n: 4, p: 0.9},
      {n: 6, p: 0.82},
      {n: 9, p: 0.7}
    ]
  },
  expected: {
    pmf: [
      6.69462604992e-14, 5.6458013021e-12, 2.214111194e-10, 5.36809728542e-9, 9.02292139805e-8, 1.11750516467e-6,
      1.05799947721e-5, 7.83878665841e-5, 0.000461435061217, 0.00217814122416, 0.00828275287277, 0.0253857194646,
      0.0624820181987, 0.122482912125, 0.18853447275, 0.222794475451, 0.195001031214, 0.119034049233, 0.0452239301091,
      0.00804888110465
    ],
    mean: 14.82,
    var: 3.1356,
    cdfAt: {x: [10, 14, 17], F: [0.0110125103491, 0.409897632887, 0.946727188786]},
    quantiles: {p: [0.05, 0.5, 0.95], x: [12, 15, 18]}
  }
};

test("convolve of three binomials agrees with R: probabilities, moments, sums, quantiles", () => {
  const {input, expected} = three;
  const pmf = input.binomials.map(({n, p}) => binomial(n, p)).reduce(convolve);
  expect(pmf).toHaveLength(expected.pmf.length);
  pmf.forEach((p, k) => {
    expect(Math.abs(p / expected.pmf[k]! - 1)).toBeLessThanOrEqual(1e-9); // the first is 7e-14
  });
  expectClose([moments(pmf).mean, moments(pmf).variance], [expected.mean, expected.var], 1e-9);
  expectClose(
    expected.cdfAt.x.map((x) => pmf.slice(0, x + 1).reduce((a, b) => a + b)),
    expected.cdfAt.F,
    1e-9
  );
  expectClose(
    expected.quantiles.p.map((p) => countQuantile(pmf, p)),
    expected.quantiles.x,
    0
  );
});

// Check conv.poisson-binomial: poisson-binomial of 10 pieces with their own survival probabilities.
// Published: none; R only.
// R: Reduce(convolution). Tolerance 1e-09 relative.
const ten = {
  input: {p: [0.95, 0.9, 0.9, 0.85, 0.8, 0.75, 0.6, 0.5, 0.35, 0.2]},
  expected: {
    pmf: [
      3.9e-7, 2.06525e-5, 0.00043300375, 0.00474216125, 0.02984774375, 0.11153132125, 0.24670096625, 0.31317258375,
      0.21477655125, 0.07053328125, 0.008241345
    ],
    mean: 6.8,
    var: 1.58
  }
};

test("poissonBinomialPmf of ten pieces agrees with R", () => {
  const pmf = poissonBinomialPmf(ten.input.p);
  pmf.forEach((p, k) => {
    expect(Math.abs(p / ten.expected.pmf[k]! - 1)).toBeLessThanOrEqual(1e-9); // the first is 4e-7
  });
  expectClose([moments(pmf).mean, moments(pmf).variance], [ten.expected.mean, ten.expected.var], 1e-9);
});

// Check plan.thinned-betabinomial: usable shafts from 12 squares: BetaBin(12;46,14) survivors, each in the weight
// window with probability 0.66.
// Published: none; R only.
// R: sum_k dbetabinom(k) dbinom(u,k,w). Tolerance 1e-09 relative.
const twelve = {
  input: {n: 12, alpha: 46, beta: 14, w: 0.66},
  expected: {
    pmf: [
      0.00030008507096, 0.00327124182156, 0.0167379855342, 0.0531068075148, 0.11626585888, 0.184869481954,
      0.218732156061, 0.193874181764, 0.127663160229, 0.0608597499068, 0.0199233393447, 0.00401853690375,
      0.000377415014777
    ],
    mean: 6.072,
    var: 3.16819042623
  }
};

test("thin of a beta-binomial agrees with R", () => {
  const {n, alpha, beta, w} = twelve.input;
  const pmf = thin(betaBinomialPmf(n, alpha, beta), w);
  expectClose(pmf, twelve.expected.pmf, 1e-9);
  expectClose([moments(pmf).mean, moments(pmf).variance], [twelve.expected.mean, twelve.expected.var], 1e-9);
});
