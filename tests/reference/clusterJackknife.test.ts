import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import {expect, test} from "vitest";
import {clusterLogInterval, clusterMeanInterval, effectiveCount} from "../../lib/stats/clusterInterval.ts";
import {clusterJackknife} from "../../lib/stats/clusterJackknife.ts";

// R only (R 4.2.2, package survey 4.1-1). Seven lots of unlike size; the data are made up.
// d <- svydesign(ids = ~lot, weights = ~1, data = …); j <- as.svrepdesign(d, type = "JK1", mse = TRUE)
const lots = [
  {pass: [1, 1, 0, 1, 1], x: [688, 702, 695, 671, 710]},
  {pass: [1, 1, 1, 1, 0, 1, 1, 1], x: [655, 660, 649, 671, 668, 650, 662, 657]},
  {pass: [1, 0, 0, 1], x: [720, 731, 712, 725]},
  {pass: [1, 1, 1, 1, 1, 1], x: [690, 684, 699, 701, 688, 692]},
  {pass: [0, 1, 1, 0, 1, 1, 1], x: [640, 655, 661, 650, 648, 659, 644]},
  {pass: [1, 1, 1, 0, 1], x: [705, 698, 711, 700, 694]},
  {pass: [1, 0, 1, 0, 0, 1, 1, 1, 0], x: [676, 680, 672, 691, 688, 679, 670, 685, 683]}
];
const total = (values: (lot: (typeof lots)[number]) => number[], weights: readonly number[]) =>
  lots.reduce((sum, lot, i) => sum + weights[i]! * values(lot).reduce((a, b) => a + b, 0), 0);
const count = (weights: readonly number[]) => total(({x}) => x.map(() => 1), weights);

const [share, mean, ratio, logRatio] = clusterJackknife(lots.length, (weights) => {
  const [passed, sum] = [total(({pass}) => pass, weights), total(({x}) => x, weights)];
  return [passed / count(weights), sum / count(weights), sum / passed, Math.log(sum / passed)];
});

test.each([
  ["svymean(~pass, j)", share!, 0.75, 0.00478509704552949],
  ["svymean(~x, j)", mean!, 681.113636363636, 73.5349661183847],
  ["svyratio(~x, ~pass, j)", ratio!, 908.151515151515, 7273.70544684362],
  ["withReplicates(j, log of that ratio)", logRatio!, 6.81141123158751, 0.00888727024303761]
])("clusterJackknife gives estimate and variance of R's %s", (_call, got, estimate, variance) => {
  expect(Math.abs(got.estimate / estimate - 1)).toBeLessThan(1e-12);
  expect(Math.abs(got.variance / variance - 1)).toBeLessThan(1e-10);
  expect(got.clusters).toBe(7);
});

// confint(svymean(~x, j), df = 6)
test("clusterMeanInterval gives R's confint on 6 degrees of freedom", () => {
  const {low, high} = clusterMeanInterval(mean!);
  expect(low).toBeCloseTo(660.130747871133, 8);
  expect(high).toBeCloseTo(702.09652485614, 8);
});

// coef(m) * (1 - coef(m)) / vcov(m) is 39.184158276408, and n* <- that * (qnorm(.975) / qt(.975, 6))^2 is 25.1402768149314;
// svyciprop(~pass, j, method = "beta", df = 6) has Clopper and Pearson's limits at that number times (t₄₃/z)², after Korn and Graubard.
test("effectiveCount is the number behind R's svyciprop", () => {
  const effective = effectiveCount(share!, 44);
  expect(effective).toBeCloseTo(25.1402768149314, 8);
  const trials = effective * (tQuantile(0.975, 43) / 1.959963984540054) ** 2;
  expect(betaQuantile(0.025, 0.75 * trials, 0.25 * trials + 1)).toBeCloseTo(0.545415848401576, 8);
  expect(betaQuantile(0.975, 0.75 * trials + 1, 0.25 * trials)).toBeCloseTo(0.896077965344371, 8);
});

// t.test(rowMeans(y))$conf.int; var(rowMeans(y)) / 5 is 1.185
test("clusterMeanInterval of five like lots is R's t.test of their means", () => {
  const means = [4.5, 7.5, 2, 5, 8];
  const [got] = clusterJackknife(5, (weights) => [
    means.reduce((sum, x, i) => sum + x * weights[i]!, 0) / weights.reduce((a, b) => a + b, 0)
  ]);
  expect(got!.variance).toBeCloseTo(1.185, 12);
  const {low, high} = clusterMeanInterval(got!);
  expect(low).toBeCloseTo(2.37762556997325, 9);
  expect(high).toBeCloseTo(8.42237443002674, 9);
});

// t.test(a, b) with a <- c(2.1,2.6,1.9,2.8,2.4,2.2), b <- c(3.1,3.9,2.7,4.4): Welch's interval of the difference, 3.762982 degrees of freedom.
test("clusterLogInterval of two groups is R's Welch t.test on the log scale", () => {
  const ofMean = (values: readonly number[], sign: number) => {
    const center = values.reduce((a, b) => a + b, 0) / values.length;
    const squares = values.reduce((sum, x) => sum + (x - center) ** 2, 0);
    return {
      estimate: sign * center,
      variance: squares / (values.length - 1) / values.length,
      clusters: values.length
    };
  };
  const {low, high} = clusterLogInterval([ofMean([2.1, 2.6, 1.9, 2.8, 2.4, 2.2], 1), ofMean([3.1, 3.9, 2.7, 4.4], -1)]);
  expect(Math.log(low)).toBeCloseTo(-2.35061590545068, 6);
  expect(Math.log(high)).toBeCloseTo(-0.0327174278826583, 6);
});
