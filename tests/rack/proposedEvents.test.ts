import {expect, test} from "vitest";
import {histories} from "../../lib/book/histories.ts";
import {parseBook} from "../../lib/book/parseBook.ts";
import {problemSentence} from "../../lib/book/problem.ts";
import {proposedEvents} from "../../lib/rack/proposedEvents.ts";
import {stocktake} from "../../lib/rack/stocktake.ts";
import {bookOf, type Lines, texts} from "../book/smallBook.ts";

const stages = ["rough-round", "second-round", "proud-round", "finished"];
const squares: Lines = {
  lots: ["A,2025-01-10,Quillmoor Sawpit,ash,5,10"],
  squares: ["A1", "A2", "A3", "A4", "A5"].map((one) => `${one},A,1500,40,40,1680,12`),
  orders: ["O1,2025-02-01,ash,2"]
};
const book = bookOf({
  ...squares,
  events: [
    ...["A1", "A2"].flatMap((one) => stages.map((stage, i) => `2025-0${3 + i}-01,${one},turned,${stage}`)),
    "2025-06-02,A1,allotted,,,,,O1",
    "2025-03-01,A3,turned,rough-round",
    "2025-08-01,A5,turned,rough-round"
  ]
});
const now = histories(book, "2025-07-01");
const later = histories(book, "2025-12-31");
const events = (...counted: {square: string; stage?: string; note?: string}[]) =>
  proposedEvents(
    now,
    stocktake(
      now,
      counted.map((one, i) => ({...one, row: i + 2})),
      {events: book.events, later}
    )
  );

test("proposedEvents: an allotted shaft delivered, a free one without its event, any other piece discarded without its defect; none for one seen later", () => {
  const proposed = events();
  expect(proposed.map(({note: _, ...one}) => one)).toEqual([
    {square: "A1", event: "delivered", stage: "finished", order: "O1"},
    {square: "A2", stage: "finished"},
    {square: "A3", event: "discarded", stage: "rough-round"},
    {square: "A4", event: "discarded", stage: "square"}
  ]);
  expect(proposed[0]!.note).toBe(
    "Stocktake 2025-07-01: not counted; in the book at finished since 2025-06-01, allotted to O1. Fill in the day it was delivered, or write discarded, with its defect. If it is still there, strike this row."
  );
  expect(proposed[2]!.note).toContain("Fill in day and defect, or write diverted if it went to other use.");
});

test("proposedEvents: a piece seen at a later stage is turned to each stage it passed; at an earlier one nothing is proposed", () => {
  const proposed = events(
    {square: "A4", stage: "second-round", note: "by the window"},
    {square: "A2", stage: "square"},
    {square: "A1"},
    {square: "A3"},
    {square: "A5"}
  );
  expect(proposed).toEqual(
    ["rough-round", "second-round"].map((stage) => ({
      square: "A4",
      event: "turned",
      stage,
      note: "Stocktake 2025-07-01: seen at second-round (row 2 of the list: by the window); in the book at square since 2025-01-10. Fill in the day, and the mass after the cut if it was weighed."
    }))
  );
});

test("proposedEvents: nothing for numbers not in stock, for a missing piece that one of them may be, nor where the book's own rows leave doubt", () => {
  expect(events({square: "A1"}, {square: "A2"}, {square: "A4"}, {square: "AA3"}, {square: "A5"})).toEqual([]);
  const proposedOf = (on: string, refusedRow?: number) => {
    const then = histories(book, on);
    return proposedEvents(
      then,
      stocktake(then, [], {events: book.events, refusedEvent: (one) => (one === "A4" ? refusedRow : undefined)})
    ).map(({square}) => square);
  };
  expect(proposedOf("2025-07-01")).toEqual(["A1", "A2", "A3", "A4", "A5"]);
  expect(proposedOf("2025-07-01", 30)).toEqual(["A1", "A2", "A3", "A5"]);
  // On this day both shafts were finished.
  expect(proposedOf("2025-06-01")).toEqual(["A3", "A4", "A5"]);
});

/** A book of the same squares with these events. */
function readAgain(text: string) {
  const {book: parsed, problems} = parseBook({...texts(squares), "events.csv": text}, book.settings);
  return {parsed: parsed!, problems};
}

const headings = "date,square,event,stage,mass_g,mc_pct,defect,order,note";
const rows = (done: (one: ReturnType<typeof events>[number]) => Partial<Record<string, string>>) =>
  [...events({square: "A4", stage: "second-round"})].map((one) => {
    const cells: Partial<Record<string, string>> = {...one, ...done(one)};
    return headings
      .split(",")
      .map((heading) => `"${cells[heading] ?? ""}"`)
      .join(",");
  });

/** The book's events with rows below them, read and replayed. */
function appended(more: readonly string[]) {
  const before = book.sources["events.csv"]!.rows.map(({cells}) => [...cells, ""].join(","));
  const text = `${[headings, ...before, ...more].join("\n")}\n`;
  const {parsed, problems} = readAgain(text);
  return {parsed, problems: [...problems, ...histories(parsed, "2025-12-31").problems]};
}

test("proposed rows, put below the events as they are, are each refused with what to fill in, and change nothing", () => {
  const {parsed, problems} = appended(rows(() => ({})));
  expect(parsed.events.map(({row, square}) => [row, square])).toEqual(
    book.events.map(({row, square}) => [row, square])
  );
  expect(histories(parsed, "2025-12-31").pieces).toEqual(later.pieces);
  const refused = problems.filter(({severity}) => severity === "refused").map(problemSentence);
  expect(refused).toHaveLength(6); // five rows, of which one lacks its event too
  expect(refused[0]).toBe(
    "events.csv row 13 (A13): date must be filled in, got “”. Fill the cell in, like 2025-06-02."
  );
  expect(refused.filter((one) => one.includes("event must be filled in"))).toHaveLength(1);
  expect(new Set(problems.filter(({severity}) => severity === "refused").map(({row}) => row)).size).toBe(5);
  expect(problems.filter(({code}) => code === "rows-not-data")).toEqual([]);
});

test("proposed rows, filled in, are read and replayed without a fault", () => {
  const days: Record<string, string> = {A1: "2025-06-20", A2: "2025-06-21", A3: "2025-06-22", A4: "2025-06-23"};
  const {parsed, problems} = appended(
    rows(({square, event}) => ({
      date: days[square],
      ...(event === "discarded" && {defect: "warp"}),
      ...(event === undefined && {event: "delivered"}),
      ...(event === "turned" && {mass_g: "700"})
    }))
  );
  expect(problems.map(problemSentence)).toEqual([]);
  const fates = histories(parsed, "2025-07-01").pieces.map(({square, fate, deliveredOn, stays}) => [
    square,
    fate,
    deliveredOn !== undefined,
    stays.at(-1)!.stage
  ]);
  expect(fates).toEqual([
    ["A1", "finished", true, "finished"],
    ["A2", "finished", true, "finished"],
    ["A3", "discarded", false, "rough-round"],
    ["A4", "in stock", false, "second-round"],
    ["A5", "in stock", false, "square"]
  ]);
});
