import {expect, test} from "vitest";
import {deviation} from "../../lib/stats/deviation.ts";
import {lagOneAutocorrelation} from "../../lib/stats/lagOneAutocorrelation.ts";
import {mean} from "../../lib/stats/mean.ts";
import {medianAbsoluteDeviation} from "../../lib/stats/medianAbsoluteDeviation.ts";
import {quantile} from "../../lib/stats/quantile.ts";
import {expectClose} from "./close.ts";

// Checks strd.lew, strd.michelso, strd.numacc1, strd.numacc2, strd.numacc4: NIST StRD, univariate.
// Published (read): NIST Statistical Reference Datasets, univariate summary statistics, certified to 15 digits; files
// verbatim in apache/commons-math, src/test/resources/.../stat/data, at d9fd832.
// R: mean(y); sd(y); sum((y[-1]-m)*(y[-n]-m))/sum((y-m)^2), for information: the certified values are the ground.
// Tolerance 1e-12 relative, 1e-8 for NumAcc4: its decimals are not exact in binary, and no double computation of the
// deviation has more than about 8.3 digits.

const lew = [
  -213, -564, -35, -15, 141, 115, -420, -360, 203, -338, -431, 194, -220, -513, 154, -125, -559, 92, -21, -579, -52, 99,
  -543, -175, 162, -457, -346, 204, -300, -474, 164, -107, -572, -8, 83, -541, -224, 180, -420, -374, 201, -236, -531,
  83, 27, -564, -112, 131, -507, -254, 199, -311, -495, 143, -46, -579, -90, 136, -472, -338, 202, -287, -477, 169,
  -124, -568, 17, 48, -568, -135, 162, -430, -422, 172, -74, -577, -13, 92, -534, -243, 194, -355, -465, 156, -81, -578,
  -64, 139, -449, -384, 193, -198, -538, 110, -44, -577, -6, 66, -552, -164, 161, -460, -344, 205, -281, -504, 134, -28,
  -576, -118, 156, -437, -381, 200, -220, -540, 83, 11, -568, -160, 172, -414, -408, 188, -125, -572, -32, 139, -492,
  -321, 205, -262, -504, 142, -83, -574, 0, 48, -571, -106, 137, -501, -266, 190, -391, -406, 194, -186, -553, 83, -13,
  -577, -49, 103, -515, -280, 201, 300, -506, 131, -45, -578, -80, 138, -462, -361, 201, -211, -554, 32, 74, -533, -235,
  187, -372, -442, 182, -147, -566, 25, 68, -535, -244, 194, -351, -463, 174, -125, -570, 15, 72, -550, -190, 172, -424,
  -385, 198, -218, -536, 96
];

const michelson = [
  299.85, 299.74, 299.9, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300, 299.98, 299.93, 299.65, 299.76,
  299.81, 300, 300, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94, 299.88, 299.8, 299.85, 299.88, 299.9, 299.84,
  299.83, 299.79, 299.81, 299.88, 299.88, 299.83, 299.8, 299.79, 299.76, 299.8, 299.88, 299.88, 299.88, 299.86, 299.72,
  299.72, 299.62, 299.86, 299.97, 299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84, 299.85, 299.84, 299.84,
  299.84, 299.89, 299.81, 299.81, 299.82, 299.8, 299.77, 299.76, 299.74, 299.75, 299.76, 299.91, 299.92, 299.89, 299.86,
  299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81, 299.76, 299.81, 299.79, 299.81,
  299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94, 299.95, 299.8, 299.81, 299.87
];

/** The rule by which NIST gives NumAcc2 to 4: a value, then a pair repeated. */
const repeated = (first: number, pair: number[]) => [first, ...Array.from({length: 500}, () => pair).flat()];

const certified = [
  {id: "strd.lew", values: lew, n: 200, mean: -177.435, sd: 277.332168044316, lag1: -0.307304800605679},
  {id: "strd.michelso", values: michelson, n: 100, mean: 299.8524, sd: 0.0790105478190518, lag1: 0.535199668621283},
  {id: "strd.numacc1", values: [10000001, 10000003, 10000002], n: 3, mean: 10000002, sd: 1, lag1: -0.5},
  {id: "strd.numacc2", values: repeated(1.2, [1.1, 1.3]), n: 1001, mean: 1.2, sd: 0.1, lag1: -0.999},
  {
    id: "strd.numacc4",
    values: repeated(10000000.2, [10000000.1, 10000000.3]),
    n: 1001,
    mean: 10000000.2,
    sd: 0.1,
    lag1: -0.999,
    relTol: 1e-8
  }
];

for (const {id, values, relTol = 1e-12, ...want} of certified) {
  test(`mean, deviation and lagOneAutocorrelation agree with the certified values of NIST (${id})`, () => {
    expect(values).toHaveLength(want.n);
    expectClose(mean(values), want.mean, 1e-12);
    expectClose(deviation(values), want.sd, relTol);
    expectClose(lagOneAutocorrelation(values), want.lag1, relTol);
  });
}

// Checks quantile.t7-small, quantile.t7-density (with ties), quantile.t7-single (one value and two).
// Published (memory, the definition): Hyndman and Fan (1996), Amer. Statist. 50:361–365, type 7; values R only.
// R: quantile(x, p, type = 7). Tolerance 1e-9 relative.
const samples = [
  {
    id: "quantile.t7-small",
    x: [15, 20, 35, 40, 50],
    p: [0, 0.05, 0.25, 0.4, 0.5, 0.9, 1],
    q: [15, 16, 20, 29, 35, 46, 50]
  },
  {
    id: "quantile.t7-density",
    x: [0.71, 0.655, 0.68, 0.702, 0.66, 0.66, 0.649, 0.731, 0.675, 0.69, 0.688, 0.642],
    p: [0.025, 0.1, 0.5, 0.75, 0.975],
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: a quartile, not ln 2
    q: [0.643925, 0.6496, 0.6775, 0.693, 0.725225]
  },
  {id: "quantile.t7-single", x: [7], p: [0, 0.3, 1], q: [7, 7, 7]},
  {id: "quantile.t7-single", x: [3, 8], p: [0, 0.3, 1], q: [3, 4.5, 8]}
];

for (const {id, x, p, q} of samples) {
  test(`quantile of ${x.length} values agrees with R's type 7 (${id})`, () => {
    expectClose(
      p.map((share) => quantile(x, share)),
      q,
      1e-9
    );
  });
}

// Check quantile.t7-density, iqr and mad. R only: IQR(x); mad(x) (constant 1.4826). Tolerance 1e-9 relative.
test("the interquartile range and medianAbsoluteDeviation of twelve densities agree with R's IQR and mad", () => {
  const {x} = samples[1]!;
  expectClose(quantile(x, 0.75)! - quantile(x, 0.25)!, 0.03425, 1e-9);
  expectClose(medianAbsoluteDeviation(x), 0.029652, 1e-9);
});
