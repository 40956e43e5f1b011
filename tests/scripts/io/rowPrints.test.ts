import {expect, it} from "vitest";
import {rowPrints} from "../../../scripts/io/rowPrints.ts";
import {bookOf, type Lines, smallest} from "../../book/smallBook.ts";

const events = ["2025-04-01,A1,weighed,,1650", "2025-04-20,A2,weighed,,1640", "2025-05-02,A1,weighed,,1640"];
const printsOf = (lines: Lines, asOf = "2025-12-31") => rowPrints(bookOf({events, ...lines}), asOf);
const before = printsOf({});

it("rowPrints(book, day) counts rows by file and month, squares by the day of their lot", () => {
  const counts = Object.fromEntries(
    Object.entries(before).map(([file, months]) => [
      file,
      Object.entries(months).map(([month, [rows]]) => [month, rows])
    ])
  );
  expect(counts).toEqual({
    lots: [["2025-01", 1]],
    squares: [["2025-01", 2]],
    events: [
      ["2025-04", 2],
      ["2025-05", 1]
    ],
    orders: [["2025-02", 1]],
    climate: []
  });
});

it("rowPrints(book, day) leaves out what is later than the day", () => {
  expect(printsOf({}, "2025-04-10").events).toEqual(printsOf({events: events.slice(0, 1)}).events);
  expect(printsOf({}, "2025-01-09")).toEqual({lots: {}, squares: {}, events: {}, orders: {}, climate: {}});
});

it("rowPrints(book, day) does not mind the order of rows, and marks the month of a changed cell only", () => {
  expect(printsOf({squares: smallest.squares.toReversed(), events: events.toReversed()})).toEqual(before);
  const changed = printsOf({events: [events[0]!.replace("1650", "1651"), ...events.slice(1)]});
  expect(changed.events!["2025-04"]![0]).toBe(2);
  expect(changed.events!["2025-04"]![1]).not.toBe(before.events!["2025-04"]![1]);
  expect(changed.events!["2025-05"]).toEqual(before.events!["2025-05"]);
  expect({...changed, events: before.events}).toEqual(before);
});
