import {expect, test} from "vitest";
import {readRecords} from "../../lib/book/readRecords.ts";
import {files} from "../../lib/book/records.ts";
import {brief, recordsOf} from "./smallBook.ts";

const orders = (...days: string[]) => [
  "order,ordered_on,species,quantity",
  ...days.map((day, i) => `O${i},${day},ash,1`)
];

test("a day three years from every other of its column is a doubt, a day nearer is none", () => {
  const of = (...days: string[]) => recordsOf(orders(...days).join("\n"), "orders.csv").problems.map(brief);
  // 2025-05-01 less 1095 days (3 · 365) is 2022-05-02.
  expect(of("2025-05-01", "2025-05-02", "2022-05-01")).toEqual(["date-apart orders.csv B4"]);
  expect(of("2025-05-01", "2025-05-02", "2022-05-02")).toEqual([]);
  expect(of("2015-05-01", "2025-05-02")).toEqual([]);
  expect(of("2015-05-01", "2015-05-03", "2025-05-02", "2025-05-02")).toEqual([]);
});

test("a sheet whose dates a spreadsheet turned by halves is a doubt, and reads what it has", () => {
  const sheet = (...days: string[]) => {
    const rows = orders(...days).map((line, index) => ({row: index + 1, cells: line.split(",")}));
    return readRecords({file: "stock.xlsx, sheet Orders", rows, exact: true, problems: []}, files["orders.csv"]);
  };
  const halves = sheet("2025-04-03", "14/04/2025", "2025-06-05");
  expect(halves.problems.map(brief)).toEqual([
    "dates-mixed stock.xlsx, sheet Orders B3",
    "read-as stock.xlsx, sheet Orders"
  ]);
  expect(halves.records.map(({orderedOn}) => orderedOn)).toEqual(["2025-04-03", "2025-04-14", "2025-06-05"]);
  expect(sheet("13/04/2025", "14/04/2025").problems.map(brief)).toEqual(["read-as stock.xlsx, sheet Orders"]);
  expect(sheet("2025-04-13", "2025-04-14").problems).toEqual([]);
});

test("dates of two digits each that look as if the year stood first are a doubt", () => {
  const of = (...days: string[]) => recordsOf(orders(...days).join("\n"), "orders.csv").problems.map(brief);
  expect(of("25-01-14", "25-02-27", "24-11-08")).toContain("year-first orders.csv B2");
  expect(of("14-01-25", "27-02-25", "08-11-24")).toEqual(["read-as orders.csv"]);
  expect(of("25-01-24", "31-12-25")).toEqual(["read-as orders.csv"]);
  expect(of("25-01-14")).toEqual(["read-as orders.csv"]);
});
