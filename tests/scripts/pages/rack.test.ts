import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {balance} from "../../../lib/book/balance.ts";
import {draw} from "../../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {rackReport} from "../../../scripts/pages/rack.ts";
import {rackToday} from "../../../scripts/rack/rackToday.ts";
import {type Lines, texts} from "../../book/smallBook.ts";
import {folderOf} from "../run.ts";

const beside = {notebooks: [], keptBefore: () => undefined, draw};

function of(folder: string, asOf?: string) {
  const found = readBook(folder);
  const read = bookAsOf({...found, book: found.book!}, asOf);
  const report = rackReport(read, beside);
  return {read, report, document: new JSDOM(report.html).window.document};
}

const small = (lines: Lines = {}, files: Record<string, string> = {}) => of(folderOf({...texts(lines), ...files}));
const sample = of("sample-data");
const rowsOf = (document: Document, id: string) =>
  [...document.querySelectorAll(`table:has(#${id}-caption) tbody tr`)].map((row) =>
    [...row.children].map((cell) => cell.textContent!)
  );
const headings = (document: Document) =>
  [...document.querySelectorAll("main > section > h2")].map((node) => node.textContent!);

it("rackReport(book) names every piece in stock once: ready, to weigh or not yet; the balance agrees", () => {
  const {document, read} = sample;
  const lists = ["ready-now", "to-weigh", "not-yet"].map((id) => rowsOf(document, id).map(([square]) => square!));
  const inStock = read.histories.pieces.filter(({fate}) => fate === "in stock").map(({square}) => square);
  expect(lists.flat().toSorted()).toEqual(inStock.toSorted());
  expect(inStock.length).toBe(balance(read.histories).reduce((total, row) => total + row.inStock, 0));
  expect(lists.every((list) => list.length > 0)).toBe(true);
  const table = sample.report.tables.find(({id}) => id === "all-pieces")!;
  expect(table.rows.map(({square}) => square).toSorted()).toEqual(inStock.toSorted());
});

it("rackReport(book) gives every shaft owed its row, and no shaft twice, nor one that is allotted", () => {
  const {document, read} = sample;
  const served = rowsOf(document, "orders-served");
  const owed = read.histories.orders.reduce((total, {order, quantity, lost = 0}) => {
    const given = read.histories.pieces.filter(({allottedTo}) => allottedTo === order).length;
    return total + Math.max(0, quantity - lost - given);
  }, 0);
  expect(served.length).toBe(owed);
  const shafts = served.map((cells) => cells[2]!.replace(" ?", "")).filter((one) => one !== "none");
  expect(new Set(shafts).size).toBe(shafts.length);
  for (const square of shafts) {
    const piece = read.histories.pieces.find((one) => one.square === square)!;
    expect([piece.fate, piece.allottedTo, piece.deliveredOn]).toEqual(["finished", undefined, undefined]);
  }
  const promised = served.map((cells) => cells[1]!);
  expect(promised).toEqual(promised.toSorted());
});

it("rackReport(book) shows every order against every free shaft of its species in the table beside it", () => {
  const {report, read} = sample;
  const {ranked} = rackToday(read);
  const rows = report.tables.find(({id}) => id === "order-shafts")!.rows;
  expect(rows.length).toBe(ranked.reduce((total, {shafts}) => total + shafts.length, 0));
  expect(rows.every(({wishes, state}) => state === "fits" || String(wishes).length > 0)).toBe(true);
});

it("rackReport(a book just begun) says what cannot be said", () => {
  const {document, report} = small({events: [], orders: []});
  expect(headings(document).slice(1, 8)).toEqual([
    "Nothing is known to be ready",
    "Nothing to weigh today",
    "Not yet: 2 pieces",
    "Whether the next diameter clears cannot be told",
    "No order lacks a shaft",
    "No order goes without",
    "No orders compete for a shaft"
  ]);
  expect(report.data.lead[0]).toBe("None of 2 pieces waiting is known to be ready today.");
  expect(document.querySelector("main")!.textContent).not.toMatch(/undefined|NaN|Infinity/);
});

it("rackReport(an order without a shaft) says so, and that nothing on the way is known to fit", () => {
  const {report} = small({events: []});
  expect(
    report.data.lead.some((point) => /^Of 1 shaft owed on 1 order the rack serves 0; 1 goes without\.$/.test(point))
  ).toBe(true);
  expect(report.data.lead.at(-1)).toMatch(
    /there is no free shaft of its species; of no piece on its way is it known that it may fit\.$/
  );
});

it("rackReport(hostile names) escapes them", () => {
  const {document} = small({
    squares: ["A1,A,1500,40,40,1680,12", "<b>x</b>,A,1500,40,40,1680,12"],
    events: []
  });
  expect(document.querySelectorAll("main b").length).toBe(0);
  expect(document.body.textContent).toContain("<b>x</b>");
});

it("rackReport(a book without air) says with the first words that moisture is not known", () => {
  const events = ["2025-04-01,A1,weighed,,1600", "2025-04-20,A1,weighed,,1600"];
  const dry = small({events});
  expect(dry.report.data.lead[0]).toBe(
    "1 piece may be turned today, by rest and steady mass alone, as the store's moisture is not known: 1 at square."
  );
  expect(dry.document.querySelector("#turn")!.parentElement!.textContent).toContain(
    "cannot be told, as that is not known"
  );
  const airy = small({events, climate: ["2025-04-10,20,60"]});
  expect(airy.report.data.lead[0]).toBe("1 piece may be turned today: 1 at square.");
});

it("rackReport(allotted shafts) lists them, those that do not suit their order first", () => {
  const {document, report} = sample;
  const allotted = sample.read.histories.pieces.filter((piece) => piece.allottedTo && piece.deliveredOn === undefined);
  const rows = report.tables.find(({id}) => id === "allotted")!.rows;
  expect(rows.map(({square}) => square).toSorted()).toEqual(allotted.map(({square}) => square).toSorted());
  const suits = rows.map(({state}) => state === "yes");
  expect(suits).toEqual(suits.toSorted());
  expect(rowsOf(document, "allotted").length).toBe(rows.length);
});

it("rackReport(orders that could not be read) says in the main points that they are not counted", () => {
  const {report} = small({events: [], orders: ["O1,2025-02-01,ash,1", "O2,2025-02-01,ash,one"]});
  expect(report.data.lead.join(" ")).toContain("1 row of the orders could not be read and is not counted");
});
