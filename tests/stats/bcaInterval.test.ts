import fc from "fast-check";
import {expect, test} from "vitest";
import {bcaInterval, biasCorrection, correctedShare} from "../../lib/stats/bcaInterval.ts";
import {percentileInterval} from "../../lib/stats/percentileInterval.ts";
import {shuffled, values} from "./arbitrary.ts";

const even = Array.from({length: 1001}, (_, i) => i / 1000);

test("bcaInterval without bias and acceleration is percentileInterval", () => {
  const [bca, plain] = [bcaInterval(even, {estimate: 0.5, acceleration: 0}), percentileInterval(even)];
  expect(bca!.low).toBeCloseTo(plain!.low, 10);
  expect(bca!.high).toBeCloseTo(plain!.high, 10);
});

// By hand: 84.1345 % below means z0 = 1, and the limits are the points Φ(2 ∓ 1.959964).
test("bcaInterval moves up when most replicates lie below the estimate", () => {
  const got = bcaInterval(even, {estimate: 0.8413447460685429, acceleration: 0})!;
  expect(got.low).toBeCloseTo(0.516, 2);
  expect(got.high).toBeCloseTo(0.99996, 3);
});

// By hand: p = ½ has z = 0, so that z₀ = 1 without acceleration moves it to Φ(2), with acceleration ½ to Φ(1 + 1/(1 −
// ½)).
test("correctedShare leaves p alone without bias and acceleration, and else moves it as worked by hand", () => {
  for (const p of [0.025, 0.5, 0.9]) expect(correctedShare(p, 0, 0)).toBeCloseTo(p, 12);
  expect(correctedShare(0.5, 1, 0)).toBeCloseTo(0.977249868, 9);
  expect(correctedShare(0.5, 1, 0.5)).toBeCloseTo(0.998650102, 9);
});

test("bcaInterval does not depend on the order of replicates, and widens with the level", () => {
  fc.assert(
    fc.property(values, fc.nat(), (own, seed) => {
      const at = (level: number, replicates: readonly number[] = own) =>
        bcaInterval(replicates, {estimate: own[0]!, acceleration: 0.05, level});
      const [narrow, wide] = [at(0.5), at(0.8)];
      expect(at(0.5, shuffled(own, seed))).toEqual(narrow);
      if (narrow === undefined) return;
      expect(wide!.low).toBeLessThanOrEqual(narrow.low);
      expect(narrow.low).toBeLessThanOrEqual(narrow.high);
      expect(narrow.high).toBeLessThanOrEqual(wide!.high);
    })
  );
});

test("biasCorrection counts replicates equal to the estimate, but for rounding, as half below", () => {
  expect(biasCorrection([1, 2, 2 + 1e-13, 3], 2)).toBeCloseTo(0, 12);
  expect(biasCorrection([1, 1, 1], 2)).toBe(Number.POSITIVE_INFINITY);
});

test("bcaInterval has no answer when all replicates lie on one side, from nothing, or with one that has none", () => {
  expect(bcaInterval([1, 2, 3], {estimate: 5, acceleration: 0})).toBeUndefined();
  expect(bcaInterval([], {estimate: 5, acceleration: 0})).toBeUndefined();
  expect(bcaInterval([1, Number.NaN, 9], {estimate: 5, acceleration: 0})).toBeUndefined();
});
