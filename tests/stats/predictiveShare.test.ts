import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import fc from "fast-check";
import {expect, test} from "vitest";
import {predictiveShare} from "../../lib/stats/predictiveShare.ts";

// By hand: two values have one degree of freedom, T(x) = 1/2 + arctan(x)/π; at ±√1.5 deviations that is ±1: a half.
test("predictiveShare of two pieces, worked by hand", () => {
  const reach = Math.sqrt(1.5);
  expect(
    predictiveShare({n: 2, mean: 700, deviation: 10}, {low: 700 - 10 * reach, high: 700 + 10 * reach})
  ).toBeCloseTo(0.5, 12);
});

const window = fc.tuple(fc.integer({min: -40, max: 40}), fc.integer({min: -40, max: 40})).map(([a, b]) => ({
  low: 700 + Math.min(a, b),
  high: 700 + Math.max(a, b)
}));

test("predictiveShare adds up to 1 over below, inside and above, and grows with the window", () => {
  fc.assert(
    fc.property(window, fc.integer({min: 2, max: 60}), fc.integer({min: 1, max: 30}), (inside, n, deviation) => {
      const sample = {n, mean: 705, deviation};
      const [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
      const parts = [{low, high: inside.low}, inside, {low: inside.high, high}].map((part) =>
        predictiveShare(sample, part)
      );
      expect(parts[0]! + parts[1]! + parts[2]!).toBeCloseTo(1, 12);
      const wider = predictiveShare(sample, {low: inside.low - 1, high: inside.high + 1});
      expect(wider).toBeGreaterThanOrEqual(parts[1]!);
    })
  );
});

test("predictiveShare is smaller the fewer were measured, around the mean", () => {
  const shares = [2, 5, 20, 200].map((n) => predictiveShare({n, mean: 705, deviation: 15}, {low: 690, high: 720}));
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(shares[0]).toBeLessThan(0.5);
});

test("predictiveShare of very many pieces is the share under the bell curve", () => {
  const want = normalCdf(1, 0, 1) - normalCdf(-2, 0, 1);
  expect(predictiveShare({n: 4_000_000, mean: 0, deviation: 1}, {low: -2, high: 1})).toBeCloseTo(want, 6);
});

test("predictiveShare refuses one piece, no spread and a window upside down", () => {
  const sample = {n: 9, mean: 700, deviation: 20};
  const inside = {low: 680, high: 720};
  expect(() => predictiveShare({...sample, n: 1}, inside)).toThrow(
    "predictiveShare: n must be a count of 2 or more, got 1."
  );
  expect(() => predictiveShare({...sample, deviation: 0}, inside)).toThrow(
    "predictiveShare: deviation must be positive, got 0."
  );
  expect(() => predictiveShare(sample, {low: 720, high: 680})).toThrow(
    "predictiveShare: low must be at most high (680), got 720."
  );
  expect(() => predictiveShare({...sample, mean: Number.NaN}, inside)).toThrow(
    "predictiveShare: mean must be finite, got NaN."
  );
});
