import fc from "fast-check";
import {expect, test} from "vitest";
import {clopperPearson} from "../../lib/stats/clopperPearson.ts";

// By hand: no success of n leaves high with (1 − high)^n = (1 − level)/2.
test("clopperPearson(0, 5), worked by hand", () => {
  expect(clopperPearson(0, 5)).toEqual({low: 0, high: expect.closeTo(1 - 0.025 ** (1 / 5), 10)});
  expect(clopperPearson(5, 5)).toEqual({low: expect.closeTo(0.025 ** (1 / 5), 10), high: 1});
});

test("clopperPearson(0, 0) is undefined: no data is not [0, 1]", () => {
  expect(clopperPearson(0, 0)).toBeUndefined();
});

const counts = fc.integer({min: 1, max: 400}).chain((n) => fc.tuple(fc.integer({min: 0, max: n}), fc.constant(n)));

test("clopperPearson holds the estimate, stays in [0, 1] and widens with the level", () => {
  fc.assert(
    fc.property(counts, ([k, n]) => {
      const [narrow, wide] = [clopperPearson(k, n, {level: 0.8})!, clopperPearson(k, n, {level: 0.99})!];
      expect(wide.low).toBeGreaterThanOrEqual(0);
      expect(wide.low).toBeLessThanOrEqual(narrow.low);
      expect(narrow.low).toBeLessThanOrEqual(k / n + 1e-12);
      expect(k / n - 1e-12).toBeLessThanOrEqual(narrow.high);
      expect(narrow.high).toBeLessThanOrEqual(wide.high);
      expect(wide.high).toBeLessThanOrEqual(1);
    })
  );
});

test("clopperPearson of failures is the mirror image of clopperPearson of successes", () => {
  fc.assert(
    fc.property(counts, ([k, n]) => {
      const [own, other] = [clopperPearson(k, n)!, clopperPearson(n - k, n)!];
      expect(own.low).toBeCloseTo(1 - other.high, 9);
      expect(own.high).toBeCloseTo(1 - other.low, 9);
    })
  );
});

test("clopperPearson refuses more successes than trials and a level in percent", () => {
  expect(() => clopperPearson(3, 2)).toThrow("clopperPearson: successes must be at most trials (2), got 3.");
  expect(() => clopperPearson(1, 2, {level: 95})).toThrow("clopperPearson: level must be between 0 and 1, got 95.");
});
