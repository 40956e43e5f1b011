import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {dayNumber} from "../../../lib/book/day.ts";
import {histories} from "../../../lib/book/histories.ts";
import {figureFaults} from "../../../lib/figures/lint.ts";
import {draw} from "../../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {indexPage} from "../../../scripts/pages/index.ts";
import {monthlyReport} from "../../../scripts/pages/monthly.ts";
import {rackReport} from "../../../scripts/pages/rack.ts";
import {lastYear, trends} from "../../../scripts/pages/trends.ts";
import {bookOf} from "../../book/smallBook.ts";
import {now} from "../../recovery/sample.ts";

const found = readBook("sample-data");
const read = bookAsOf({...found, book: found.book!});
const report = monthlyReport(read, {notebooks: [], keptBefore: () => undefined, draw});
const notebooks = [
  {name: "01-a", question: "What <now>?", made: true},
  {name: "02-b", question: "And then?", made: false}
];
const {document} = new JSDOM(indexPage(read, [report], notebooks, draw)).window;

it("indexPage(book, reports, notebooks) has of each report its finding, its day, a link and its year", () => {
  expect([...document.querySelectorAll(".lead li")].map((node) => node.textContent)).toEqual([report.data.lead[0]]);
  const section = document.querySelector('section[aria-labelledby="monthly"]')!;
  expect(section.querySelector("a")!.getAttribute("href")).toBe("monthly.html");
  expect(section.querySelector("p")!.textContent).toContain("speaks for 2026-10-31");
  expect(section.querySelectorAll(".figure svg[viewBox]").length).toBeGreaterThan(1);
  expect(section.querySelectorAll(".figure tbody tr")).toHaveLength(12);
});

it("indexPage(a book nobody wrote into) says so once, and then what each report found", () => {
  const late = bookAsOf({...found, book: found.book!}, "2027-03-31");
  const beside = {notebooks: [], keptBefore: () => undefined};
  const reports = [monthlyReport(late, beside), rackReport(late, beside)];
  const page = new JSDOM(indexPage(late, reports, [], draw)).window.document;
  const said = [...page.querySelectorAll(".lead li")].map((node) => node.textContent!);
  expect(said[0]).toMatch(/^By the book nothing was bought, done or ordered from 2026-11-01 to 2027-03-31/);
  expect(said.slice(1)).toEqual(reports.map(({data}) => data.lead[1]));
});

it("indexPage(book, reports, notebooks) links the notebooks made and the guide", () => {
  const links = [...document.querySelectorAll("main a")].map((link) => link.getAttribute("href"));
  expect(links).toContain("notebooks/01-a.html");
  expect(links).not.toContain("notebooks/02-b.html");
  expect(links).toContain("guide.html");
  expect(document.body.textContent).toContain("What <now>?");
});

it("lastYear(day) is twelve whole months: the running one is left out until its last day", () => {
  const year = (day: string) => lastYear(dayNumber(day));
  expect(year("2026-10-31")).toHaveLength(12);
  expect(year("2026-10-31").at(-1)).toBe("2026-10");
  expect(year("2026-10-30").at(-1)).toBe("2026-09");
  expect(year("2024-02-29")[0]).toBe("2023-03");
});

it("trends(book) are sound figures, of the sample book and of one just begun", () => {
  for (const book of [now, histories(bookOf(), "2025-03-15"), histories(bookOf({orders: []}), "2025-01-31")]) {
    for (const figure of Object.values(trends(book))) expect(figureFaults(figure)).toEqual([]);
  }
});

it("trends(book) count what the book has: handled pieces, squares and shafts of the year", () => {
  const {monthly, suppliers, season} = trends(now);
  const total = (rows: readonly Record<string, unknown>[], key: string) =>
    rows.reduce((sum, row) => sum + Number(row[key]), 0);
  const inYear = (day: string) => day >= "2025-11-01" && day <= "2026-10-31";
  expect(total(season.table.rows, "ordered")).toBe(
    now.orders.filter(({orderedOn}) => inYear(orderedOn)).reduce((sum, {quantity}) => sum + quantity, 0)
  );
  const lots = new Set(now.lots.filter(({boughtOn}) => inYear(boughtOn)).map(({lot}) => lot));
  expect(total(suppliers.table.rows, "squares")).toBe(now.pieces.filter(({lot}) => lots.has(lot)).length);
  const thrown = now.pieces.filter(({fate, fateOn}) => fate === "discarded" && fateOn! >= dayNumber("2025-11-01"));
  expect(total(monthly.table.rows, "discarded")).toBe(thrown.length);
});
