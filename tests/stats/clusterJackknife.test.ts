import fc from "fast-check";
import {expect, test} from "vitest";
import {clusterJackknife, fewestClusters, mostLeftOut} from "../../lib/stats/clusterJackknife.ts";
import {randomStream} from "../../lib/stats/random.ts";

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

// Of a mean of groups the variance is to be expected as s²/k of single lots (Kott 2001): over many draws the two agree.
test("clusterJackknife leaves out a hundred groups of more lots, each lot once, and the variance stays right", () => {
  const random = randomStream(11);
  const k = 260;
  const ratios = Array.from({length: 300}, () => {
    const values = Array.from({length: k}, () => random() + random());
    const left = new Array<number>(k).fill(0);
    const [got] = clusterJackknife(k, (weights, out = []) => {
      for (const i of out) left[i]!++;
      expect(weights.filter((weight) => weight === 0)).toHaveLength(out.length);
      return meanOf(values)(weights);
    });
    expect(left).toEqual(new Array<number>(k).fill(1));
    expect(got!.clusters).toBe(mostLeftOut);
    const mean = values.reduce((a, b) => a + b, 0) / k;
    const s2 = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (k - 1);
    return got!.variance / (s2 / k);
  });
  // One ratio scatters by √(2/99) = 0.14; three standard errors of the mean of 300 are 0.025.
  expect(Math.abs(ratios.reduce((a, b) => a + b, 0) / ratios.length - 1)).toBeLessThan(0.025);
});
