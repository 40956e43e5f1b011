import {expect, it} from "vitest";
import * as XLSX from "xlsx";
import {tablesWorkbook} from "../../../scripts/io/tablesWorkbook.ts";
import {lots} from "../../report/tables.ts";

const about = ["Yield, October 2026", "Speaks for 2026-10-31."];
const read = (tables: (typeof lots)[]) =>
  XLSX.read(tablesWorkbook(tables, {currency: "£", about}), {type: "array", cellDates: true, UTC: true});
const cells = (book: XLSX.WorkBook, name: string) =>
  XLSX.utils.sheet_to_json<unknown[]>(book.Sheets[name]!, {header: 1, UTC: true});

it("tablesWorkbook(tables) begins with what it is and what each sheet holds", () => {
  const book = read([lots]);
  expect(book.SheetNames).toEqual(["Read me", lots.id]);
  expect(cells(book, "Read me")).toEqual([
    ["Yield, October 2026"],
    ["Speaks for 2026-10-31."],
    [],
    ["Sheet", "What it holds", "Note"],
    [lots.id, lots.caption, lots.note]
  ]);
});

it("tablesWorkbook(tables) holds the cells of the CSV: numbers as numbers, days as days, text that looks like a formula as text", () => {
  const [heading, first, second] = cells(read([lots]), lots.id);
  expect(heading).toEqual(["Lot", "Bought", "Yield (%)", "Yield low (%)", "Yield high (%)", "Change", "Cost (£)"]);
  expect(first).toEqual(["A-031", new Date("2026-01-16T00:00:00Z"), 66.7, 52, 78.1, -5, 1941.5]);
  expect(second![0]).toBe("=1+2");
});

it("tablesWorkbook(tables) names sheets apart, however long and alike their tables are called", () => {
  const id = "a-very-long-name-of-a-table-that-goes-on";
  const book = read([
    {...lots, id},
    {...lots, id: `${id}-still`},
    {...lots, id: "read me"}
  ]);
  expect(book.SheetNames).toEqual([
    "Read me",
    "a-very-long-name-of-a-table-tha",
    "a-very-long-name-of-a-table--2",
    "read me-2"
  ]);
});

it("tablesWorkbook(tables) leaves a name that looks like a day a name", () => {
  const named = {...lots, rows: [{...lots.rows[0]!, lot: "2024-03-01"}]};
  expect(cells(read([named]), lots.id)[1]![0]).toBe("2024-03-01");
});

it("tablesWorkbook(tables) gives the same bytes again", () => {
  const bytes = () => Buffer.from(tablesWorkbook([lots], {currency: "£", about})).toString("hex");
  expect(bytes()).toBe(bytes());
});
