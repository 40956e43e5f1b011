import fc from "fast-check";
import {expect, test} from "vitest";
import {chiSquareTest} from "../../lib/stats/chiSquareTest.ts";
import {shuffled} from "./arbitrary.ts";

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

test("chiSquareTest does not depend on the order of rows, nor on which way the table lies", () => {
  const row = fc.array(fc.integer({min: 0, max: 20}), {minLength: 3, maxLength: 3});
  fc.assert(
    fc.property(fc.array(row, {minLength: 2, maxLength: 5}), fc.nat(), (table, seed) => {
      const got = chiSquareTest(table);
      const across = [0, 1, 2].map((j) => table.map((cells) => cells[j]!));
      for (const other of [chiSquareTest(shuffled(table, seed)), chiSquareTest(across)]) {
        expect(other?.df).toBe(got?.df);
        if (got) expect(other!.chiSquare).toBeCloseTo(got.chiSquare, 9);
      }
    })
  );
});
