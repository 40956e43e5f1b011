import fc from "fast-check";
import {expect, test} from "vitest";
import {restrictedMean} from "../../lib/stats/restrictedMean.ts";
import {shuffled, spells} from "./arbitrary.ts";

test("restrictedMean of two pieces, worked by hand", () => {
  // S is 1 to 2, 1/2 to 6: area up to 5 is 2 + 3/2; the part after 2 is 3/2, and d/(n(n − d)) = 1/2.
  const got = restrictedMean(
    [
      {exit: 2, cause: "warp"},
      {exit: 6, cause: "warp"}
    ],
    5
  )!;
  expect(got.mean).toBeCloseTo(3.5, 12);
  expect(got.se).toBeCloseTo(1.5 * Math.sqrt(1 / 2), 12);
});

test("restrictedMean without censoring is the mean of min(time, horizon)", () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({min: 0, max: 20}), {minLength: 1, maxLength: 30}),
      fc.integer({min: 1, max: 25}),
      (exits, horizon) => {
        const got = restrictedMean(
          exits.map((exit) => ({exit, cause: "any"})),
          horizon
        )!;
        const plain = exits.reduce((sum, exit) => sum + Math.min(exit, horizon), 0) / exits.length;
        expect(got.mean).toBeCloseTo(plain, 9);
      }
    )
  );
});

test("restrictedMean is undefined beyond what was seen, and without an event is the horizon", () => {
  expect(restrictedMean([{exit: 2, cause: "warp"}, {exit: 6}], 7)).toBeUndefined();
  expect(restrictedMean([], 1)).toBeUndefined();
  expect(restrictedMean([{exit: 6}], 5)).toEqual({mean: 5, se: 0});
});

test("restrictedMean refuses a horizon of 0", () => {
  expect(() => restrictedMean([], 0)).toThrow("restrictedMean: horizon must be positive, got 0.");
});

test("restrictedMean does not depend on the order of spells", () => {
  fc.assert(
    fc.property(spells, fc.nat(), (own, seed) => {
      expect(restrictedMean(shuffled(own, seed), 4)).toEqual(restrictedMean(own, 4));
    })
  );
});
