import fc from "fast-check";
import {expect, test} from "vitest";
import {convolve} from "../../lib/stats/convolve.ts";

const pmf = fc.array(fc.integer({min: 0, max: 9}), {minLength: 1, maxLength: 8}).map((weights) => {
  const total = weights.reduce((a, b) => a + b, 0);
  return total === 0 ? [1] : weights.map((weight) => weight / total);
});

test("convolve of two coins is a quarter, a half, a quarter", () => {
  expect(convolve([0.5, 0.5], [0.5, 0.5])).toEqual([0.25, 0.5, 0.25]);
  expect(convolve([], [1])).toEqual([]);
});

test("convolve is the enumeration of all pairs, adds up to 1, and does not care which comes first", () => {
  fc.assert(
    fc.property(pmf, pmf, (a, b) => {
      const sums = convolve(a, b);
      const counted = sums.map(() => 0);
      a.forEach((p, i) => {
        b.forEach((q, j) => {
          counted[i + j]! += p * q;
        });
      });
      expect(sums).toEqual(counted.map((p) => expect.closeTo(p, 12)));
      expect(sums.reduce((x, y) => x + y)).toBeCloseTo(1, 12);
      expect(convolve(b, a)).toEqual(sums.map((p) => expect.closeTo(p, 12)));
    })
  );
});
