import fc from "fast-check";
import {expect, test} from "vitest";
import {wilson} from "../../lib/stats/wilson.ts";

// By hand, z = 2 at level Φ(2) − Φ(−2) = 0.9544997361036416: 1 of 2 has p = 1/2, w = 2, so (1/2 + 1 ∓ 2·√((1/4 +
// 1/2)/2))/3.
test("wilson(1, 2) with z = 2, worked by hand", () => {
  const got = wilson(1, 2, {level: 0.9544997361036416})!;
  expect(got.low).toBeCloseTo((1.5 - Math.sqrt(1.5)) / 3, 10);
  expect(got.high).toBeCloseTo((1.5 + Math.sqrt(1.5)) / 3, 10);
});

test("wilson(0, 0) is undefined: no data is not [0, 1]", () => {
  expect(wilson(0, 0)).toBeUndefined();
});

const counts = fc.integer({min: 1, max: 400}).chain((n) => fc.tuple(fc.integer({min: 0, max: n}), fc.constant(n)));

test("wilson holds the estimate, stays in [0, 1] and widens with the level", () => {
  fc.assert(
    fc.property(counts, ([k, n]) => {
      const [narrow, wide] = [wilson(k, n, {level: 0.8})!, wilson(k, n, {level: 0.99})!];
      expect(wide.low).toBeGreaterThanOrEqual(0);
      expect(wide.low).toBeLessThanOrEqual(narrow.low);
      expect(narrow.low).toBeLessThanOrEqual(k / n + 1e-12);
      expect(k / n - 1e-12).toBeLessThanOrEqual(narrow.high);
      expect(narrow.high).toBeLessThanOrEqual(wide.high);
      expect(wide.high).toBeLessThanOrEqual(1);
    })
  );
});

test("wilson of failures is the mirror image of wilson of successes", () => {
  fc.assert(
    fc.property(counts, ([k, n]) => {
      const [own, other] = [wilson(k, n)!, wilson(n - k, n)!];
      expect(own.low).toBeCloseTo(1 - other.high, 9);
      expect(own.high).toBeCloseTo(1 - other.low, 9);
    })
  );
});

test("wilson refuses more successes than trials and a level in percent", () => {
  expect(() => wilson(3, 2)).toThrow("wilson: successes must be at most trials (2), got 3.");
  expect(() => wilson(1, 2, {level: 95})).toThrow("wilson: level must be between 0 and 1, got 95.");
});
