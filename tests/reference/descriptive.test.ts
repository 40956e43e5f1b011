import {test} from "vitest";
import {deviation} from "../../lib/stats/deviation.ts";
import {mean} from "../../lib/stats/mean.ts";
import {quantile} from "../../lib/stats/quantile.ts";
import {expectClose} from "./close.ts";

// Published (read): NIST Statistical Reference Datasets, univariate summary statistics, certified to 15 digits; files
// verbatim in apache/commons-math, src/test/resources/.../stat/data, at d9fd832. Tolerance 1e-12 relative, 1e-8 for
// the deviation of NumAcc4: its decimals are not exact in binary, and no double computation has more than about 8.3
// digits.

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
  {name: "Lew", values: lew, mean: -177.435, deviation: 277.332168044316},
  {name: "Michelso", values: michelson, mean: 299.8524, deviation: 0.0790105478190518},
  {name: "NumAcc1", values: [10000001, 10000003, 10000002], mean: 10000002, deviation: 1},
  {name: "NumAcc2", values: repeated(1.2, [1.1, 1.3]), mean: 1.2, deviation: 0.1},
  {
    name: "NumAcc4",
    values: repeated(10000000.2, [10000000.1, 10000000.3]),
    mean: 10000000.2,
    deviation: 0.1,
    relTol: 1e-8
  }
];

for (const {name, values, relTol = 1e-12, ...want} of certified) {
  test(`mean and deviation agree with the certified values of NIST ${name}`, () => {
    expectClose(mean(values), want.mean, 1e-12);
    expectClose(deviation(values), want.deviation, relTol);
  });
}

// Definition (memory): Hyndman and Fan (1996), Amer. Statist. 50:361–365, type 7. Values: R 4.2.2, quantile(x, p,
// type = 7).
// Tolerance 1e-9 relative.
const samples = [
  {x: [15, 20, 35, 40, 50], p: [0, 0.05, 0.25, 0.4, 0.5, 0.9, 1], q: [15, 16, 20, 29, 35, 46, 50]},
  {
    x: [0.71, 0.655, 0.68, 0.702, 0.66, 0.66, 0.649, 0.731, 0.675, 0.69, 0.688, 0.642],
    p: [0.025, 0.1, 0.5, 0.75, 0.975],
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: a quartile, not ln 2
    q: [0.643925, 0.6496, 0.6775, 0.693, 0.725225]
  },
  {x: [7], p: [0, 0.3, 1], q: [7, 7, 7]},
  {x: [3, 8], p: [0, 0.3, 1], q: [3, 4.5, 8]}
];

for (const {x, p, q} of samples) {
  test(`quantile of ${x.length} values agrees with R's type 7`, () => {
    expectClose(
      p.map((share) => quantile(x, share)),
      q,
      1e-9
    );
  });
}

test("the interquartile range of twelve densities agrees with R's IQR", () => {
  const {x} = samples[1]!;
  expectClose(quantile(x, 0.75)! - quantile(x, 0.25)!, 0.03425, 1e-9);
});
