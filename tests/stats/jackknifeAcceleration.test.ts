import fc from "fast-check";
import {expect, test} from "vitest";
import {deviation} from "../../lib/stats/deviation.ts";
import {jackknifeAcceleration} from "../../lib/stats/jackknifeAcceleration.ts";
import {mean} from "../../lib/stats/mean.ts";
import {shuffled, values} from "./arbitrary.ts";

// By hand: the means without one of 0, 0, 3 are 1.5, 1.5, 0; centre 1, differences −½, −½, 1: Σ³ = ¾, Σ² = 3/2.
test("jackknifeAcceleration(mean) of 0, 0, 3, worked by hand", () => {
  expect(jackknifeAcceleration([0, 0, 3], mean)).toBeCloseTo(0.75 / (6 * 1.5 ** 1.5), 12);
});

test("jackknifeAcceleration of a symmetric sample's mean and of a constant is 0", () => {
  expect(jackknifeAcceleration([1, 2, 3], mean)).toBeCloseTo(0, 12);
  expect(jackknifeAcceleration([1, 2, 3], () => 7)).toBe(0);
});

test("jackknifeAcceleration has no answer where the statistic has none", () => {
  expect(jackknifeAcceleration([1, 2], deviation)).toBeUndefined();
  expect(jackknifeAcceleration([], mean)).toBeUndefined();
});

test("jackknifeAcceleration does not depend on order, and turns with the sign of the values", () => {
  fc.assert(
    fc.property(values, fc.nat(), (own, seed) => {
      const got = jackknifeAcceleration(own, mean)!;
      if (new Set(own).size < 2) return;
      expect(jackknifeAcceleration(shuffled(own, seed), mean)).toBeCloseTo(got, 8);
      expect(
        jackknifeAcceleration(
          own.map((x) => -x),
          mean
        )
      ).toBeCloseTo(-got, 8);
    })
  );
});
