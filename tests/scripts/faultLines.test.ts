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
  expect(faultLines([fault(14), fault(2), missing, fault(9)]).lines).toEqual([
    "blocking orders.csv: must be there. Add it.",
    "refused  squares.csv row 2 (F2): mass_g must be a number, got “16o3”. Type 1603.",
    "         and 2 more like this: F9 (“16o3”), F14 (“16o3”)"
  ]);
});

test("faultLines never tells one fault the mend of another", () => {
  const mended = [1, 2, 3, 4, 5, 6].map((i) => ({...fault(i), value: `${i}o`, mend: `Type ${i}0.`}));
  const told = mended.map(
    ({row}) => `refused  squares.csv row ${row} (F${row}): mass_g must be a number, got “${row}o”. Type ${row}0.`
  );
  expect(faultLines(mended)).toEqual({
    lines: [...told.slice(0, 4), "         and 2 more of this kind: F5 (“5o”), F6 (“6o”)"],
    isWhole: false
  });
  expect(faultLines(mended.slice(0, 5))).toEqual({lines: told.slice(0, 5), isWhole: true});
});

test("faultLines shows a cell's control characters as what they are not", () => {
  const [, others] = faultLines([fault(2), {...fault(3), value: "\u001b[2J"}]).lines;
  expect(others).toBe("         and 1 more like this: F3 (“\ufffd[2J”)");
});

test("faultLines names eight places more, and counts the rest", () => {
  const many = Array.from({length: 12}, (_, index) => fault(index + 2));
  expect(faultLines(many).isWhole).toBe(false);
  expect(faultLines(many.slice(0, 9)).isWhole).toBe(true);
  expect(faultLines(many).lines[1]).toBe(
    `         and 11 more like this: ${[3, 4, 5, 6, 7, 8, 9, 10].map((row) => `F${row} (“16o3”)`).join(", ")}, …`
  );
});

test("counted says one or many", () => {
  expect([counted(0, "row"), counted(1, "row"), counted(2, "row")]).toEqual(["0 rows", "1 row", "2 rows"]);
});
