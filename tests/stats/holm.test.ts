import fc from "fast-check";
import {expect, test} from "vitest";
import {benjaminiHochberg} from "../../lib/stats/benjaminiHochberg.ts";
import {bonferroni, holm} from "../../lib/stats/holm.ts";
import {shuffled} from "./arbitrary.ts";

// By hand: sorted 0.01, 0.03, 0.04 times 3, 2, 1 = 0.03, 0.06, 0.04; the last takes the 0.06 before it.
test("holm and bonferroni of three, worked by hand", () => {
  expect(holm([0.01, 0.04, 0.03])).toEqual([0.03, 0.06, 0.06]);
  expect(bonferroni([0.01, 0.04, 0.5])).toEqual([0.03, 0.12, 1]);
});

test("holm and bonferroni of one, and of none, change nothing", () => {
  expect([holm([0.2]), bonferroni([0.2]), holm([]), bonferroni([])]).toEqual([[0.2], [0.2], [], []]);
});

const ps = fc.array(
  fc.integer({min: 0, max: 100}).map((hundredths) => hundredths / 100),
  {maxLength: 20}
);

test("holm lies between benjaminiHochberg and bonferroni, and follows any order", () => {
  fc.assert(
    fc.property(ps, fc.nat(), (own, seed) => {
      const [middle, lowest, highest] = [holm(own), benjaminiHochberg(own), bonferroni(own)];
      middle.forEach((p, i) => {
        expect(p).toBeGreaterThanOrEqual(lowest[i]! - 1e-12);
        expect(p).toBeLessThanOrEqual(highest[i]! + 1e-12);
        expect(p).toBeGreaterThanOrEqual(own[i]!);
      });
      const byPlace = own.map((p, i) => ({p, adjusted: middle[i]!}));
      const mixed = shuffled(byPlace, seed);
      expect(holm(mixed.map(({p}) => p))).toEqual(mixed.map(({adjusted}) => adjusted));
    })
  );
});

test("holm and bonferroni refuse a p in percent", () => {
  expect(() => holm([0.01, 4])).toThrow("holm: ps must be between 0 and 1, got 4.");
  expect(() => bonferroni([0.01, 4])).toThrow("bonferroni: ps must be between 0 and 1, got 4.");
});
