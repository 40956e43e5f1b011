import {expect, test} from "vitest";
import {bySquare} from "../../lib/book/eventColumns.ts";

// That the events found are those of `soundEvents` is held in columnCounts.test.ts.
test("bySquare: the rows of each square in the order of the file, those of none left out", () => {
  const {starts, order} = bySquare(Int32Array.of(1, -1, 0, 1, 3, 0));
  expect([...starts]).toEqual([0, 2, 4, 4, 5]);
  expect([...order]).toEqual([2, 5, 0, 3, 4]);
});

test("bySquare of some rows only, and of none", () => {
  const {starts, order} = bySquare(Int32Array.of(1, 0, 0, 1), Int32Array.of(3, 1));
  expect([...starts]).toEqual([0, 1, 2]);
  expect([...order]).toEqual([1, 3]);
  expect([...bySquare(new Int32Array(0)).order]).toEqual([]);
});
