import {expect, test} from "vitest";
import {normalFactor} from "../../lib/stats/interval.ts";
import {mantelHaenszel} from "../../lib/stats/mantelHaenszel.ts";

const z = normalFactor(0.95, "test");
const tables = (rows: readonly (readonly [number, number, number, number])[]) =>
  rows.map(([events, others, otherEvents, otherOthers]) => ({
    events,
    n: events + others,
    otherEvents,
    otherN: otherEvents + otherOthers
  }));

// R 4, mantelhaen.test(UCBAdmissions), as printed: common odds ratio 0.9046968, 95 % interval 0.7719074 to 1.0603298 (Robins, Breslow & Greenland).
// Read in stored public pages. The counts of the six departments, men admitted and not, women admitted and not: Bickel et al. (1975), Science 187:398.
test("mantelHaenszel: odds ratio and its limits as R prints them for the admissions to six departments", () => {
  const got = mantelHaenszel(
    tables([
      [512, 313, 89, 19],
      [353, 207, 17, 8],
      [120, 205, 202, 391],
      [138, 279, 131, 244],
      [53, 138, 94, 299],
      [22, 351, 24, 317]
    ])
  )!;
  expect(got.odds).toBeCloseTo(0.9046968, 7);
  expect(Math.exp(Math.log(got.odds!) - z * Math.sqrt(got.logOddsVariance!))).toBeCloseTo(0.7719074, 7);
  expect(Math.exp(Math.log(got.odds!) + z * Math.sqrt(got.logOddsVariance!))).toBeCloseTo(1.0603298, 7);
});

// SAS/STAT, PROC FREQ, example “Cochran-Mantel-Haenszel Statistics” (data set Migraine; data read in the manual, values read in the test of a public R package
// that cites it): relative risk of the first column 2.1636, 95 % interval 1.2336 to 3.7948.
// From memory of the same output: odds ratio 3.3132 (1.4456 to 7.5934).
test("mantelHaenszel: ratio and its limits as SAS prints them for two strata", () => {
  const got = mantelHaenszel(
    tables([
      [16, 11, 5, 20],
      [12, 16, 7, 19]
    ])
  )!;
  const limits = (log: number, variance: number) =>
    [-1, 0, 1].map((side) => Number(Math.exp(log + side * z * Math.sqrt(variance)).toFixed(4)));
  expect(limits(Math.log(got.ratio!), got.logRatioVariance!)).toEqual([1.2336, 2.1636, 3.7948]);
  expect(limits(Math.log(got.odds!), got.logOddsVariance!)).toEqual([1.4456, 3.3132, 7.5934]);
});

// Agresti (2013), Categorical Data Analysis, 3rd ed., data p. 226, p. 231: difference 0.130, standard error 0.050 by Sato's variance. Read in the test of a public R
// package that cites it.
test("mantelHaenszel: difference and Sato's standard error as Agresti gives them for eight centres", () => {
  const got = mantelHaenszel(
    tables([
      [11, 25, 10, 27],
      [16, 4, 22, 10],
      [14, 5, 7, 12],
      [2, 14, 1, 16],
      [6, 11, 0, 12],
      [1, 10, 0, 10],
      [1, 4, 1, 8],
      [4, 2, 6, 1]
    ])
  )!;
  expect(got.difference.toFixed(3)).toBe("0.130");
  expect(Math.sqrt(got.differenceVariance).toFixed(3)).toBe("0.050");
});
