import {expect, test} from "vitest";
import {chiSquareTest} from "../../lib/stats/chiSquareTest.ts";

// By hand: expected 5 in each cell, differences 1: χ² = 4/5.
test("chiSquareTest([[6, 4], [4, 6]]), worked by hand", () => {
  const got = chiSquareTest([
    [6, 4],
    [4, 6]
  ])!;
  expect(got.chiSquare).toBeCloseTo(0.8, 12);
  expect([got.df, got.smallestExpected]).toEqual([1, 5]);
  expect(got.p).toBeCloseTo(0.3711, 4); // Published (memory): the χ² table
});

test("chiSquareTest leaves out rows and columns without counts", () => {
  const got = chiSquareTest([
    [6, 0, 4],
    [4, 0, 6],
    [0, 0, 0]
  ])!;
  expect(got.chiSquare).toBeCloseTo(0.8, 12);
  expect(got.df).toBe(1);
});

test("chiSquareTest has nothing to compare below two rows or columns with counts", () => {
  expect(chiSquareTest([])).toBeUndefined();
  expect(chiSquareTest([[3, 4]])).toBeUndefined();
  expect(
    chiSquareTest([
      [3, 0],
      [5, 0]
    ])
  ).toBeUndefined();
});

test("chiSquareTest refuses uneven rows", () => {
  expect(() => chiSquareTest([[1, 2], [3]])).toThrow("chiSquareTest: table must be rows of 2, got 1.");
});
