import fc from "fast-check";
import {expect, test} from "vitest";
import {jeffreys} from "../../lib/stats/jeffreys.ts";

// By hand: Beta(½, 3/2) has the distribution function (2/π)(asin √x + √(x(1 − x))); Beta(3/2, ½) is its mirror image.
test("jeffreys(0, 1), worked by hand", () => {
  const {high} = jeffreys(0, 1)!;
  expect((2 / Math.PI) * (Math.asin(Math.sqrt(high)) + Math.sqrt(high * (1 - high)))).toBeCloseTo(0.975, 9);
});

test("jeffreys(0, 0) is undefined: no data is not [0, 1]", () => {
  expect(jeffreys(0, 0)).toBeUndefined();
});

const counts = fc.integer({min: 1, max: 400}).chain((n) => fc.tuple(fc.integer({min: 0, max: n}), fc.constant(n)));

test("jeffreys holds the estimate, stays in [0, 1] and widens with the level", () => {
  fc.assert(
    fc.property(counts, ([k, n]) => {
      const [narrow, wide] = [jeffreys(k, n, {level: 0.8})!, jeffreys(k, n, {level: 0.99})!];
      expect(wide.low).toBeGreaterThanOrEqual(0);
      expect(wide.low).toBeLessThanOrEqual(narrow.low);
      expect(narrow.low).toBeLessThanOrEqual(k / n + 1e-12);
      expect(k / n - 1e-12).toBeLessThanOrEqual(narrow.high);
      expect(narrow.high).toBeLessThanOrEqual(wide.high);
      expect(wide.high).toBeLessThanOrEqual(1);
    })
  );
});

test("jeffreys of failures is the mirror image of jeffreys of successes", () => {
  fc.assert(
    fc.property(counts, ([k, n]) => {
      const [own, other] = [jeffreys(k, n)!, jeffreys(n - k, n)!];
      expect(own.low).toBeCloseTo(1 - other.high, 9);
      expect(own.high).toBeCloseTo(1 - other.low, 9);
    })
  );
});

test("jeffreys refuses more successes than trials and a level in percent", () => {
  expect(() => jeffreys(3, 2)).toThrow("jeffreys: successes must be at most trials (2), got 3.");
  expect(() => jeffreys(1, 2, {level: 95})).toThrow("jeffreys: level must be between 0 and 1, got 95.");
});
