import {expect, test} from "vitest";
import {parseBook} from "../../lib/book/parseBook.ts";
import {leftOut} from "../../scripts/leftOut.ts";
import {reportNames} from "../../scripts/pages/reportNames.ts";
import {type Lines, settingsOf, smallest, texts} from "../book/smallBook.ts";

const linesOf = (lines: Lines) =>
  Object.fromEntries(leftOut(parseBook(texts(lines), settingsOf())).map(({report, lines: left}) => [report, left]));

const moved = ["2025-03-15,A1,turned,rough-round,1100", "2025-03-16,A1,weighed,,1090"];

test("leftOut says for each report what it would leave out", () => {
  const left = linesOf({squares: [...smallest.squares, "A3,A,1500,40,40,16o3,12"], events: moved});
  expect(left.monthly).toEqual([
    "1 of 3 rows of squares.csv",
    "how dry the air of the store is: climate.csv has no readings"
  ]);
  expect(left.seasoning).toEqual([
    "1 of 3 rows of squares.csv",
    "how near rests end to the store's moisture, and how fast pieces dry: climate.csv has no readings, and the settings no store.moisturePct"
  ]);
  expect(left.suppliers).toEqual(["1 of 3 rows of squares.csv", "the carriage of 1 lot that gives none"]);
  expect(left.season).toEqual([
    "1 of 3 rows of squares.csv",
    "the carriage of 1 lot that gives none",
    "which orders are filled: no event says allotted or delivered, so every order counts as open",
    "the price of 1 order that gives none: the median of the others, else money.shaftPrice, stands for it"
  ]);
});

test("leftOut counts a fault of orders against the report that reads orders, and no other", () => {
  const left = linesOf({orders: ["O1,2025-02-31,ash,1"], events: moved});
  expect(left.season).toContain("1 of 1 row of orders.csv");
  expect(left.season).toContain("demand: orders.csv has no orders");
  expect(JSON.stringify([left.monthly, left.suppliers])).not.toContain("orders.csv");
});

test("leftOut of a book that cannot be used is every report", () => {
  expect(Object.values(linesOf({lots: []}))).toEqual(
    Array.from({length: Object.keys(reportNames).length}, () => ["the whole report: the book cannot be used as it is"])
  );
});
