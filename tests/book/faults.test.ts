import {expect, test} from "vitest";
import {Faults, type Sources} from "../../lib/book/faults.ts";
import type {Problem} from "../../lib/book/problem.ts";

const sources: Sources = {
  "orders.csv": {
    file: "stock.xlsx, sheet Orders",
    headings: ["Order no", "Length"],
    columns: {order: 0, length_mm: 1},
    rows: [
      {row: 5, cells: ["O1", "1470"]},
      {row: 7, cells: [" O2 ", "147"]}
    ],
    notData: []
  }
};

function faults(problems: Problem[] = []) {
  return {faults: new Faults(sources, problems), problems};
}

test("add(file, row, heading, said) names the cell as the owner knows it, with what stands in it", () => {
  const {faults: some, problems} = faults();
  expect(some.add("orders.csv", 7, "length_mm", {code: "unit-jump", wanted: "in mm", mend: "Write mm."})).toBe(true);
  expect(problems).toEqual([
    {
      code: "unit-jump",
      severity: "refused",
      file: "stock.xlsx, sheet Orders",
      row: 7,
      column: "B",
      cell: "B7",
      heading: "Length",
      value: "147",
      wanted: "in mm",
      mend: "Write mm."
    }
  ]);
});

test("add names our heading, and no cell, where the file has no such column", () => {
  const {faults: some, problems} = faults();
  some.add("orders.csv", 5, "wanted_by", {
    code: "before-order",
    severity: "doubt",
    wanted: "later",
    mend: "Correct it."
  });
  expect(problems).toEqual([
    {
      code: "before-order",
      severity: "doubt",
      file: "stock.xlsx, sheet Orders",
      row: 5,
      heading: "wanted_by",
      wanted: "later",
      mend: "Correct it."
    }
  ]);
});

test("refusedRow(file, heading) finds the row of a number that was refused, and of no other", () => {
  const refused: Problem = {
    code: "cell-unreadable",
    severity: "refused",
    file: "stock.xlsx, sheet Orders",
    row: 7,
    wanted: "",
    mend: ""
  };
  const rowOf = faults([refused, {...refused, row: 5, severity: "doubt"}]).faults.refusedRow("orders.csv", "order");
  expect([rowOf("O2"), rowOf("O1"), rowOf("O3")]).toEqual([7, undefined, undefined]);
  expect(faults([refused]).faults.refusedRow("lots.csv", "lot")("O2")).toBeUndefined();
});

test("future says whether a day lies after today, and adds the fault if it does", () => {
  const {faults: some, problems} = faults();
  const is = (day: string, today?: string) => some.future("orders.csv", {row: 5}, day, "order", today);
  expect([is("2026-02-02", "2026-02-01"), is("2026-02-01", "2026-02-01"), is("2026-02-02")]).toEqual([
    true,
    false,
    false
  ]);
  expect(problems.map(({code, row}) => [code, row])).toEqual([["date-future", 5]]);
});

test("jump stands in the column of its key; name is the file as the owner knows it", () => {
  const {faults: some, problems} = faults();
  some.jump("orders.csv", 7, {key: "lengthMm", wanted: "in mm", mend: "Write mm."});
  expect(problems).toMatchObject([{code: "unit-jump", cell: "B7"}]);
  expect([some.name("orders.csv"), some.name("lots.csv")]).toEqual(["stock.xlsx, sheet Orders", "lots.csv"]);
});
