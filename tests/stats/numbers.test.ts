import {expect, test} from "vitest";
import {ascending, checkNumbers, distinct, greatest, least, sum} from "../../lib/stats/numbers.ts";
import {frozen} from "./arbitrary.ts";

test("ascending sorts numbers as numbers and leaves the list alone", () => {
  expect(ascending(frozen([10, 9, 100, -1]))).toEqual([-1, 9, 10, 100]);
});

test("distinct keeps each value once, ascending", () => {
  expect(distinct([3, 1, 3, 2, 1])).toEqual([1, 2, 3]);
});

test("sum of nothing is 0", () => {
  expect(sum([])).toBe(0);
  expect(sum([1, 2, 3.5])).toBe(6.5);
});

test("checkNumbers refuses what is not finite", () => {
  expect(() => checkNumbers([1, Number.NaN], "mean: values")).toThrow("mean: values must be finite numbers, got NaN.");
  expect(() => checkNumbers([1, Infinity], "mean: values")).toThrow(
    "mean: values must be finite numbers, got Infinity."
  );
  expect(() => checkNumbers([1, -2], "mean: values")).not.toThrow();
});

test("least and greatest of more values than a call can take, and of none", () => {
  const many = Array.from({length: 500_000}, (_, i) => (i * 7919) % 500_009);
  expect([least(many), greatest(many)]).toEqual([0, 500_008]);
  expect([least(many, -1), greatest(many, 600_000)]).toEqual([-1, 600_000]);
  expect([least([]), greatest([])]).toEqual([Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]);
});
