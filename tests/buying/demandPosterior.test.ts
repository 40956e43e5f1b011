import {expect, test} from "vitest";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {demandPosterior, monthPrior} from "../../lib/buying/demandPosterior.ts";
import {negativeBinomialPmf} from "../../lib/stats/negativeBinomial.ts";
import {orderBook} from "./orderBook.ts";

const calm = [4, 6, 5, 3, 7, 5, 4, 6, 5, 5, 4, 6];

// SciPy 1.17: nbinom(60.5, 12/(12 + 5)): mean, std, ppf; and the integral of poisson.pmf(k, 5 l) · gamma.pdf(l, 60.5, scale=1/12) over l.
test("demandPosterior(months that scatter less than chance) is the textbook's conjugate, Poisson over gamma integrated", () => {
  const {posterior, mean, size, sd, low, high, priorIs, dispersion} = demandPosterior(calm, 5)!;
  expect([priorIs, dispersion, posterior]).toEqual(["Jeffreys", 1, {shape: 60.5, rate: 12}]);
  expect([mean, sd, size]).toEqual([
    expect.closeTo(25.20833333333333, 10),
    expect.closeTo(5.975935538102427, 10),
    expect.closeTo(60.5, 9)
  ]);
  expect([low, high]).toEqual([14, 38]);
  const pmf = negativeBinomialPmf(size, mean, 40);
  expect(pmf[15]).toBeCloseTo(0.015338577847569, 12);
  expect(pmf[25]).toBeCloseTo(0.066826290377784, 12);
  expect(pmf[33]).toBeCloseTo(0.026244844037107, 12);
});

// SciPy 1.17: nbinom(62.5, 12.5/17.5)
test("demandPosterior(a prior given) adds its shape and rate", () => {
  const {mean, size, sd, low, high, priorIs} = demandPosterior(calm, 5, {prior: {shape: 2.5, rate: 0.5}})!;
  expect([mean, sd, size]).toEqual([
    expect.closeTo(25, 10),
    expect.closeTo(5.916079783099616, 10),
    expect.closeTo(62.5, 9)
  ]);
  expect([low, high, priorIs]).toEqual([14, 37, "given"]);
});

// Without trend and season (fewer than 24 months) the forecast is h x̄ with variance mean + extra (t/z)²; t(11) = 2.200985, z = 1.959964 of any table.
test.each([
  ["calm months", calm],
  ["wild months", [1, 12, 0, 9, 3, 15, 2, 0, 8, 20, 1, 7]]
])("demandPosterior(%s) and demandForecast agree, but for half a shaft and Student's factor", (_, counts) => {
  const forecast = demandForecast(orderBook("2025-01", counts, "2025-12-31"), "ash", "2026-05-31")!;
  // Nearly no prior: what is left is the months.
  const {mean, size} = demandPosterior(counts, 5, {prior: {shape: 1e-9, rate: 0}})!;
  expect(mean).toBeCloseTo(forecast.mean, 6);
  const [extra, ofForecast] = [mean ** 2 / size, forecast.mean ** 2 / forecast.size!];
  expect(ofForecast / extra).toBeCloseTo((2.200985 / 1.959964) ** 2, 4);
  const jeffreys = demandPosterior(counts, 5)!;
  expect(jeffreys.mean - forecast.mean).toBeGreaterThan(0);
  expect(jeffreys.mean - forecast.mean).toBeLessThan((5 * 0.5 * jeffreys.dispersion) / 12 + 1e-9);
});

// By hand: mean 72/12 = 6; Σ(x − 6)² = 8·16 + 2·25 + 2·4 = 186, s² = 186/11, less 6: 120/11; shape 36·11/120, rate 6·11/120.
test("monthPrior(12 months of mean 6) is the gamma of their mean and of their scatter beyond chance", () => {
  expect(monthPrior([10, 2, 10, 2, 10, 2, 10, 2, 11, 1, 8, 4])).toEqual({
    shape: expect.closeTo(3.3, 12),
    rate: expect.closeTo(0.55, 12)
  });
});

test("monthPrior(few months, or no more scatter than chance) knows nothing", () => {
  expect(monthPrior([1, 9, 1, 9])).toBeUndefined();
  expect(monthPrior(calm)).toBeUndefined();
});

test("demandPosterior(five months, or nothing ordered and no prior) cannot say; with a prior it can", () => {
  expect(demandPosterior([5, 5, 5, 5, 5], 5)).toBeUndefined();
  const none = Array(12).fill(0);
  expect(demandPosterior(none, 5)).toBeUndefined();
  expect(demandPosterior(none, 12, {prior: {shape: 2, rate: 1}})!.mean).toBeCloseTo((12 * 2) / 13, 12);
});

test.each([
  [[1.5, 2, 3, 4, 5, 6], 5, undefined, "demandPosterior: counts must be counts"],
  [calm, 0, undefined, "demandPosterior: monthsAhead must be positive"],
  [calm, 5, {shape: 0, rate: 1}, "demandPosterior: prior must be a positive shape"]
])("demandPosterior refuses %j, %d, %j", (counts, ahead, prior, sentence) => {
  expect(() => demandPosterior(counts, ahead, prior && {prior})).toThrow(sentence);
});
