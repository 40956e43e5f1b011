import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {supplierFile} from "../../../scripts/pages/supplierPage.ts";
import {suppliersReport} from "../../../scripts/pages/suppliers.ts";
import {texts} from "../../book/smallBook.ts";
import {folderOf} from "../run.ts";

const beside = {notebooks: [], keptBefore: () => undefined};
const reportOf = (folder: string) => {
  const found = readBook(folder);
  return suppliersReport(bookAsOf({...found, book: found.book!}), beside);
};
const report = reportOf("sample-data");
const {document} = new JSDOM(report.html).window;
const rows = (id: string) =>
  [...document.querySelectorAll(`#${id} tbody tr`)].map((row) => [...row.children].map((cell) => cell.textContent!));

it("suppliersReport(sample book) says in its headings what the data can tell", () => {
  const headings = [...document.querySelectorAll("main > section > h2")].map((node) => node.textContent!);
  expect(headings.slice(1, 7)).toEqual([
    "Density: Haskerdene Mill is tightest",
    "Window: Haskerdene Mill has most inside",
    "Discards: Tolverby Saws may have got worse",
    "Cost: the data cannot tell the suppliers apart",
    "What a square will weigh",
    "A page for each supplier, to take along"
  ]);
});

it("suppliersReport(sample book) ranks suppliers by the chance to be cheapest, which add up to 100 % a species", () => {
  for (const species of ["ash", "maple"]) {
    const own = rows("cost-rank").filter(([name]) => name === species);
    const chances = own.map((row) => Number(row[3]));
    expect(chances).toEqual(chances.toSorted((a, b) => b - a));
    expect(chances.reduce((a, b) => a + b, 0)).toBeCloseTo(100, 0);
  }
});

it("suppliersReport(sample book): shares of the spread add up to 100 %", () => {
  for (const row of rows("spread-split"))
    expect(row.slice(2).reduce((sum, text) => sum + Number(text), 0)).toBeCloseTo(100, 0);
});

it("suppliersReport(sample book) gives every pair its chance, and a verdict by it", () => {
  const pairs = rows("spread-pairs");
  expect(pairs).toHaveLength(15 + 6);
  for (const [, , , , byLots, , squares, more, verdict] of pairs) {
    expect(verdict).toBe(byLots !== "" && Number(byLots!.replace("< ", "")) < 0.05 ? "tighter" : "cannot tell");
    if (verdict === "tighter") expect(more).toBe("–");
    expect(squares === "–" || Number(squares!.replace(/\D/g, "")) > 1).toBe(true);
  }
});

it("suppliersReport(sample book) has a page for each supplier, linked, with its own lots only", () => {
  expect(report.extra!.map(({file}) => file)).toHaveLength(7);
  const links = [...document.querySelectorAll("#pages ~ ul a, section[aria-labelledby=pages] a")].map((link) =>
    link.getAttribute("href")
  );
  expect(new Set(links)).toEqual(new Set(report.extra!.map(({file}) => file)));
  const lots = report.extra!.flatMap(({html}) =>
    [...new JSDOM(html).window.document.querySelectorAll("#lots-table tbody th")].map((cell) => cell.textContent)
  );
  expect(lots).toHaveLength(78);
  expect(new Set(lots).size).toBe(78);
});

it("a supplier's page has its discards by defect and by stage, raw, drawn and lately", () => {
  const {document: own} = new JSDOM(report.extra!.find(({file}) => file.includes("tolverby"))!.html).window;
  expect(own.querySelector(".lead li")!.textContent).toContain("Tolverby Saws may have got worse");
  const heads = [...own.querySelectorAll("#by-defect thead th")].map((head) => head.textContent);
  expect(heads).toEqual([
    "Defect",
    "Species",
    "Pieces",
    "Thrown out",
    "Raw (per 100)",
    "Drawn to the mean (per 100)",
    "Drawn, lately (per 100)"
  ]);
  const stages = [...own.querySelectorAll("#by-stage tbody th")].map((cell) => cell.textContent);
  expect([...new Set(stages)]).toEqual(["square", "rough-round", "second-round", "proud-round"]);
});

it("suppliersReport(a book just begun) leaves out what cannot be said, and still has a page for the supplier", () => {
  const young = reportOf(folderOf(texts({events: []})));
  const {document: page} = new JSDOM(young.html).window;
  expect(page.body.textContent).toContain("No supplier has eight lots yet");
  expect(page.querySelector("main")!.textContent).not.toMatch(/NaN|undefined|Infinity/);
  expect(young.extra!).toHaveLength(1);
  expect(young.extra![0]!.html).toContain("<h1>Quillmoor Sawpit</h1>");
});

it("suppliersReport(sample book) draws a share inside the window that rests on fewer than four lots hollow and without a line", () => {
  const few = report.figures
    .find(({id}) => id === "inside-window")!
    .table.rows.filter(({lots}) => (lots as number) < 4)
    .map(({supplier}) => supplier);
  expect(few).toEqual(["Quillmoor Sawpit"]);
  const titles = [...document.querySelectorAll("section[aria-labelledby=window] figure title")].map(
    ({textContent}) => textContent!
  );
  expect(titles.filter((title) => !/ to /.test(title)).every((title) => title.includes("Quillmoor Sawpit"))).toBe(true);
  expect(titles.some((title) => title.includes("Quillmoor Sawpit"))).toBe(true);
});

it("suppliersReport(sample book) gives the source of each published density", () => {
  const text = document.body.textContent!;
  expect(text).toMatch(/Published for european ash .*Global Wood Density Database.*rows 7205 and 7206; read\)/);
  expect(text).toMatch(/Published for sugar maple .*Global Wood Density Database.*row 268; read\)/);
});

it("supplierFile(name) is short and its own for each name, however long", () => {
  const names = ["Ä", "Tolverby Saws", `${"very ".repeat(80)}long`, `${"very ".repeat(80)}Long`, "../x", "x"];
  const files = names.map(supplierFile);
  expect(new Set(files).size).toBe(names.length);
  for (const file of files) expect(file).toMatch(/^supplier-[a-z0-9-]{1,80}\.html$/);
});

it("suppliersReport(a book with hours and miles of its trips) gives both for each usable shaft", () => {
  const events = ["turned,rough-round", "turned,second-round", "turned,proud-round", "turned,finished"].map(
    (what, i) => `2025-0${i + 3}-01,A1,${what},,,,`
  );
  const files = texts({events});
  const lots = files["lots.csv"]
    .replace("price_each", "price_each,trip_hours,trip_miles")
    .replace(",10\n", ",10,3,40\n");
  const trips = new JSDOM(reportOf(folderOf({...files, "lots.csv": lots})).html).window.document;
  const cells = [...trips.querySelectorAll("#trips tbody td")].map((cell) => cell.textContent);
  // Of the two squares one is a shaft inside the window, the other still a square: as many to be expected as the data let each.
  expect(cells.slice(0, 2)).toEqual(["1", "3.00"]);
  expect(cells.slice(3, 5)).toEqual(["1", "40"]);
  expect(document.querySelector("#trips")).toBeNull();
});
