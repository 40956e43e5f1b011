import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {htmlText} from "../../lib/report/html.ts";
import {tableHtml} from "../../lib/report/tableHtml.ts";
import {lots} from "./tables.ts";

const {document} = new JSDOM(htmlText(tableHtml(lots, {currency: "£"}))).window;
const texts = (selector: string) => [...document.querySelectorAll(selector)].map((node) => node.textContent);

it("tableHtml(table) has a caption, units in its headings and a scope on each", () => {
  expect(texts("caption")).toEqual(["Lots by day of purchase"]);
  expect(texts("thead th")).toEqual(["Lot", "Bought", "Yield (%)", "Change", "Cost (£)"]);
  expect([...document.querySelectorAll("thead th")].every((node) => node.getAttribute("scope") === "col")).toBe(true);
  expect(texts("tbody th[scope=row]")).toEqual(["A-031", "=1+2"]);
});

it("tableHtml(table) writes an interval behind its value, and a dash where there is nothing", () => {
  expect(texts("tbody tr:first-child td")).toEqual(["2026-01-16", "66.7 (52.0 to 78.1)", "−5.00", "1\u202f941.50"]);
  expect(texts("tbody tr:last-child td")).toEqual(["2026-03-04", "–", "–", "–"]);
});

it("tableHtml(table) sets numbers to the right, as every cell without a class, and keeps dates and short names in one line", () => {
  expect(texts("td:not([class])")).toHaveLength(6);
  expect(texts("th.num")).toHaveLength(3);
  expect(texts(".short")).toEqual(["A-031", "2026-01-16", "=1+2", "2026-03-04"]);
  const long = {...lots, rows: [{lot: "a name of more than twenty letters"}]};
  expect(htmlText(tableHtml(long))).toContain('<th scope="row">a name of');
  const later = {...lots, columns: lots.columns.toReversed(), rows: [{lot: "a name of more than twenty letters"}]};
  expect(htmlText(tableHtml(later))).toContain('<td class="text">a name of');
});

it("tableHtml(table) can be reached by keyboard to scroll it, under its caption’s name", () => {
  const box = document.querySelector(".table")!;
  expect(box.getAttribute("tabindex")).toBe("0");
  expect(document.getElementById(box.getAttribute("aria-labelledby")!)!.textContent).toBe("Lots by day of purchase");
});

it("tableHtml(table) ends with the note, if there is one", () => {
  expect(texts("p.note")).toEqual(["Yield with its 95 % interval."]);
  const {note: _, ...bare} = lots;
  expect(htmlText(tableHtml(bare))).not.toContain("<p");
});
