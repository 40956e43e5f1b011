import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {draw} from "../../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {monthlyReport} from "../../../scripts/pages/monthly.ts";
import {texts} from "../../book/smallBook.ts";
import {folderOf} from "../run.ts";

const beside = {notebooks: [], keptBefore: () => undefined, draw};

function pageOf(folder: string, asOf?: string): Document {
  const found = readBook(folder);
  return new JSDOM(monthlyReport(bookAsOf({...found, book: found.book!}, asOf), beside).html).window.document;
}

const page = pageOf("sample-data");
const young = pageOf(folderOf(texts({events: []})));
const headings = (document: Document) =>
  [...document.querySelectorAll("main > section > h2")].map((node) => node.textContent!);

it("monthlyReport(book) has four sections of findings, then what changed, and what one must know to trust them", () => {
  expect(headings(page)).toEqual([
    "Main points",
    expect.stringMatching(/^Yield: \d\d of 100 squares become shafts$/),
    expect.stringMatching(
      /^Discards: [\w-]+ costs most, and October 2026 is (no exception|outside the limits of chance)$/
    ),
    expect.stringMatching(/^Store: \d+ of \d+ pieces have rested long enough$/),
    expect.stringMatching(/^Seasoning: the store takes timber to \d+\.\d\s% moisture$/),
    "What changed since 2026-09-30",
    "Where every square is",
    "Faults of the book",
    "How this is worked out",
    "Things to know",
    "Words used here"
  ]);
});

it("monthlyReport(a book just begun) says in its headings what cannot be said", () => {
  expect(headings(young).slice(1, 6)).toEqual([
    "Yield: too early to say",
    "Discards: nothing has been thrown out",
    "Store: 0 of 2 pieces have rested long enough",
    "Seasoning: no readings of the store's air",
    "What changed since 2025-01-31"
  ]);
});

it("monthlyReport(book) reads from the finding over the figure to the table, and leads on to the method", () => {
  for (const section of page.querySelectorAll("main > section[aria-labelledby]")) {
    const kinds = [...section.children].flatMap((node) =>
      node.matches(".figure") ? ["figure"] : node.matches(".table-block") ? ["table"] : []
    );
    expect(kinds, section.getAttribute("aria-labelledby")!).toEqual(kinds.toSorted());
  }
  for (const figure of page.querySelectorAll(".figure")) {
    const order = [...figure.querySelectorAll("h3, .subtitle, figure, .leads, details")].map(
      ({localName, className}) => className || localName
    );
    expect(order).toEqual(["h3", "subtitle", "figure", "leads", "details"]);
  }
});

it("monthlyReport(book) has every lot in one of its two tables", () => {
  const lots = ["lots-open", "lots-decided"].map((id) =>
    [...page.querySelectorAll(`#${id} tbody th`)].map((node) => node.textContent)
  );
  expect(new Set(lots.flat()).size).toBe(78);
  expect(lots.flat()).toHaveLength(78);
  const inStock = [...page.querySelectorAll("#lots-open tbody tr")].map((row) => Number(row.children[8]!.textContent));
  expect(inStock.every((count) => count > 0)).toBe(true);
});

it("monthlyReport(book) before a day has nothing of after it, and says when the month is not over", () => {
  const middle = pageOf("sample-data", "2026-08-12");
  expect(middle.querySelector("header p")!.textContent).toContain("the month is not over: data to 2026-08-12");
  expect(middle.querySelector("main")!.textContent).not.toMatch(/2026-(09|10|11)-\d\d/);
});
