import {expect, test} from "vitest";
import {pChart} from "../../lib/stats/pChart.ts";
import {expectClose} from "./close.ts";

const periods = (x: number[], n: number | number[]) =>
  x.map((defective, i) => ({defective, inspected: typeof n === "number" ? n : n[i]!}));

/** The chart's sigmaZ with d₂ = 2/√π, where it has the tables' 1.128. */
const withExactD2 = ({sigmaZ}: {sigmaZ?: number}) => (sigmaZ! * 1.128 * Math.sqrt(Math.PI)) / 2;

/** Places of points outside the limits, counted from 1 as the sources do. */
const outside = (points: {outside: boolean}[]) => points.flatMap((point, i) => (point.outside ? [i + 1] : []));

// Check pchart.nist-wafer: 30 samples of 50 (NIST wafers = Montgomery orange juice cans).
// Published (read): NIST/SEMATECH e-Handbook 6.3.3.2 (pBar 0.2313, UCL 0.4103, LCL 0.0524) and Montgomery ISQC
// (347/1500 = 0.2313, UCL 0.4102, LCL 0.0524); revised without samples 15 and 23: 301/1400 = 0.2150, UCL 0.3893,
// LCL 0.0407; read in a stored test file that quotes it (NIST counts and limits), stored test files that quote the
// table; revised limits from memory.
// R: pBar=sum(x)/sum(n); limits pBar +- 3*sqrt(pBar(1-pBar)/n_i) clipped to [0,1]; z_i=(p_i-pBar)/sigma_i;
// sigmaZ=mean(|diff(z)|)/1.128; Laney limits pBar +- 3*sigma_i*sigmaZ; sigmaZExactD2 uses d2 = 2/sqrt(pi) =
// 1.128379; dispersion: sum(z^2) ~ chisq(k-1). Tolerance 1e-08 relative.
const wafers = {
  input: {
    x: [12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6],
    n: 50
  },
  expected: {
    pBar: 0.231333333333,
    ucl: 0.410239118595,
    lcl: 0.0524275480719,
    outside1: [15, 23],
    sigmaZ: 1.66086671974,
    sigmaZExactD2: 1.66030862187,
    laneyUcl: 0.528471998044,
    laneyLcl: 0,
    laneyOutside1: [],
    dispersionChisq: 85.4093193798,
    dispersionDf: 29,
    dispersionP: 1.82109513598e-7,
    revised: {pBar: 0.215, ucl: 0.389297160046, lcl: 0.0407028399543}
  }
};

test("pChart of NIST's wafers agrees with R, and with the printed limits", () => {
  const {input, expected} = wafers;
  const chart = pChart(periods(input.x, input.n));
  expectClose(chart.pBar, expected.pBar, 1e-8);
  expectClose(
    chart.points.map((point) => point.high),
    input.x.map(() => expected.ucl),
    1e-8
  );
  expectClose(
    chart.points.map((point) => point.low),
    input.x.map(() => expected.lcl),
    1e-8
  );
  expect(outside(chart.points)).toEqual(expected.outside1);
  expectClose(chart.dispersion!.chiSquare, expected.dispersionChisq, 1e-8);
  expect(chart.dispersion!.df).toBe(expected.dispersionDf);
  expectClose(chart.dispersion!.p, expected.dispersionP, 1e-8);
  expect(chart.pBar).toBeCloseTo(0.2313, 4);
  expect(chart.points[0]!.high).toBeCloseTo(0.4102, 4); // Montgomery; the 0.4103 of NIST is wrong in its last digit
  expect(chart.points[0]!.low).toBeCloseTo(0.0524, 4);
});

test("pChart of NIST's wafers with Laney's correction agrees with R", () => {
  const {input, expected} = wafers;
  const chart = pChart(periods(input.x, input.n), {laney: true});
  expectClose(chart.sigmaZ, expected.sigmaZ, 1e-8);
  expectClose(withExactD2(chart), expected.sigmaZExactD2, 1e-8);
  expectClose(chart.points[0]!.high, expected.laneyUcl, 1e-8);
  expectClose(
    chart.points.map((point) => [point.low, point.high]),
    input.x.map(() => [expected.laneyLcl, expected.laneyUcl]),
    1e-8
  );
  expect(chart.points[0]!.low).toBe(expected.laneyLcl);
  expect(outside(chart.points)).toEqual(expected.laneyOutside1);
});

// Check pchart.nist-wafer, revised. Limits without samples 15 and 23: printed 0.2150, 0.3893, 0.0407, from memory; R
// as above is the ground.
test("pChart without the two samples that were out agrees with the revised limits", () => {
  const kept = wafers.input.x.filter((_, i) => i !== 14 && i !== 22);
  const chart = pChart(periods(kept, 50));
  const {revised} = wafers.expected;
  expectClose(
    [chart.pBar, chart.points[0]!.high, chart.points[0]!.low],
    [revised.pBar, revised.ucl, revised.lcl],
    1e-8
  );
});

// Check pchart.laney-sigmaz: sigma z, 5 subgroups of 1000.
// Published (read): formula: Laney (2002) Quality Engineering 14:531-537; Minitab 'Methods and formulas for Laney
// P' chart' (moving range of 2, 1.128). Value 3.21576 in a stored test file; read in support.minitab.com laney-p-
// chart methods (search result); stored test files that quote the table.
// R: pBar=sum(x)/sum(n); limits pBar +- 3*sqrt(pBar(1-pBar)/n_i) clipped to [0,1]; z_i=(p_i-pBar)/sigma_i;
// sigmaZ=mean(|diff(z)|)/1.128; Laney limits pBar +- 3*sigma_i*sigmaZ; sigmaZExactD2 uses d2 = 2/sqrt(pi) =
// 1.128379; dispersion: sum(z^2) ~ chisq(k-1). Tolerance 1e-09 relative.
const five = {
  input: {x: [50, 60, 40, 70, 30], n: 1000},
  expected: {pBar: 0.05, sigmaZ: 3.21576351999, sigmaZExactD2: 3.21468293312}
};

test("pChart's sigmaZ of five groups is the published 3.21576", () => {
  const chart = pChart(periods(five.input.x, five.input.n), {laney: true});
  expectClose([chart.pBar, chart.sigmaZ], [five.expected.pBar, five.expected.sigmaZ], 1e-9);
  expectClose(withExactD2(chart), five.expected.sigmaZExactD2, 1e-9);
  expect(chart.sigmaZ).toBeCloseTo(3.21576, 5);
});

// Check pchart.variable-n: monthly discards, variable numbers, 12 months.
// Published: none; R only.
// R: pBar=sum(x)/sum(n); limits pBar +- 3*sqrt(pBar(1-pBar)/n_i) clipped to [0,1]; z_i=(p_i-pBar)/sigma_i;
// sigmaZ=mean(|diff(z)|)/1.128; Laney limits pBar +- 3*sigma_i*sigmaZ; sigmaZExactD2 uses d2 = 2/sqrt(pi) =
// 1.128379; dispersion: sum(z^2) ~ chisq(k-1). Tolerance 1e-08 relative.
const months = {
  input: {x: [7, 3, 11, 5, 9, 2, 14, 6, 4, 10, 8, 3], n: [48, 36, 60, 41, 72, 25, 55, 50, 38, 64, 47, 30]},
  expected: {
    pBar: 0.144876325088,
    ucl: [
      0.297286447487, 0.320864375476, 0.281196082745, 0.309784620347, 0.269318668925, 0.356061985554, 0.287257668328,
      0.294207137693, 0.316170514904, 0.276867362879, 0.29889929793, 0.337661575186
    ],
    lcl: [0, 0, 0.00855656743162, 0, 0.0204339812513, 0, 0.00249498184836, 0, 0, 0.0128852872975, 0, 0],
    outside1: [],
    sigmaZ: 1.07569791345,
    sigmaZExactD2: 1.07533644873,
    laneyUcl: [
      0.30882357574, 0.334186303682, 0.291515203961, 0.322267834209, 0.278738694698, 0.372048299401, 0.298035638925,
      0.30551116862, 0.329137127659, 0.286858809034, 0.310558515597, 0.352255016362
    ],
    laneyLcl: [0, 0, 0, 0, 0.0110139554784, 0, 0, 0, 0, 0.00289384114299, 0, 0],
    laneyOutside1: [],
    dispersionChisq: 9.9387895321,
    dispersionDf: 11,
    dispersionP: 0.535901370508
  }
};

test("pChart of twelve months of different size agrees with R, with and without Laney's correction", () => {
  const {input, expected} = months;
  const plain = pChart(periods(input.x, input.n));
  expectClose(plain.pBar, expected.pBar, 1e-8);
  expectClose(
    plain.points.map((point) => point.high),
    expected.ucl,
    1e-8
  );
  expectClose(
    plain.points.map((point) => point.low),
    expected.lcl,
    1e-8
  );
  expect(outside(plain.points)).toEqual(expected.outside1);
  expectClose(plain.dispersion!.chiSquare, expected.dispersionChisq, 1e-8);
  expect(plain.dispersion!.df).toBe(expected.dispersionDf);
  expectClose(plain.dispersion!.p, expected.dispersionP, 1e-8);
  const laney = pChart(periods(input.x, input.n), {laney: true});
  expectClose(laney.sigmaZ, expected.sigmaZ, 1e-8);
  expectClose(withExactD2(laney), expected.sigmaZExactD2, 1e-8);
  expectClose(
    laney.points.map((point) => point.high),
    expected.laneyUcl,
    1e-8
  );
  expectClose(
    laney.points.map((point) => point.low),
    expected.laneyLcl,
    1e-8
  );
  expect(outside(laney.points)).toEqual(expected.laneyOutside1);
});
