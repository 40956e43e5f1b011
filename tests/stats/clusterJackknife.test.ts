import fc from "fast-check";
import {expect, test} from "vitest";
import {clusterJackknife, fewestClusters} from "../../lib/stats/clusterJackknife.ts";

const meanOf = (values: readonly number[]) => (weights: readonly number[]) => [
  values.reduce((sum, value, i) => sum + value * weights[i]!, 0) / weights.reduce((sum, weight) => sum + weight, 0)
];

test("clusterJackknife gives nothing for three lots, an estimate for four", () => {
  expect(fewestClusters).toBe(4);
  expect(clusterJackknife(3, meanOf([1, 2, 3]))).toEqual([]);
  expect(clusterJackknife(0, () => [1])).toEqual([]);
  expect(clusterJackknife(4, meanOf([1, 2, 3, 4]))[0]).toMatchObject({estimate: 2.5, clusters: 4});
});

test("clusterJackknife of a constant has no variance", () => {
  expect(clusterJackknife(6, () => [0.7])).toEqual([{estimate: 0.7, variance: 0, clusters: 6}]);
});

test("clusterJackknife is undefined for a statistic without value, with all lots or without one", () => {
  const [never, notWithoutThird, always] = clusterJackknife(5, (weights) => [
    undefined,
    weights[2] === 0 ? undefined : 1,
    2
  ]);
  expect([never, notWithoutThird]).toEqual([undefined, undefined]);
  expect(always!.estimate).toBe(2);
});

// Shao & Tu (1995), §1.1: of a mean the jackknife variance is exactly s²/k.
test("clusterJackknife of a mean is s²/k, whatever the order", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({min: -50, max: 50}), {minLength: 4, maxLength: 12}), (values) => {
      const k = values.length;
      const mean = values.reduce((a, b) => a + b, 0) / k;
      const s2 = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (k - 1);
      const [got] = clusterJackknife(k, meanOf(values));
      expect(got!.variance).toBeCloseTo(s2 / k, 8);
      expect(clusterJackknife(k, meanOf(values.toReversed()))[0]!.variance).toBeCloseTo(got!.variance, 8);
    })
  );
});
