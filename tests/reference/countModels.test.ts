import chiSquareCdf from "@stdlib/stats-base-dists-chisquare-cdf";
import {expect, test} from "vitest";
import {countQuantile} from "../../lib/stats/countQuantile.ts";
import {deviation} from "../../lib/stats/deviation.ts";
import {
  fitNegativeBinomial,
  fitSize,
  negativeBinomialPmf,
  negativeBinomialTail
} from "../../lib/stats/negativeBinomial.ts";
import {expectClose} from "./close.ts";

// Check demand.nb-mites: bliss & Fisher (1953) red mites, 150 leaves: negative binomial by ML.
// Published (memory): Bliss & Fisher (1953) Biometrics 9:176-200: mean 1.14667, k = 1.02459.
// R: score sum(digamma(x+k)-digamma(k))+n*log(k/(k+mean))=0, Newton to 1e-14; MASS::theta.ml agrees to 1e-9;
// kMoments = mean^2/(var - mean).
// Tolerance 1e-08 relative.
const mites = {
  input: {count: [0, 1, 2, 3, 4, 5, 6, 7], freq: [70, 38, 17, 10, 9, 3, 2, 1]},
  expected: {
    mean: 1.14666666667,
    var: 2.27364653244,
    index: 1.98283127829,
    kMoments: 1.16669736912,
    kML: 1.02459238679,
    logLik: -222.437153598,
    poissonLogLik: -242.809940821,
    expected: [
      69.4879781817, 37.5998702027, 20.1010847657, 10.7026331724, 5.68693279407, 3.01810589159, 1.60042909086,
      0.848174225901
    ]
  }
};

test("fitNegativeBinomial of mites on 150 leaves agrees with R and with the k its authors print", () => {
  const {count, freq} = mites.input;
  const counts = count.flatMap((mitesOnLeaf, i) => Array.from({length: freq[i]!}, () => mitesOnLeaf));
  const {expected} = mites;
  const fit = fitNegativeBinomial(counts)!;
  expectClose([fit.mean, fit.size, fit.logLikelihood], [expected.mean, expected.kML, expected.logLik], 1e-8);
  const variance = deviation(counts)! ** 2;
  expectClose(
    [variance, variance / fit.mean, fit.mean ** 2 / (variance - fit.mean)],
    [expected.var, expected.index, expected.kMoments],
    1e-8
  );
  expectClose(
    negativeBinomialPmf(fit.size!, fit.mean, 7).map((p) => 150 * p),
    expected.expected,
    1e-8
  );
  const chance = negativeBinomialPmf(Number.POSITIVE_INFINITY, fit.mean, 7).map(Math.log);
  expectClose(
    count.reduce((sum, mitesOnLeaf, i) => sum + freq[i]! * chance[mitesOnLeaf]!, 0),
    expected.poissonLogLik,
    1e-8
  );
  expect(fit.size).toBeCloseTo(1.02459, 5); // printed; from memory
});

// Check demand.monthly-24: shafts sold per month, 24 months; forecast for the next 8.
// Published: none; R only.
// R: theta by ML as above; sum of h iid NB(size k, mean mu) = NB(size h*k, mean h*mu); gamma-Poisson (Jeffreys
// prior rate^-1/2): NB(size sum+0.5, prob n/(n+h)); qnbinom/qpois. Tolerance 1e-08 relative.
const months = {
  input: {
    x: [1, 0, 3, 2, 0, 1, 4, 2, 1, 6, 3, 2, 2, 1, 0, 5, 3, 2, 4, 1, 2, 7, 3, 4],
    h: 8,
    q: [0.05, 0.5, 0.8, 0.9, 0.95]
  },
  expected: {
    mean: 2.45833333333,
    var: 3.38949275362,
    index: 1.37877671334,
    dispersionP: 0.106285615106,
    kML: 7.26542552249,
    nb: {
      mean: 19.6666666667,
      size: 58.12340418,
      sd: 5.13040843421,
      quantiles: [12, 19, 24, 26, 29],
      p0: 4.39682426094e-8
    },
    poisson: {mean: 19.6666666667, quantiles: [13, 19, 23, 25, 27]},
    gammaPoisson: {size: 59.5, prob: 0.75, mean: 19.8333333333, quantiles: [12, 20, 24, 27, 29]}
  }
};

test("fitNegativeBinomial of two years of sales and the forecasts from it agree with R", () => {
  const {x, h, q} = months.input;
  const {mean, kML, nb, poisson, gammaPoisson} = months.expected;
  const fit = fitNegativeBinomial(x)!;
  expectClose([fit.mean, fit.size], [mean, kML], 1e-8);
  expectClose([h * fit.mean, h * fit.size!], [nb.mean, nb.size], 1e-8);
  expectClose(h * fit.mean, poisson.mean, 1e-8);
  const variance = deviation(x)! ** 2;
  expectClose([variance, variance / fit.mean], [months.expected.var, months.expected.index], 1e-8);
  const scatter = (variance / fit.mean) * (x.length - 1); // Fisher's index of dispersion is about χ²
  expectClose(1 - chiSquareCdf(scatter, x.length - 1), months.expected.dispersionP, 1e-8);
  // h months together: size h·k, mean h·m.
  const sum = negativeBinomialPmf(h * fit.size!, h * fit.mean, 200);
  expectClose(sum[0], nb.p0, 1e-8);
  expectClose(
    q.map((p) => countQuantile(sum, p)),
    nb.quantiles,
    0
  );
  expectClose(Math.sqrt(nb.mean + nb.mean ** 2 / nb.size), nb.sd, 1e-8);
  const chance = negativeBinomialPmf(Number.POSITIVE_INFINITY, h * fit.mean, 200);
  expectClose(
    q.map((p) => countQuantile(chance, p)),
    poisson.quantiles,
    0
  );
  const total = x.reduce((a, b) => a + b);
  const prior = {size: total + 0.5, prob: x.length / (x.length + h)}; // Jeffreys
  expectClose([prior.size, prior.prob], [gammaPoisson.size, gammaPoisson.prob], 1e-8);
  expectClose((prior.size * (1 - prior.prob)) / prior.prob, gammaPoisson.mean, 1e-8);
  const posterior = negativeBinomialPmf(gammaPoisson.size, gammaPoisson.mean, 300);
  expectClose(
    q.map((p) => countQuantile(posterior, p)),
    gammaPoisson.quantiles,
    0
  );
});

// Check demand.underdispersed: variance below the mean: no NB fit exists.
// Published: none; R only.
// R: var<mean: score has no finite root; fall back to Poisson. Tolerance 1e-09 relative.
const even = {
  input: {x: [3, 4, 3, 4, 4, 3, 4, 3, 3, 4]},
  expected: {mean: 3.5, var: 0.277777777778, index: 0.0793650793651, kML: "infinite"}
};

test("fitNegativeBinomial of counts that scatter less than chance has no size: Poisson", () => {
  const fit = fitNegativeBinomial(even.input.x)!;
  expect(fit.mean).toBe(even.expected.mean);
  expect(fit.size).toBeUndefined();
  const variance = deviation(even.input.x)! ** 2;
  expectClose([variance, variance / fit.mean], [even.expected.var, even.expected.index], 1e-9);
});

// Published: none; R only. R 4.2.2: dnbinom(c(0,5,30), size=2.5, mu=7); pnbinom(c(0,5,30,120), size=2.5, mu=7,
// lower.tail=FALSE); dpois(c(0,5,30), 7); ppois(c(0,5,30), 7, lower.tail=FALSE). Tolerance 1e-10 relative, the tails
// too.
test("negativeBinomialPmf and negativeBinomialTail agree with R, far tails included", () => {
  const relative = (got: number[], at: number[], want: number[]) => {
    for (const [i, k] of at.entries()) expect(Math.abs(got[k]! / want[i]! - 1)).toBeLessThanOrEqual(1e-10);
  };
  relative(
    negativeBinomialPmf(2.5, 7, 30),
    [0, 5, 30],
    [0.03552556620793468, 0.09051666595035403, 0.00049020545488538]
  );
  const tail = [0.964474433792065, 0.536366786771205, 0.00163557374278255, 1.27270645247061e-14];
  relative(negativeBinomialTail(2.5, 7, 120), [0, 5, 30, 120], tail);
  const poisson = [0.000911881965554516, 0.12771666829229, 7.74853773155585e-11];
  relative(negativeBinomialPmf(Number.POSITIVE_INFINITY, 7, 30), [0, 5, 30], poisson);
  const poissonTail = [0.999088118034446, 0.699291723825639, 2.23445604290409e-11];
  relative(negativeBinomialTail(Number.POSITIVE_INFINITY, 7, 30), [0, 5, 30], poissonTail);
});

// Published: none; R only. R 4.2.2, MASS 7.3-58.2: theta.ml(y, mu, limit = 100, eps = 1e-14).
test("fitSize for counts around given means agrees with R's theta.ml", () => {
  const counts = [0, 5, 1, 12, 3, 0, 2, 9, 1, 4, 20, 2];
  const means = [2, 4, 2, 7, 4, 1, 3, 6, 2, 5, 11, 4];
  expectClose(fitSize(counts, means), 8.04340039599085, 1e-9);
});
