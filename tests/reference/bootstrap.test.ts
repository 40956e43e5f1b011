import {expect, test} from "vitest";
import {bcaInterval, biasCorrection, correctedShare} from "../../lib/stats/bcaInterval.ts";
import {bootstrapInterval} from "../../lib/stats/bootstrapInterval.ts";
import {deviation} from "../../lib/stats/deviation.ts";
import {normalFactor} from "../../lib/stats/interval.ts";
import {jackknifeAcceleration} from "../../lib/stats/jackknifeAcceleration.ts";
import {mean} from "../../lib/stats/mean.ts";
import {normalQuantile} from "../../lib/stats/normalQuantile.ts";
import {percentileInterval} from "../../lib/stats/percentileInterval.ts";
import {quantile} from "../../lib/stats/quantile.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {expectClose} from "./close.ts";

const median = (sample: readonly number[]) => quantile(sample, 0.5);
/** Divisor n, as Efron and Tibshirani have it. */
const variance = (sample: readonly number[]) => (deviation(sample)! ** 2 * (sample.length - 1)) / sample.length;

// Check boot.accel-spatial: efron & Tibshirani spatial data A, variance with divisor n: jackknife acceleration.
// Published (read): Efron & Tibshirani (1993) ch. 14: a-hat = 0.061; theta-hat = 171.5 and the BCa 90 % interval
// (115.8, 259.6) with B = 2000 from memory.
// R: theta=mean((x-mean(x))^2); u_i = theta(x[-i]); a = sum((mean(u)-u)^3)/(6*sum((mean(u)-u)^2)^1.5);
// jackknifeSE = sqrt((n-1)/n*sum((u-mean(u))^2)). Tolerance
// 1e-08 relative.
const spatial = {
  input: {x: [48, 36, 20, 29, 42, 42, 20, 42, 22, 41, 45, 14, 6, 0, 33, 28, 34, 4, 32, 24, 47, 41, 24, 26, 30, 41]},
  expected: {
    theta: 171.534023669,
    acceleration: 0.0612401198123,
    accelerationSD: 0.0631614147127,
    jackknifeSE: 45.0253715995
  }
};

test("jackknifeAcceleration of Efron and Tibshirani's spatial data is their 0.061", () => {
  const {x} = spatial.input;
  expectClose(variance(x), spatial.expected.theta, 1e-8);
  expectClose(jackknifeAcceleration(x, variance), spatial.expected.acceleration, 1e-8);
  expectClose(jackknifeAcceleration(x, deviation), spatial.expected.accelerationSD, 1e-8);
  expect(jackknifeAcceleration(x, variance)).toBeCloseTo(0.061, 3);
  const left = x.map((_, out) => variance(x.filter((_, i) => i !== out)));
  expectClose((deviation(left)! * (x.length - 1)) / Math.sqrt(x.length), spatial.expected.jackknifeSE, 1e-8);
});

// From memory, so not the only ground: (115.8, 259.6). With 20 000 draws the ends vary by about 1; allowed 3, as
// theirs had 2000.
test("bootstrapInterval (bca) of the spatial data lands near the printed 90 % interval", () => {
  const options = {level: 0.9, resamples: 20_000, random: randomStream(1993), method: "bca" as const};
  const got = bootstrapInterval(spatial.input.x, variance, options)!;
  expect(Math.abs(got.low - 115.8)).toBeLessThanOrEqual(3);
  expect(Math.abs(got.high - 259.6)).toBeLessThanOrEqual(3);
});

/** The statistic of all n^n resamples, each as likely as the other: the bootstrap without its dice. */
function everyResample(x: readonly number[], statistic: (sample: readonly number[]) => number | undefined): number[] {
  const n = x.length;
  return Array.from(
    {length: n ** n},
    (_, code) => statistic(x.map((_, place) => x[Math.floor(code / n ** place) % n]!))!
  );
}

// Check boot.enum-sd6: ideal bootstrap of the SD: all 6^6 = 46656 resamples.
// Published: none; R only.
// R: expand.grid enumeration; sd with divisor n-1; quantile type 7 over the 46656 values; z0 =
// qnorm(P(t*<t)+P(t*=t)/2); values rounded to 12 decimals before comparing for ties. Tolerance 1e-08 relative.
const spread = {
  input: {x: [18.62, 18.95, 19.31, 18.47, 19.8, 18.88], conf: 0.95},
  expected: {
    sd: 0.485417346208,
    resamples: 46656,
    bootMean: 0.424909041017,
    bootSE: 0.125740368202,
    percentileT7: [0.169901932498, 0.632508234466],
    basicT7: [0.338326457951, 0.800932759919],
    propBelow: 0.608153292181,
    propEqual: 0.0154320987654,
    z0: 0.294649928689,
    acceleration: 0.0877083233865,
    bca: [0.261820549232, 0.703221160091],
    bcaAlpha: [0.123345278788, 0.999048629292]
  }
};

test("percentileInterval, bcaInterval and what they rest on agree with R over all 46656 resamples of an SD", () => {
  const {expected, input} = spread;
  const replicates = everyResample(input.x, deviation);
  const estimate = deviation(input.x)!;
  expectClose(estimate, expected.sd, 1e-8);
  expect(replicates).toHaveLength(expected.resamples);
  expectClose(mean(replicates), expected.bootMean, 1e-8);
  expectClose(Math.sqrt(variance(replicates)), expected.bootSE, 1e-8); // divisor n
  const percentile = percentileInterval(replicates)!;
  expectClose([percentile.low, percentile.high], expected.percentileT7, 1e-8);
  expectClose([2 * estimate - percentile.high, 2 * estimate - percentile.low], expected.basicT7, 1e-8);
  expectClose(biasCorrection(replicates, estimate), expected.z0, 1e-8);
  const acceleration = jackknifeAcceleration(input.x, deviation)!;
  expectClose(acceleration, expected.acceleration, 1e-8);
  const bca = bcaInterval(replicates, {estimate, acceleration})!;
  expectClose([bca.low, bca.high], expected.bca, 1e-8);
  expectClose(
    [0.025, 0.975].map((p) => correctedShare(p, biasCorrection(replicates, estimate), acceleration)),
    expected.bcaAlpha,
    1e-8
  );
  const rounded = replicates.map((value) => Math.round((value - estimate) * 1e12));
  expectClose(rounded.filter((gap) => gap < 0).length / rounded.length, expected.propBelow, 1e-8);
  expectClose(rounded.filter((gap) => gap === 0).length / rounded.length, expected.propEqual, 1e-8);
});

test("bootstrapInterval with 20 000 draws comes within 0.01 of the full enumeration", () => {
  const at = (method: "percentile" | "basic" | "bca") => {
    const options = {resamples: 20_000, random: randomStream(6), method};
    const {low, high} = bootstrapInterval(spread.input.x, deviation, options)!;
    return [low, high];
  };
  const {percentileT7, basicT7, bca} = spread.expected;
  for (const [got, want] of [
    [at("percentile"), percentileT7],
    [at("basic"), basicT7]
  ] as const) {
    got.forEach((limit, i) => {
      expect(Math.abs(limit - want[i]!)).toBeLessThanOrEqual(0.01);
    });
  }
  // BCa reads the far tails, where the values of an SD of six lie far apart.
  at("bca").forEach((limit, i) => {
    expect(Math.abs(limit - bca[i]!)).toBeLessThanOrEqual(0.02);
  });
});

// Check boot.enum-median6: ideal bootstrap of the median: all 46656 resamples.
// Published: none; R only.
// R: as above. Tolerance 1e-08 relative.
const middle = {
  input: {x: [18.62, 18.95, 19.31, 18.47, 19.8, 18.88], conf: 0.9},
  expected: {
    median: 18.915,
    bootSE: 0.235106974273,
    percentileT7: [18.62, 19.375],
    propBelow: 0.411908436214,
    propEqual: 0.154749657064,
    acceleration: 0
  }
};

test("the median's bootstrap over all 46656 resamples agrees with R, ties and all", () => {
  const {expected, input} = middle;
  const replicates = everyResample(input.x, median);
  expectClose(median(input.x), expected.median, 1e-12);
  expectClose(Math.sqrt(variance(replicates)), expected.bootSE, 1e-8); // divisor n
  const {low, high} = percentileInterval(replicates, input.conf)!;
  expectClose([low, high], expected.percentileT7, 1e-8);
  expectClose(replicates.filter((value) => value < 18.915 - 1e-9).length / 46656, expected.propBelow, 1e-9);
  expectClose(replicates.filter((value) => Math.abs(value - 18.915) < 1e-9).length / 46656, expected.propEqual, 1e-9);
  expectClose(jackknifeAcceleration(input.x, median), expected.acceleration, 0);
});

// Check boot.fixed-sd10: SD of 10 densities, 99 given resamples.
// Published: none; R only.
// R: fixed indices (1-based rows = resamples). boot.ci(type=c('norm','basic','perc')) on them (boot 1.3-28.1);
// percentile uses boot's normal-quantile interpolation at rank (R+1)*alpha; bcaInterp: z0=qnorm(mean(t<t0)),
// jackknife a, same interpolation; bcaT7: z0 with half the ties, type-7 quantile; bcaBootPkg = boot.ci(type='bca',
// L=empinf(type='jack')), whose influence values are centred at t0 and not at the jackknife mean (third-digit
// difference): information only. Tolerance 1e-08 relative.
const given = {
  input: {
    x: [0.671, 0.688, 0.64, 0.659, 0.701, 0.676, 0.663, 0.652, 0.694, 0.668],
    conf: 0.9,
    indices1: [
      [10, 10, 2, 10, 2, 9, 7, 10, 1, 2],
      [2, 9, 9, 6, 5, 2, 6, 1, 2, 1],
      [8, 7, 8, 9, 9, 5, 6, 9, 9, 1],
      [9, 5, 2, 6, 7, 9, 3, 3, 6, 3],
      [1, 2, 8, 2, 5, 2, 4, 5, 4, 5],
      [5, 9, 6, 8, 10, 5, 2, 2, 9, 3],
      [6, 7, 2, 4, 1, 3, 5, 9, 2, 8],
      [5, 9, 8, 8, 2, 1, 8, 5, 7, 1],
      [6, 8, 3, 3, 4, 2, 10, 3, 8, 1],
      [7, 6, 9, 4, 3, 3, 9, 1, 9, 6],
      [5, 9, 5, 2, 9, 6, 1, 10, 7, 4],
      [3, 5, 3, 7, 6, 4, 8, 8, 2, 2],
      [7, 10, 3, 9, 7, 8, 2, 9, 7, 7],
      [2, 2, 8, 7, 5, 5, 6, 1, 1, 10],
      [1, 3, 3, 3, 6, 7, 9, 3, 3, 1],
      [8, 4, 9, 2, 7, 3, 3, 1, 3, 8],
      [7, 3, 4, 1, 2, 1, 1, 1, 9, 3],
      [6, 1, 3, 9, 7, 5, 10, 6, 8, 4],
      [3, 10, 8, 5, 3, 2, 1, 7, 7, 6],
      [3, 9, 3, 5, 2, 3, 2, 5, 1, 10],
      [2, 10, 5, 8, 7, 10, 6, 7, 6, 3],
      [2, 3, 6, 2, 2, 10, 4, 4, 3, 9],
      [3, 9, 4, 4, 8, 7, 3, 7, 3, 5],
      [10, 6, 9, 3, 1, 6, 7, 7, 10, 6],
      [10, 10, 10, 8, 1, 10, 5, 5, 5, 6],
      [2, 2, 6, 7, 9, 9, 9, 3, 10, 8],
      [9, 4, 7, 7, 3, 5, 8, 5, 4, 10],
      [8, 10, 4, 1, 10, 8, 7, 9, 5, 4],
      [7, 5, 6, 7, 1, 1, 1, 4, 9, 7],
      [8, 6, 10, 7, 1, 1, 1, 4, 1, 4],
      [8, 8, 2, 5, 10, 7, 4, 1, 4, 9],
      [9, 5, 9, 10, 8, 7, 2, 5, 2, 1],
      [7, 8, 2, 10, 10, 1, 9, 3, 6, 1],
      [4, 6, 5, 10, 4, 6, 6, 7, 2, 3],
      [1, 4, 4, 8, 10, 8, 6, 10, 4, 5],
      [5, 6, 2, 8, 5, 8, 9, 8, 5, 2],
      [2, 8, 10, 4, 3, 8, 3, 4, 4, 4],
      [5, 10, 10, 2, 5, 10, 9, 4, 7, 1],
      [4, 1, 6, 1, 6, 9, 9, 10, 3, 8],
      [1, 9, 10, 3, 5, 1, 10, 4, 6, 6],
      [6, 10, 5, 10, 6, 4, 3, 5, 10, 8],
      [2, 4, 5, 5, 2, 7, 9, 3, 7, 5],
      [7, 10, 9, 7, 10, 10, 9, 9, 2, 8],
      [1, 8, 6, 2, 7, 4, 8, 7, 4, 3],
      [1, 9, 8, 4, 8, 3, 9, 6, 2, 8],
      [6, 7, 10, 4, 4, 1, 3, 9, 8, 3],
      [5, 6, 7, 6, 5, 8, 5, 3, 1, 10],
      [6, 6, 6, 6, 2, 3, 4, 10, 9, 9],
      [6, 3, 6, 8, 10, 1, 2, 4, 1, 8],
      [5, 9, 6, 2, 9, 4, 8, 3, 3, 6],
      [6, 3, 9, 9, 6, 4, 5, 7, 5, 1],
      [1, 1, 2, 7, 3, 10, 3, 4, 3, 8],
      [4, 9, 4, 9, 4, 1, 2, 9, 5, 8],
      [3, 10, 6, 6, 3, 10, 5, 9, 10, 8],
      [3, 8, 6, 4, 5, 1, 5, 3, 10, 1],
      [4, 9, 4, 2, 8, 3, 10, 2, 4, 1],
      [3, 1, 9, 1, 3, 2, 4, 7, 7, 6],
      [7, 3, 8, 9, 10, 7, 3, 5, 8, 9],
      [3, 4, 5, 8, 4, 7, 4, 7, 8, 1],
      [8, 3, 10, 9, 3, 9, 8, 10, 2, 9],
      [5, 5, 9, 7, 1, 4, 10, 4, 7, 9],
      [1, 9, 7, 1, 1, 1, 7, 5, 8, 6],
      [1, 1, 5, 6, 9, 10, 1, 7, 2, 9],
      [1, 8, 7, 2, 2, 8, 10, 5, 7, 2],
      [8, 7, 2, 7, 6, 9, 2, 5, 2, 7],
      [2, 3, 7, 3, 5, 5, 7, 4, 8, 1],
      [4, 2, 8, 8, 9, 6, 2, 2, 7, 3],
      [3, 1, 10, 7, 3, 8, 7, 10, 8, 8],
      [8, 2, 7, 3, 4, 2, 9, 6, 7, 9],
      [5, 10, 6, 3, 4, 4, 7, 4, 7, 5],
      [7, 2, 1, 4, 3, 7, 5, 8, 4, 2],
      [1, 4, 5, 7, 10, 1, 1, 1, 1, 5],
      [8, 5, 2, 2, 8, 4, 9, 9, 7, 7],
      [9, 5, 1, 6, 1, 10, 7, 8, 3, 9],
      [7, 1, 6, 3, 2, 9, 8, 7, 4, 1],
      [9, 8, 4, 2, 6, 2, 8, 10, 2, 8],
      [2, 8, 1, 6, 9, 10, 9, 1, 5, 8],
      [9, 1, 7, 2, 6, 4, 8, 2, 2, 4],
      [2, 1, 9, 8, 3, 1, 8, 1, 8, 3],
      [10, 4, 6, 5, 5, 2, 1, 1, 1, 4],
      [8, 4, 1, 1, 7, 5, 7, 1, 9, 9],
      [3, 9, 5, 8, 4, 5, 5, 3, 4, 10],
      [7, 5, 3, 6, 5, 3, 6, 2, 6, 6],
      [7, 7, 9, 9, 10, 7, 3, 3, 1, 6],
      [4, 6, 9, 10, 6, 1, 9, 9, 3, 7],
      [7, 9, 3, 2, 5, 9, 5, 1, 1, 5],
      [4, 7, 7, 8, 5, 3, 4, 9, 5, 2],
      [8, 4, 7, 3, 6, 7, 8, 4, 7, 4],
      [7, 10, 9, 8, 10, 9, 3, 5, 5, 4],
      [8, 2, 6, 4, 6, 9, 3, 10, 8, 9],
      [6, 5, 4, 7, 3, 6, 6, 6, 6, 8],
      [10, 8, 10, 3, 7, 8, 5, 4, 9, 8],
      [9, 9, 5, 6, 4, 3, 5, 1, 5, 2],
      [3, 5, 7, 10, 5, 8, 4, 6, 5, 1],
      [1, 3, 2, 7, 6, 4, 4, 2, 5, 8],
      [1, 5, 4, 2, 5, 6, 9, 5, 10, 2],
      [4, 6, 6, 4, 2, 4, 8, 6, 8, 2],
      [2, 8, 2, 10, 8, 5, 9, 10, 5, 3],
      [4, 5, 8, 8, 1, 2, 7, 7, 4, 7]
    ]
  },
  expected: {
    t0: 0.0190950837186,
    bootSE: 0.00323839402395,
    bias: -0.00110678183167,
    normal: [0.0148751813945, 0.0255285497061],
    basic: [0.0156954767057, 0.0266220119135],
    percentile: [0.0115681555238, 0.0224946907316],
    percentileT7: [0.0131121072678, 0.022466887306],
    acceleration: 0.0466317685511,
    z0Strict: 0.269066137854,
    bcaInterp: [0.0146908027989, 0.0254001312333],
    z0Mid: 0.269066137854,
    bcaT7: [0.0151075048586, 0.0253016851272],
    bcaBootPkg: [0.0148161406855, 0.0254001312333]
  }
};

test("percentileInterval and bcaInterval of 99 given resamples agree with R", () => {
  const {input, expected} = given;
  const replicates = input.indices1.map((rows) => deviation(rows.map((row) => input.x[row - 1]!))!);
  const estimate = deviation(input.x)!;
  expectClose(estimate, expected.t0, 1e-8);
  expectClose(deviation(replicates), expected.bootSE, 1e-8);
  expectClose(mean(replicates)! - estimate, expected.bias, 1e-8);
  const percentile = percentileInterval(replicates, input.conf)!;
  expectClose([percentile.low, percentile.high], expected.percentileT7, 1e-8);
  const acceleration = jackknifeAcceleration(input.x, deviation)!;
  expectClose(acceleration, expected.acceleration, 1e-8);
  expectClose(biasCorrection(replicates, estimate), expected.z0Mid, 1e-8);
  const bca = bcaInterval(replicates, {estimate, acceleration, level: input.conf})!;
  expectClose([bca.low, bca.high], expected.bcaT7, 1e-8);
});

/**
 * Quantile as R's package boot takes it: rank (R + 1)p, between ranks in proportion on the scale of Φ⁻¹, beyond the
 * last one the last. Davison and Hinkley (1997), Bootstrap Methods and their Application, equation 5.8.
 */
function bootQuantile(replicates: readonly number[], p: number): number {
  const sorted = replicates.toSorted((a, b) => a - b);
  const [rank, z] = [(sorted.length + 1) * p, normalQuantile(p)];
  const k = Math.floor(rank);
  if (k < 1 || k >= sorted.length) return sorted[k < 1 ? 0 : sorted.length - 1]!;
  const [from, to] = [k, k + 1].map((at) => normalQuantile(at / (sorted.length + 1))) as [number, number];
  return sorted[k - 1]! + ((z - from) / (to - from)) * (sorted[k]! - sorted[k - 1]!);
}

// The toolkit reads type-7 quantiles, counts half the ties and centres the jackknife at its mean. With the choices of
// boot put in their place, what it computes must give boot's own limits.
test("with boot's choices of quantile, ties and centre, correctedShare and the rest give boot.ci's limits", () => {
  const {input, expected} = given;
  const replicates = input.indices1.map((rows) => deviation(rows.map((row) => input.x[row - 1]!))!);
  const estimate = deviation(input.x)!;
  const ends = [(1 - input.conf) / 2, (1 + input.conf) / 2];
  const z = normalFactor(input.conf, "test");
  const center = 2 * estimate - mean(replicates)!; // the estimate less its bias
  const half = z * deviation(replicates)!;
  expectClose([center - half, center + half], expected.normal, 1e-8);
  const percentile = ends.map((p) => bootQuantile(replicates, p));
  expectClose(percentile, expected.percentile, 1e-8);
  expectClose([2 * estimate - percentile[1]!, 2 * estimate - percentile[0]!], expected.basic, 1e-8);
  const z0 = normalQuantile(replicates.filter((value) => value < estimate).length / replicates.length);
  expectClose(z0, expected.z0Strict, 1e-8);
  const bca = (acceleration: number) => ends.map((p) => bootQuantile(replicates, correctedShare(p, z0, acceleration)));
  expectClose(bca(jackknifeAcceleration(input.x, deviation)!), expected.bcaInterp, 1e-8);
  // Influence values centred at the estimate: the third digit differs.
  const influence = input.x.map((_, out) => estimate - deviation(input.x.filter((_, i) => i !== out))!);
  const power = (k: number) => influence.reduce((sum, u) => sum + u ** k, 0);
  expectClose(bca(power(3) / (6 * power(2) ** 1.5)), expected.bcaBootPkg, 1e-8);
});
