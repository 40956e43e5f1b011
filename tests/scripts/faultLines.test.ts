import {expect, test} from "vitest";
import type {Problem} from "../../lib/book/problem.ts";
import {counted, faultLines} from "../../scripts/faultLines.ts";

const fault = (row: number): Problem => ({
  code: "cell-unreadable",
  severity: "refused",
  file: "squares.csv",
  row,
  cell: `F${row}`,
  heading: "mass_g",
  value: "16o3",
  wanted: "a number",
  mend: "Type 1603."
});

test("faultLines says the same fault once, with the places of the others, and what stops everything first", () => {
  const missing: Problem = {
    code: "file-missing",
    severity: "blocking",
    file: "orders.csv",
    wanted: "there",
    mend: "Add it."
  };
  expect(faultLines([fault(14), fault(2), missing, fault(9)])).toEqual([
    "blocking orders.csv: must be there. Add it.",
    "refused  squares.csv row 2 (F2): mass_g must be a number, got “16o3”. Type 1603.",
    "         and 2 more like this: F9, F14"
  ]);
});

test("faultLines names eight places more, and counts the rest", () => {
  const many = Array.from({length: 12}, (_, index) => fault(index + 2));
  expect(faultLines(many)[1]).toBe("         and 11 more like this: F3, F4, F5, F6, F7, F8, F9, F10, …");
});

test("counted says one or many", () => {
  expect([counted(0, "row"), counted(1, "row"), counted(2, "row")]).toEqual(["0 rows", "1 row", "2 rows"]);
});
