import {readdirSync, readFileSync} from "node:fs";
import {expect, test} from "vitest";
import {sampleBook} from "../../../scripts/sample/book.ts";
import {csvRows, truth} from "./csvRows.ts";

const book = sampleBook();

test("sampleBook() twice gives the same bytes", () => {
  expect([...sampleBook()]).toEqual([...book]);
});

test("sample-data holds what sampleBook() writes, its descriptions in open standards, and the picture for the README", () => {
  expect(readdirSync("sample-data").sort()).toEqual(
    [...book.keys(), "book.schema.json", "datapackage.json", "monthly-report.png", "workshop.schema.json"].sort()
  );
  for (const [name, text] of book) expect(readFileSync(`sample-data/${name}`, "utf8") === text, name).toBe(true);
});

test("the whole book is below 3 MB, and events.csv has 15 to 20 thousand rows", () => {
  const bytes = [...book.values()].reduce((sum, text) => sum + Buffer.byteLength(text), 0);
  expect(bytes).toBeLessThan(3e6);
  expect(csvRows("events.csv").length).toBeGreaterThan(15_000);
  expect(csvRows("events.csv").length).toBeLessThan(20_000);
});

test("about 2500 squares in about 75 lots of 20 to 50, of one supplier, species and day each", () => {
  const lots = csvRows("lots.csv");
  expect(lots.length).toBeGreaterThanOrEqual(70);
  expect(lots.length).toBeLessThanOrEqual(80);
  const bought = lots.map(({squares_bought}) => Number(squares_bought));
  expect(Math.min(...bought)).toBeGreaterThanOrEqual(20);
  expect(Math.max(...bought)).toBeLessThanOrEqual(50);
  expect(new Set(lots.map(({supplier}) => supplier)).size).toBeGreaterThanOrEqual(6);
  const listed = csvRows("squares.csv").length;
  expect(Math.abs(listed - 2500)).toBeLessThan(60);
  expect(new Set(lots.map((row) => `${row.supplier} ${row.species} ${row.bought_on}`)).size).toBe(lots.length);
});

test("nothing is dated before the first purchase or after the last day of the book", () => {
  const typo = truth.faults.find(({heading}: {heading: string}) => heading === "date");
  const dates = csvRows("events.csv").map(({date}) => date!);
  dates.splice(typo.row - 2, 1);
  const ordered = csvRows("orders.csv").map((row) => row.ordered_on!);
  const all = [...dates, ...ordered, ...csvRows("lots.csv").map((row) => row.bought_on!)].sort();
  expect(all[0]! >= truth.firstDay).toBe(true);
  expect(all.at(-1)).toBe(truth.asOf);
});

test("every deliberate fault stands where truth.json and README.md say", () => {
  expect(truth.faults.length).toBeGreaterThanOrEqual(6);
  expect(truth.faults.length).toBeLessThanOrEqual(10);
  const readme = readFileSync("sample-data/README.md", "utf8");
  for (const {file, row, heading, found} of truth.faults) {
    expect(csvRows(file)[row - 2]?.[heading], `${file} ${row} ${heading}`).toBe(found);
    expect(readme).toContain(`| ${file} | ${row} | ${heading} |`);
  }
});

test("README.md describes every column", () => {
  const readme = readFileSync("sample-data/README.md", "utf8");
  for (const file of ["lots.csv", "squares.csv", "events.csv", "orders.csv", "climate.csv", "advice.csv"])
    for (const heading of Object.keys(csvRows(file)[0]!)) expect(readme).toContain(`| ${heading} |`);
});
