import fc from "fast-check";
import {expect, test} from "vitest";
import {differenceInterval} from "../../lib/stats/differenceInterval.ts";

const anyEstimated = fc
  .tuple(
    fc.double({min: 0, max: 1, noNaN: true}),
    fc.double({min: 0, max: 1, noNaN: true}),
    fc.double({min: 0, max: 1, noNaN: true})
  )
  .map((three) => three.toSorted((a, b) => a - b))
  .map(([low, value, high]) => ({low: low!, value: value!, high: high!}));

test("differenceInterval holds the difference, and turned about is its mirror image", () => {
  fc.assert(
    fc.property(anyEstimated, anyEstimated, (a, b) => {
      const {low, high} = differenceInterval(a, b);
      expect(low).toBeLessThanOrEqual(a.value - b.value);
      expect(high).toBeGreaterThanOrEqual(a.value - b.value);
      const turned = differenceInterval(b, a);
      expect(turned.low).toBeCloseTo(-high, 12);
      expect(turned.high).toBeCloseTo(-low, 12);
    })
  );
});

test("differenceInterval from two sure values is a point", () => {
  const sure = (value: number) => ({value, low: value, high: value});
  expect(differenceInterval(sure(0.75), sure(0.5))).toEqual({low: 0.25, high: 0.25});
});
