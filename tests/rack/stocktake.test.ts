import fc from "fast-check";
import {expect, test} from "vitest";
import {histories} from "../../lib/book/histories.ts";
import {type Counted, squareFinder} from "../../lib/rack/countedRows.ts";
import {stocktake} from "../../lib/rack/stocktake.ts";
import {bookOf, type Lines} from "../book/smallBook.ts";
import {anyPieces, frozen, lastMadeDay, makeHistories} from "../pieces.ts";

/** Two lots: A1 a shaft for O1, A2 a free shaft, A3 turned once, A4 as bought, A5 thrown out, A6 delivered; B1 bought on the last day. */
const lines: Lines = {
  lots: ["A,2025-01-10,Quillmoor Sawpit,ash,6,10", "B,2025-09-01,Low Fold Sawmill,maple,1,12"],
  squares: [
    ...["A1", "A2", "A3", "A4", "A5", "A6"].map((one) => `${one},A,1500,40,40,1680,12`),
    "B1,B,1500,40,40,1680,12"
  ],
  orders: ["O1,2025-02-01,ash,2"],
  events: [
    ...["A1", "A2", "A6"].flatMap((one) =>
      ["rough-round", "second-round", "proud-round", "finished"].map(
        (stage, i) => `2025-0${3 + i}-01,${one},turned,${stage}`
      )
    ),
    "2025-03-01,A3,turned,rough-round",
    "2025-04-01,A5,discarded,,,,warp",
    "2025-06-02,A1,allotted,,,,,O1",
    "2025-06-10,A6,delivered,,,,,O1"
  ]
};
const book = bookOf(lines);
const later = histories(book, "2025-12-31");
const take = (on: string, counted: readonly (string | Counted)[], part = {}) =>
  stocktake(
    histories(book, on),
    counted.map((one, i) => ({...(typeof one === "string" ? {square: one} : one), row: i + 1})),
    {part, events: book.events, later}
  );
const numbers = (list: readonly {square: string}[]) => list.map(({square}) => square);

test("stocktake finds each as the book says where all are counted, whatever their case", () => {
  const result = take(
    "2025-07-01",
    ["a1", "A2 ", "A-3", {square: "A4", stage: "square"}].slice(0, 2).concat(["A3", "A4"])
  );
  expect(numbers(result.found)).toEqual(["A1", "A2", "A3", "A4"]);
  expect([result.missing, result.unexpected, result.otherStage, result.beside, result.twice]).toEqual([
    [],
    [],
    [],
    [],
    []
  ]);
  expect(result.agreement).toMatchObject({found: 4, of: 4});
});

test("stocktake names what is missing, where the book has it, and the order of an allotted shaft", () => {
  const result = take("2025-07-01", ["A4"]);
  expect(result.missing).toEqual([
    {square: "A1", species: "ash", lot: "A", stage: "finished", since: "2025-06-01", allottedTo: "O1"},
    {square: "A2", species: "ash", lot: "A", stage: "finished", since: "2025-06-01"},
    {square: "A3", species: "ash", lot: "A", stage: "rough-round", since: "2025-03-01"}
  ]);
});

test("stocktake says of a number not in stock why, with its day and row", () => {
  const result = take("2025-07-01", ["A1", "A2", "A3", "A5", "A6", "B1", "Z99999"]);
  expect(result.unexpected).toEqual([
    {square: "A5", rows: [4], notes: [], why: "discarded", day: "2025-04-01", eventRow: 15},
    {square: "A6", rows: [5], notes: [], why: "delivered", day: "2025-06-10", eventRow: 17},
    {square: "B1", rows: [6], notes: [], why: "bought later", day: "2025-09-01", lot: "B"},
    {square: "Z99999", rows: [7], notes: [], why: "unknown"}
  ]);
});

test("stocktake offers for an unknown number the nearest missing one before any other, and one without zeros in front", () => {
  const near = bookOf({
    lots: ["A,2025-01-10,Quillmoor Sawpit,ash,3,10"],
    squares: ["L0031,A,1500,40,40,1680,12", "L0032,A,1500,40,40,1680,12", "B0007,A,1500,40,40,1680,12"],
    orders: []
  });
  const result = stocktake(histories(near, "2025-07-01"), [
    {square: "L0031", row: 1},
    {square: "L003I", row: 2},
    {square: "B7", row: 3}
  ]);
  expect(result.unexpected).toEqual([
    {square: "B7", rows: [3], notes: [], why: "unknown", near: "B0007", nearMissing: true},
    {square: "L003I", rows: [2], notes: [], why: "unknown", near: "L0032", nearMissing: true}
  ]);
  expect(result.missing.map(({square, perhaps}) => [square, perhaps])).toEqual([
    ["L0032", ["L003I"]],
    ["B0007", ["B7"]]
  ]);
});

test("stocktake says which row of squares.csv was set aside, where an unknown number stands there", () => {
  const {unexpected} = stocktake(histories(book, "2025-07-01"), [{square: "A9", row: 1}], {
    setAside: (one) => (one === "A9" ? 12 : undefined)
  });
  expect(unexpected).toEqual([{square: "A9", rows: [1], notes: [], why: "set aside", squareRow: 12}]);
});

test("stocktake: seen later than the book has it, the turnings that lack; seen earlier, the rows to look at", () => {
  const result = take("2025-07-01", [
    {square: "A4", stage: "second-round", note: "green mark"},
    {square: "A2", stage: "second-round"}
  ]);
  expect(result.otherStage).toMatchObject([
    {square: "A2", seen: "second-round", stage: "finished", passes: [], eventRows: [8, 9]},
    {
      square: "A4",
      seen: "second-round",
      stage: "square",
      passes: ["rough-round", "second-round"],
      eventRows: [],
      notes: ["green mark"]
    }
  ]);
  expect(numbers(result.missing)).toEqual(["A1", "A3"]);
});

test("stocktake knows what the book has after the count: overlooked, or entered with a later day", () => {
  const result = take("2025-03-15", [{square: "A2", stage: "second-round"}, "A3", "A4", "A5"]);
  expect(result.missing.map(({square, seenOn}) => [square, seenOn])).toEqual([
    ["A1", "2025-04-01"],
    ["A6", "2025-04-01"]
  ]);
  expect(result.otherStage).toMatchObject([{square: "A2", enteredOn: "2025-04-01"}]);
});

test("stocktake of a part: only its pieces can be missing, others seen are beside it, moved ones are told", () => {
  const result = take("2025-07-01", ["A1", "A4", {square: "A3", stage: "finished"}], {stages: ["finished"]});
  expect(numbers(result.found)).toEqual(["A1"]);
  expect(numbers(result.missing)).toEqual(["A2"]);
  expect(numbers(result.beside)).toEqual(["A4"]);
  expect(result.otherStage).toMatchObject([
    {square: "A3", inPart: false, passes: ["second-round", "proud-round", "finished"]}
  ]);
  expect(result.byStage).toEqual([{species: "ash", stage: "finished", book: 2, found: 1, otherStage: 0, missing: 1}]);
  expect(numbers(take("2025-09-02", ["B1"], {lots: ["B"]}).missing)).toEqual([]);
});

test("stocktake counts a number that stands twice once, and takes no stage where its rows differ", () => {
  const result = take("2025-07-01", [
    {square: "A4", stage: "square"},
    {square: "a4", stage: "rough-round"},
    "A3",
    "A3",
    "Q",
    "q"
  ]);
  expect(result.twice).toEqual([
    {square: "A3", rows: [3, 4], stages: []},
    {square: "A4", rows: [1, 2], stages: ["square", "rough-round"]},
    {square: "Q", rows: [5, 6], stages: []}
  ]);
  expect(numbers(result.found)).toEqual(["A3", "A4"]);
});

test("stocktake counts those found of all in stock, without an interval: it is no sample", () => {
  const pieces = makeHistories(
    Array.from({length: 148}, (_, i) => later.pieces.map((piece) => ({...piece, square: `S${i}`}))[3]!),
    {asOf: later.asOf}
  );
  const {agreement} = stocktake(
    pieces,
    Array.from({length: 15}, (_, i) => ({square: `S${i}`, row: i + 1}))
  );
  expect(agreement).toEqual({found: 15, of: 148});
  expect(stocktake(makeHistories([], {asOf: 0}), []).agreement).toEqual({found: 0, of: 0});
});

test("stocktake cannot tell whether what the book has on the day of the count came before it", () => {
  const {missing, otherStage} = take("2025-06-01", [{square: "A2", stage: "proud-round"}, "A4"]);
  expect(missing.map(({square, onTheDay}) => [square, onTheDay])).toEqual([
    ["A1", true],
    ["A3", undefined],
    ["A6", true]
  ]);
  expect(otherStage).toMatchObject([{square: "A2", onTheDay: true, passes: []}]);
  expect(take("2025-06-02", [{square: "A2", stage: "proud-round"}]).otherStage[0]).not.toHaveProperty("onTheDay");
});

test("stocktake names the row of events.csv with the number of a missing or moved piece that was set aside", () => {
  const {missing, otherStage} = stocktake(
    histories(book, "2025-07-01"),
    [{square: "A3", row: 1, stage: "second-round"}],
    {refusedEvent: (square) => ({A3: 30, A4: 31})[square]}
  );
  expect(missing.map(({square, refusedRow}) => [square, refusedRow])).toContainEqual(["A4", 31]);
  expect(missing[0]).not.toHaveProperty("refusedRow");
  expect(otherStage).toMatchObject([{square: "A3", refusedRow: 30}]);
});

test("stocktake takes l, I and O in an unknown number for digits before it looks for the nearest", () => {
  const near = bookOf({
    lots: ["A,2025-01-10,Quillmoor Sawpit,ash,3,10"],
    squares: ["A3342", "A1342", "A1042"].map((one) => `${one},A,1500,40,40,1680,12`),
    orders: []
  });
  const {unexpected, missing} = stocktake(histories(near, "2025-07-01"), [
    {square: "Al342", row: 1},
    {square: "AIO42", row: 2}
  ]);
  expect(unexpected.map((one) => "near" in one && one.near)).toEqual(["A1042", "A1342"]);
  expect(missing.map(({perhaps}) => perhaps)).toEqual([undefined, ["Al342"], ["AIO42"]]);
});

const stageNames = ["square", "rough-round", "second-round", "proud-round", "finished"];
const anyList = fc.array(
  fc.record(
    {
      square: fc.oneof(
        fc.integer({min: 0, max: 45}).map((i) => `S${i}`),
        fc.integer({min: 0, max: 45}).map((i) => `s ${i}`),
        fc.string({minLength: 1, maxLength: 6})
      ),
      stage: fc.constantFrom(...stageNames)
    },
    {requiredKeys: ["square"]}
  ),
  {maxLength: 60}
);
const anyPart = fc.record(
  {
    stages: fc.subarray(stageNames, {minLength: 1}),
    lots: fc.subarray(["L0", "L1", "L2", "L3", "L4", "L5"], {minLength: 1})
  },
  {requiredKeys: []}
);

test("stocktake: the stock of the part is found, missing or at another stage; no number is in two lists; nothing on the list is lost", () => {
  fc.assert(
    fc.property(anyPieces, anyList, anyPart, (pieces, list, part) => {
      const made = frozen(makeHistories(pieces, {asOf: lastMadeDay}));
      const counted = frozen(list.map((one, i) => ({...one, row: i + 1})));
      const result = stocktake(made, counted, {part});
      const {found, missing, otherStage, unexpected, beside} = result;
      const lists = [found, missing, otherStage, unexpected, beside].flatMap(numbers);
      expect(new Set(lists).size).toBe(lists.length);
      // By hand: in stock, and of the part.
      const stock = pieces.filter(
        ({fate, stays, lot}) =>
          (fate === "in stock" || fate === "finished") &&
          (!part.stages || part.stages.includes(stays.at(-1)!.stage)) &&
          (!part.lots || part.lots.includes(lot))
      );
      const own = [...found, ...missing, ...otherStage.filter(({inPart}) => inPart)];
      expect(numbers(own).sort()).toEqual(numbers(stock).sort());
      expect(result.byStage.reduce((sum, {book: all}) => sum + all, 0)).toBe(stock.length);
      for (const row of result.byStage) expect(row.found + row.missing + row.otherStage).toBe(row.book);
      const rows = [...found, ...otherStage, ...unexpected, ...beside].flatMap((one) => one.rows);
      expect(rows.sort((a, b) => a - b)).toEqual(counted.map(({row}) => row));
      // No missing piece is on the list.
      const find = squareFinder(numbers(pieces));
      const seen = new Set(list.map(({square}) => find(square)));
      expect(missing.filter(({square}) => seen.has(square))).toEqual([]);
    })
  );
});

test("stocktake: the order of the rows does not matter", () => {
  const shuffled = anyList.chain((list) => {
    const rows = list.map((one, i) => ({...one, row: i + 1}));
    return fc.tuple(fc.constant(rows), fc.shuffledSubarray(rows, {minLength: rows.length}));
  });
  fc.assert(
    fc.property(anyPieces, shuffled, (pieces, [rows, other]) => {
      const made = makeHistories(pieces, {asOf: lastMadeDay});
      expect(stocktake(made, other)).toEqual(stocktake(made, rows));
    })
  );
});
