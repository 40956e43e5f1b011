import fc from "fast-check";
import {expect, test} from "vitest";
import {fewestClusters, lotInterval, lotIntervals} from "../../lib/stats/lotInterval.ts";
import {randomStream} from "../../lib/stats/random.ts";

const sampling = (seed = 1, resamples = 199) => ({random: randomStream(seed), resamples});
const meanOf = (values: readonly number[]) => (weights: readonly number[]) =>
  values.reduce((sum, value, i) => sum + value * weights[i]!, 0) / weights.reduce((sum, weight) => sum + weight, 0);

test("lotInterval(5, …) is undefined, lotInterval(6, …) is not", () => {
  expect(fewestClusters).toBe(6);
  expect(lotInterval(5, meanOf([1, 2, 3, 4, 5]), sampling())).toBeUndefined();
  expect(lotInterval(6, meanOf([1, 2, 3, 4, 5, 6]), sampling())).toBeDefined();
  expect(lotInterval([9, 5], () => 1, sampling())).toBeUndefined();
  expect(lotInterval(0, () => 1, sampling())).toBeUndefined();
});

test("lotInterval of a constant has no width", () => {
  expect(lotInterval(6, () => 0.7, sampling())).toEqual({low: 0.7, high: 0.7});
});

// The mean of n lots drawn again has the variance Σ(x − x̄)²/n²; 0…19: 33.25/20, SD 1.2894, so ± 1.96 SD = 9.5 ± 2.527.
// With 4999 resamples a 2.5 % quantile has a Monte Carlo SE of √(.025·.975/4999)/φ ≈ 0.038 SD = 0.05; the normal law itself
// is off by less than 0.05 for 20 lots: 0.2 allows for four SE.
test("lotInterval(20, mean of 0…19) is 9.5 ± 2.527", () => {
  const values = Array.from({length: 20}, (_, i) => i);
  const {low, high} = lotInterval(20, meanOf(values), sampling(7, 4999))!;
  expect(Math.abs(low - (9.5 - 2.527))).toBeLessThan(0.2);
  expect(Math.abs(high - (9.5 + 2.527))).toBeLessThan(0.2);
});

test("lotInterval(…, {level}) is wider for a higher level, the same for the same seed", () => {
  const values = [3, 5, 8, 1, 9, 4, 7];
  const at = (level: number) => lotInterval(7, meanOf(values), {...sampling(3), level})!;
  expect(at(0.95)).toEqual(at(0.95));
  expect(at(0.99).high - at(0.99).low).toBeGreaterThan(at(0.8).high - at(0.8).low);
});

test("lotInterval is undefined when over a tenth of the resamples give no value", () => {
  let call = 0;
  const every = (k: number) => () => (call++ % k === 0 ? undefined : 1);
  expect(lotInterval(6, every(9), sampling())).toBeUndefined();
  call = 0;
  expect(lotInterval(6, every(11), sampling())).toEqual({low: 1, high: 1});
  expect(lotInterval(6, () => Number.NaN, sampling())).toBeUndefined();
});

test("lotInterval([6, 7], …) draws each group within itself", () => {
  lotInterval(
    [6, 7],
    (weights) => {
      expect(weights.length).toBe(13);
      expect(weights.slice(0, 6).reduce((a, b) => a + b, 0)).toBe(6);
      expect(weights.slice(6).reduce((a, b) => a + b, 0)).toBe(7);
      return 1;
    },
    sampling()
  );
  expect.assertions(3 * 199);
});

test("lotIntervals gives one interval a statistic, in their order, of the same resamples", () => {
  const mean = meanOf([3, 5, 8, 1, 9, 4]);
  const [one, none, twice] = lotIntervals(6, (w) => [mean(w), undefined, 2 * mean(w)], sampling());
  expect(none).toBeUndefined();
  expect(twice).toEqual({low: 2 * one!.low, high: 2 * one!.high});
  expect(lotIntervals(3, () => [1], sampling())).toEqual([]);
});

test("lotInterval of a mean lies among the values", () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({min: -50, max: 50}), {minLength: 6, maxLength: 12}),
      fc.nat(999),
      (values, seed) => {
        const {low, high} = lotInterval(values.length, meanOf(values), sampling(seed, 49))!;
        expect(low).toBeLessThanOrEqual(high);
        expect(low).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
        expect(high).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
      }
    )
  );
});

test("lotInterval refuses 18 resamples and a level of 95", () => {
  expect(() => lotInterval(6, () => 1, sampling(1, 18))).toThrow(
    new RangeError("lotInterval: resamples must be a whole number of 19 or more, got 18.")
  );
  expect(() => lotInterval(6, () => 1, {...sampling(), level: 95})).toThrow(RangeError);
});
