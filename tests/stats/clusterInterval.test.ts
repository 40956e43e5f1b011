import fc from "fast-check";
import {expect, test} from "vitest";
import {
  clusterLogInterval,
  clusterMeanInterval,
  clusterShareInterval,
  effectiveCount
} from "../../lib/stats/clusterInterval.ts";
import {wilson} from "../../lib/stats/wilson.ts";

test("clusterShareInterval without scatter between lots is Wilson's of all pieces", () => {
  for (const k of [0, 7, 20])
    expect(clusterShareInterval({estimate: k / 20, variance: 0, clusters: 5}, 20)).toEqual(wilson(k, 20));
});

// The bound: lots that happen to agree more than chance lets them do not make more of the pieces than there are.
test("clusterShareInterval and effectiveCount never count more pieces than there are", () => {
  const share = {estimate: 0.5, variance: 1e-9, clusters: 9};
  expect(effectiveCount(share, 40)).toBe(40);
  expect(clusterShareInterval(share, 40)).toEqual(wilson(20, 40));
});

// Where nothing failed the sums of an incidence come to 1 − 1e-16, and the scatter between lots to 1e-32: Wilson's for 12 of 12, n/(n + z²).
test("clusterShareInterval takes rounding for no scatter", () => {
  const {low, high} = clusterShareInterval({estimate: 1 - 1e-16, variance: 1e-31, clusters: 4}, 12);
  expect(low).toBeCloseTo(12 / (12 + 1.959964 ** 2), 6);
  expect(high).toBeCloseTo(1, 12);
});

// p = 0.5, v = 0.01: 25 effective pieces; five lots, t₄ = 2.776445 (printed table): 25 · (1.959964/2.776445)² = 12.458.
// Wilson's for p = 0.5 is 0.5 ∓ ½·√(w/(1 + w)) with w = z²/n.
test("clusterShareInterval makes less of few lots, worked from the t table", () => {
  const trials = 25 * (1.959963985 / 2.776445105) ** 2;
  const w = 1.959963985 ** 2 / trials;
  const half = 0.5 * Math.sqrt(w / (1 + w));
  const {low, high} = clusterShareInterval({estimate: 0.5, variance: 0.01, clusters: 5}, 100);
  expect(low).toBeCloseTo(0.5 - half, 7);
  expect(high).toBeCloseTo(0.5 + half, 7);
});

test("clusterLogInterval of no scatter is a point", () => {
  const {low, high} = clusterLogInterval([{estimate: Math.log(3), variance: 0, clusters: 6}]);
  expect(low).toBe(high);
  expect(low).toBeCloseTo(3, 12);
});

const anyEstimate = fc.record({
  estimate: fc.double({min: 0.01, max: 0.99, noNaN: true}),
  variance: fc.double({min: 0, max: 0.05, noNaN: true}),
  clusters: fc.integer({min: 4, max: 60})
});

test("intervals from lots hold the estimate and widen with the level; shares stay between 0 and 1", () => {
  fc.assert(
    fc.property(anyEstimate, fc.integer({min: 1, max: 900}), (value, pieces) => {
      for (const [middle, at] of [
        [value.estimate, (level: number) => clusterShareInterval(value, pieces, {level})],
        [value.estimate, (level: number) => clusterMeanInterval(value, {level})],
        [Math.exp(value.estimate), (level: number) => clusterLogInterval([value], {level})],
        [Math.exp(2 * value.estimate), (level: number) => clusterLogInterval([value, value], {level})]
      ] as const) {
        const [narrow, wide] = [at(0.8), at(0.95)];
        expect(narrow.low).toBeLessThanOrEqual(middle * (1 + 1e-9));
        expect(narrow.high).toBeGreaterThanOrEqual(middle * (1 - 1e-9));
        expect(wide.low).toBeLessThanOrEqual(narrow.low + 1e-12);
        expect(wide.high).toBeGreaterThanOrEqual(narrow.high - 1e-12);
      }
      const {low, high} = clusterShareInterval(value, pieces);
      expect(low).toBeGreaterThanOrEqual(0);
      expect(high).toBeLessThanOrEqual(1);
    })
  );
});

test("clusterShareInterval lets rounding pass, refuses what is no share, no pieces and a level of 95", () => {
  expect(clusterShareInterval({estimate: 1 + 1e-12, variance: 0, clusters: 4}, 9)).toEqual(wilson(9, 9));
  expect(() => clusterShareInterval({estimate: 1.2, variance: 0, clusters: 4}, 9)).toThrow(
    new RangeError("effectiveCount: estimate must be between 0 and 1, got 1.2.")
  );
  expect(() => clusterShareInterval({estimate: 0.2, variance: 0, clusters: 4}, 0)).toThrow(
    new RangeError("effectiveCount: pieces must be positive, got 0.")
  );
  expect(() => clusterMeanInterval({estimate: 0.2, variance: 0, clusters: 4}, {level: 95})).toThrow(RangeError);
});
