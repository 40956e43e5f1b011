import fc from "fast-check";
import {expect, test} from "vitest";
import {betaBinomialPmf, fitBetaBinomial, type Rate, shrunkRate} from "../../lib/stats/betaBinomial.ts";
import {frozen, shuffled} from "./arbitrary.ts";

const shape = fc.double({min: 0.05, max: 500, noNaN: true});

test("betaBinomialPmf(n, 1, 1) is flat, and of no pieces a certain 0", () => {
  expect(betaBinomialPmf(4, 1, 1)).toEqual([1, 1, 1, 1, 1].map((one) => expect.closeTo(one / 5, 12)));
  expect(betaBinomialPmf(0, 2, 3)).toEqual([1]);
});

// By hand: BetaBinomial(2; 2, 3): 3·4, 2·2·3 and 2·3 over 5·6.
test("betaBinomialPmf(2, 2, 3), worked by hand", () => {
  expect(betaBinomialPmf(2, 2, 3)).toEqual([0.4, 0.4, 0.2].map((p) => expect.closeTo(p, 12)));
});

test("betaBinomialPmf adds up to 1, has mean nα/(α + β), and is mirrored when α and β change places", () => {
  fc.assert(
    fc.property(fc.integer({min: 0, max: 300}), shape, shape, (n, alpha, beta) => {
      const pmf = betaBinomialPmf(n, alpha, beta);
      expect(pmf.reduce((a, b) => a + b)).toBeCloseTo(1, 10);
      const mean = pmf.reduce((sum, p, k) => sum + p * k, 0);
      expect(mean).toBeCloseTo((n * alpha) / (alpha + beta), 7);
      expect(betaBinomialPmf(n, beta, alpha).reverse()).toEqual(pmf.map((p) => expect.closeTo(p, 10)));
    })
  );
});

test("betaBinomialPmf with huge α and β is binomial, with tiny ones all or nothing", () => {
  expect(betaBinomialPmf(3, 1e12, 1e12)).toEqual([1, 3, 3, 1].map((k) => expect.closeTo(k / 8, 9)));
  expect(betaBinomialPmf(50, 1e-9, 1e-9)[0]).toBeCloseTo(0.5, 6);
});

const suppliers = frozen([
  {successes: 6, trials: 60},
  {successes: 4, trials: 12},
  {successes: 19, trials: 85},
  {successes: 0, trials: 9},
  {successes: 5, trials: 64}
]);

test("fitBetaBinomial does not depend on order, nor on groups without trials", () => {
  const fit = fitBetaBinomial(suppliers)!;
  const again = fitBetaBinomial(shuffled([...suppliers, {successes: 0, trials: 0}], 7))!;
  expect(again.alpha).toBeCloseTo(fit.alpha!, 8);
  expect(again.beta).toBeCloseTo(fit.beta!, 8);
});

test("fitBetaBinomial takes fractional counts: close to whole ones it gives a close fit", () => {
  const fit = fitBetaBinomial(suppliers)!;
  const near = fitBetaBinomial(suppliers.map(({successes, trials}) => ({successes, trials: trials + 1e-6})))!;
  expect(near.alpha).toBeCloseTo(fit.alpha!, 3);
  expect(near.rho).toBeCloseTo(fit.rho, 5);
  const halves = fitBetaBinomial(
    suppliers.map(({successes, trials}) => ({successes: successes / 2, trials: trials / 2}))
  )!;
  expect(halves.rho).toBeGreaterThanOrEqual(0);
  expect(halves.mean).toBeGreaterThan(0.05);
  expect(halves.mean).toBeLessThan(0.25);
});

test("fitBetaBinomial finds no higher likelihood beside its answer", () => {
  const fit = fitBetaBinomial(suppliers)!;
  const height = (alpha: number, beta: number) =>
    suppliers.reduce((sum, {successes, trials}) => sum + Math.log(betaBinomialPmf(trials, alpha, beta)[successes]!), 0);
  expect(height(fit.alpha!, fit.beta!)).toBeCloseTo(fit.logLikelihood, 8);
  for (const [da, db] of [
    [1.01, 1],
    [0.99, 1],
    [1, 1.01],
    [1, 0.99],
    [1.01, 1.01],
    [0.99, 0.99]
  ] as const) {
    expect(height(fit.alpha! * da, fit.beta! * db)).toBeLessThan(fit.logLikelihood);
  }
});

test("fitBetaBinomial says rho 0 where nothing can tell groups apart", () => {
  for (const rows of [
    [{successes: 3, trials: 10}],
    [
      {successes: 0, trials: 10},
      {successes: 0, trials: 4}
    ],
    [
      {successes: 7, trials: 7},
      {successes: 4, trials: 4}
    ],
    [
      {successes: 1, trials: 1},
      {successes: 0, trials: 1}
    ],
    [
      {successes: 3, trials: 10},
      {successes: 3, trials: 10}
    ]
  ]) {
    const fit = fitBetaBinomial(rows)!;
    expect([fit.rho, fit.alpha]).toEqual([0, undefined]);
    expect(Number.isFinite(fit.logLikelihood)).toBe(true);
  }
});

test("fitBetaBinomial says rho 1 when every group is all or nothing", () => {
  const fit = fitBetaBinomial([
    {successes: 5, trials: 5},
    {successes: 0, trials: 6},
    {successes: 0, trials: 2}
  ])!;
  expect([fit.rho, fit.alpha]).toEqual([1, undefined]);
  expect(fit.mean).toBeCloseTo(1 / 3, 12);
  expect(fit.logLikelihood).toBeCloseTo(Math.log(1 / 3) + 2 * Math.log(2 / 3), 12);
  expect(shrunkRate({successes: 0, trials: 6}, fit)).toEqual({
    mean: 0,
    low: expect.any(Number),
    high: expect.any(Number)
  });
  // A strongly split but not perfect table comes near it.
  const near = fitBetaBinomial([
    {successes: 40, trials: 40},
    {successes: 0, trials: 40},
    {successes: 1, trials: 40}
  ])!;
  expect(near.rho).toBeGreaterThan(0.8);
  expect(near.rho).toBeLessThan(1);
});

test("fitBetaBinomial of no trials is undefined", () => {
  expect(fitBetaBinomial([])).toBeUndefined();
  expect(fitBetaBinomial([{successes: 0, trials: 0}])).toBeUndefined();
});

const rate: fc.Arbitrary<Rate> = fc
  .integer({min: 1, max: 60})
  .chain((trials) => fc.integer({min: 0, max: trials}).map((successes) => ({successes, trials})));

test("fitBetaBinomial never fails, whatever the counts, and shrunkRate lies between own and common rate", () => {
  fc.assert(
    fc.property(fc.array(rate, {minLength: 1, maxLength: 8}), (rows) => {
      const fit = fitBetaBinomial(rows)!;
      expect(fit.rho).toBeGreaterThanOrEqual(0);
      expect(fit.rho).toBeLessThanOrEqual(1);
      for (const row of rows) {
        const [own, narrow, wide] = [
          row.successes / row.trials,
          shrunkRate(row, fit, {level: 0.5}),
          shrunkRate(row, fit)
        ];
        expect(narrow.mean).toBeGreaterThanOrEqual(Math.min(own, fit.mean) - 1e-9);
        expect(narrow.mean).toBeLessThanOrEqual(Math.max(own, fit.mean) + 1e-9);
        expect(wide.low).toBeLessThanOrEqual(narrow.low);
        expect(wide.high).toBeGreaterThanOrEqual(narrow.high);
      }
    }),
    {numRuns: 60}
  );
});

// By hand: Beta(2 + 2, 8 + 6) has mean 4/18.
test("shrunkRate's limits hold its mean, stay in [0, 1] and widen with the level", () => {
  const fit = {alpha: 2, beta: 8, mean: 0.2, rho: 1 / 11, logLikelihood: 0, successes: 0, trials: 0};
  const rate = fc
    .integer({min: 0, max: 60})
    .chain((trials) => fc.integer({min: 0, max: trials}).map((successes) => ({successes, trials})));
  fc.assert(
    fc.property(rate, (row) => {
      const [narrow, wide] = [shrunkRate(row, fit, {level: 0.8}), shrunkRate(row, fit, {level: 0.99})];
      const rising = [0, wide.low, narrow.low, narrow.mean, narrow.high, wide.high, 1];
      expect(rising).toEqual([...rising].sort((a, b) => a - b));
    })
  );
});

test("shrunkRate of 2 in 8 with α = 2, β = 8, worked by hand", () => {
  const fit = {alpha: 2, beta: 8, mean: 0.2, rho: 1 / 11, logLikelihood: 0, successes: 0, trials: 0};
  expect(shrunkRate({successes: 2, trials: 8}, fit).mean).toBeCloseTo(4 / 18, 12);
  expect(shrunkRate({successes: 0, trials: 0}, fit).mean).toBeCloseTo(0.2, 12);
});

test("impossible counts and shapes are refused", () => {
  expect(() => fitBetaBinomial([{successes: 3, trials: 2}])).toThrow(
    "successes must be between 0 and trials (2), got 3."
  );
  expect(() => fitBetaBinomial([{successes: 0, trials: Number.NaN}])).toThrow("trials must be 0 or more, got NaN.");
  expect(() => betaBinomialPmf(2.5, 1, 1)).toThrow("betaBinomialPmf: n must be a count, got 2.5.");
  expect(() => betaBinomialPmf(2, 0, 1)).toThrow("betaBinomialPmf: alpha must be positive, got 0.");
  const fit = {mean: 0.2, rho: 0, logLikelihood: 0, successes: 2, trials: 10};
  expect(() => shrunkRate({successes: 1, trials: 2}, fit, {level: 95})).toThrow(
    "shrunkRate: level must be between 0 and 1"
  );
});
