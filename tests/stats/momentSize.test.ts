import fc from "fast-check";
import {expect, test} from "vitest";
import {momentSize} from "../../lib/stats/momentSize.ts";

// By hand: two counts 0 and 20 around 10, one degree of freedom: 200/(10 + 100/r) = 1 gives r = 100/190.
test("momentSize([0, 20], [10, 10], 1) is 100/190", () => {
  expect(momentSize([0, 20], [10, 10], 1)).toBeCloseTo(100 / 190, 8);
});

test("momentSize of counts that scatter no more than chance is undefined: Poisson", () => {
  expect(momentSize([9, 10, 11], [10, 10, 10], 2)).toBeUndefined();
});

test("momentSize: at the size given Pearson's sum is the degrees of freedom; order does not matter", () => {
  const counts = fc.array(fc.integer({min: 0, max: 60}), {minLength: 3, maxLength: 20});
  fc.assert(
    fc.property(counts, (x) => {
      const mean = Math.max(1, x.reduce((a, b) => a + b, 0) / x.length);
      const means = x.map(() => mean);
      const size = momentSize(x, means, x.length - 1);
      if (size === undefined) return;
      const pearson = x.reduce((sum, count) => sum + (count - mean) ** 2 / (mean + mean ** 2 / size), 0);
      expect(pearson).toBeCloseTo(x.length - 1, 6);
      expect(momentSize(x.toReversed(), means, x.length - 1)).toBeCloseTo(size, 6);
    })
  );
});

test("momentSize refuses a mean of 0, unlike lengths and no degrees of freedom", () => {
  expect(() => momentSize([1, 2], [1, 0], 1)).toThrow(new RangeError("momentSize: means must be positive, got 0."));
  expect(() => momentSize([1, 2], [1], 1)).toThrow(new RangeError("momentSize: means must be 2 numbers, got 1."));
  expect(() => momentSize([1, 2], [1, 2], 0)).toThrow(RangeError);
});
