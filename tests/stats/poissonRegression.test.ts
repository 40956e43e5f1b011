import fc from "fast-check";
import {expect, test} from "vitest";
import {poissonRegression} from "../../lib/stats/poissonRegression.ts";

const ones = (n: number) => Array.from({length: n}, () => [1]);

// By hand: with a level alone the fitted count is the mean, 4, and the variance of its logarithm 1/12.
test("poissonRegression with a level alone gives the mean", () => {
  const fit = poissonRegression(ones(3), [2, 4, 6])!;
  expect(Math.exp(fit.coefficients[0]!)).toBeCloseTo(4, 10);
  expect(fit.covariance[0]![0]).toBeCloseTo(1 / 12, 10);
  expect(fit.pearson).toBeCloseTo((4 + 0 + 4) / 4, 10);
  expect(fit.df).toBe(2);
});

test("poissonRegression with two groups gives each its mean, whatever the order of rows", () => {
  const design = [
    [1, 0],
    [1, 0],
    [1, 1],
    [1, 1],
    [1, 1]
  ];
  const counts = [2, 3, 8, 10, 12];
  const fit = poissonRegression(design, counts)!;
  expect(fit.fitted).toEqual([2.5, 2.5, 10, 10, 10].map((m) => expect.closeTo(m, 9)));
  expect(Math.exp(fit.coefficients[1]!)).toBeCloseTo(4, 9);
  const turned = poissonRegression([...design].reverse(), [...counts].reverse())!;
  expect(turned.coefficients).toEqual(fit.coefficients.map((b) => expect.closeTo(b, 9)));
});

test("an offset of ln exposure makes it a rate", () => {
  const fit = poissonRegression(ones(2), [10, 50], {offset: [Math.log(1), Math.log(5)]})!;
  expect(Math.exp(fit.coefficients[0]!)).toBeCloseTo(10, 9);
  expect(fit.deviance).toBeCloseTo(0, 9);
});

test("the residuals are at right angles to every column, whatever the rows", () => {
  const row = fc.tuple(fc.integer({min: 0, max: 12}), fc.integer({min: -30, max: 30}), fc.integer({min: -30, max: 30}));
  fc.assert(
    fc.property(fc.array(row, {minLength: 12, maxLength: 30}), (rows) => {
      // The first three rows span all columns, so that none depends on the others.
      const design = rows.map(([, a, b], i) => [1, i === 1 ? 3 : a / 10, i === 2 ? 3 : i < 2 ? 0 : b / 10]);
      design[0] = [1, 0, 0];
      design[2] = [1, 0, 3];
      const counts = rows.map(([count], i) => (i < 3 ? count + 1 : count));
      const fit = poissonRegression(design, counts)!;
      for (const column of [0, 1, 2]) {
        const product = counts.reduce((sum, x, i) => sum + design[i]![column]! * (x - fit.fitted[i]!), 0);
        expect(Math.abs(product)).toBeLessThan(1e-6);
      }
    })
  );
});

test("a group with only zeros has an estimate far down and a variance that says so", () => {
  const fit = poissonRegression(
    [
      [1, 0],
      [1, 0],
      [1, 1],
      [1, 1]
    ],
    [3, 5, 0, 0]
  )!;
  expect(fit.coefficients[1]!).toBeLessThan(-10);
  expect(fit.covariance[1]![1]!).toBeGreaterThan(1e4);
});

test("poissonRegression has no answer when all counts are 0", () => {
  expect(poissonRegression(ones(2), [0, 0])).toBeUndefined();
});

test("poissonRegression refuses columns that depend on each other, uneven rows and negative counts", () => {
  expect(() =>
    poissonRegression(
      [
        [1, 2],
        [1, 2],
        [1, 2]
      ],
      [1, 2, 3]
    )
  ).toThrow("design must be of 2 independent columns, got 1.");
  expect(() => poissonRegression([[1, 2, 3]], [1])).toThrow("design must be of 3 independent columns, got 1.");
  expect(() => poissonRegression([[1], [1, 2]], [1, 2])).toThrow("poissonRegression: design must be 1 columns, got 2.");
  expect(() => poissonRegression(ones(2), [1, -1])).toThrow("poissonRegression: counts must be 0 or more, got -1.");
  expect(() => poissonRegression(ones(2), [1])).toThrow("poissonRegression: design must be 1 rows, got 2.");
  expect(() => poissonRegression([], [])).toThrow(
    "poissonRegression: design must be rows of at least one column, got 0."
  );
});
