import fc from "fast-check";
import {expect, test} from "vitest";
import {
  fitNegativeBinomial,
  fitSize,
  negativeBinomialPmf,
  negativeBinomialTail
} from "../../lib/stats/negativeBinomial.ts";
import {shuffled} from "./arbitrary.ts";

// By hand: size 1 is geometric: P(k) = ¼·(¾)^k for mean 3, P(more than k) = (¾)^(k + 1).
test("negativeBinomialPmf(1, 3) and its tail are geometric", () => {
  expect(negativeBinomialPmf(1, 3, 2)).toEqual([1 / 4, 3 / 16, 9 / 64].map((p) => expect.closeTo(p, 12)));
  expect(negativeBinomialTail(1, 3, 2)).toEqual([3 / 4, 9 / 16, 27 / 64].map((p) => expect.closeTo(p, 12)));
});

test("size Infinity is Poisson, mean 0 a certain 0", () => {
  expect(negativeBinomialPmf(Infinity, 2, 1)).toEqual(
    [Math.exp(-2), 2 * Math.exp(-2)].map((p) => expect.closeTo(p, 12))
  );
  expect(negativeBinomialTail(Infinity, 2, 0)).toEqual([expect.closeTo(1 - Math.exp(-2), 12)]);
  for (const size of [2, Infinity]) {
    expect(negativeBinomialPmf(size, 0, 2)).toEqual([1, 0, 0]);
    expect(negativeBinomialTail(size, 0, 2)).toEqual([0, 0, 0]);
  }
});

test("negativeBinomialPmf with a huge size is Poisson", () => {
  const poisson = negativeBinomialPmf(Infinity, 5, 30);
  expect(negativeBinomialPmf(1e17, 5, 30)).toEqual(poisson.map((p) => expect.closeTo(p, 12)));
});

test("probabilities up to k and the tail beyond k add up to 1", () => {
  const size = fc.oneof(fc.double({min: 0.1, max: 200, noNaN: true}), fc.constant(Infinity));
  fc.assert(
    fc.property(size, fc.double({min: 0, max: 80, noNaN: true}), fc.nat(120), (r, mean, k) => {
      const head = negativeBinomialPmf(r, mean, k).reduce((a, b) => a + b);
      expect(head + negativeBinomialTail(r, mean, k)[k]!).toBeCloseTo(1, 9);
    })
  );
});

test("fitNegativeBinomial does not depend on order", () => {
  const counts = [0, 5, 1, 12, 3, 0, 2, 9];
  const [fit, again] = [fitNegativeBinomial(counts)!, fitNegativeBinomial(shuffled(counts, 3))!];
  expect(again.size).toBeCloseTo(fit.size!, 9);
  expect(again.logLikelihood).toBeCloseTo(fit.logLikelihood, 9);
});

test("fitNegativeBinomial's likelihood is that of its pmf, and higher than beside it", () => {
  const counts = [0, 5, 1, 12, 3, 0, 2, 9];
  const {size, mean, logLikelihood} = fitNegativeBinomial(counts)!;
  const height = (r: number) => counts.reduce((sum, x) => sum + Math.log(negativeBinomialPmf(r, mean, 12)[x]!), 0);
  expect(height(size!)).toBeCloseTo(logLikelihood, 9);
  expect(height(1.02 * size!)).toBeLessThan(logLikelihood);
  expect(height(0.98 * size!)).toBeLessThan(logLikelihood);
});

test("fitNegativeBinomial has no size when counts scatter as chance or less: Poisson", () => {
  const even = fitNegativeBinomial([3, 4, 3, 4])!;
  expect(even.size).toBeUndefined();
  const want = [3, 4, 3, 4].reduce((sum, x) => sum + Math.log(negativeBinomialPmf(Infinity, 3.5, 4)[x]!), 0);
  expect(even.logLikelihood).toBeCloseTo(want, 10);
  expect(fitNegativeBinomial([7])).toEqual({mean: 7, logLikelihood: expect.any(Number)});
  expect(fitNegativeBinomial([0, 0])).toEqual({mean: 0, logLikelihood: 0});
  expect(fitNegativeBinomial([])).toBeUndefined();
});

test("fitSize is undefined for counts that lie as close to their means as chance", () => {
  expect(fitSize([3, 9, 30], [3, 9, 30])).toBeUndefined();
  expect(fitSize([], [])).toBeUndefined();
});

test("impossible counts, means and shapes are refused", () => {
  expect(() => fitNegativeBinomial([1.5])).toThrow("fitSize: counts must be counts, got 1.5.");
  expect(() => fitSize([1, 2], [1])).toThrow("fitSize: means must be 2 numbers, got 1.");
  expect(() => fitSize([1], [0])).toThrow("fitSize: means must be positive, got 0.");
  expect(() => negativeBinomialPmf(0, 1, 1)).toThrow("negativeBinomialPmf: size must be positive, got 0.");
  expect(() => negativeBinomialTail(1, -1, 1)).toThrow("negativeBinomialTail: mean must be 0 or more, got -1.");
  expect(() => negativeBinomialPmf(1, 1, -1)).toThrow("negativeBinomialPmf: upTo must be a count, got -1.");
});
