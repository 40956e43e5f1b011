import {expect, test} from "vitest";
import {countQuantile} from "../../lib/stats/countQuantile.ts";

test("countQuantile is the smallest count that reaches p, exactly reached included", () => {
  const pmf = [0.1, 0.2, 0.3, 0.4];
  expect([0, 0.1, 0.11, 0.3, 0.6, 0.61, 1].map((p) => countQuantile(pmf, p))).toEqual([0, 0, 1, 1, 2, 3, 3]);
});

test("countQuantile forgives rounding: 0.1 + 0.2 is above 0.3, ten tenths are below 1", () => {
  expect(countQuantile(new Array<number>(10).fill(0.1), 1)).toBe(9);
});

test("countQuantile is undefined when the list ends too early", () => {
  expect(countQuantile([0.5, 0.4], 0.95)).toBeUndefined();
});

test("countQuantile refuses percents", () => {
  expect(() => countQuantile([1], 90)).toThrow("countQuantile: p must be between 0 and 1, got 90.");
});
