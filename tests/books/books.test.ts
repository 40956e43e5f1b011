import {readdirSync, readFileSync} from "node:fs";
import {join} from "node:path";
import {describe, expect, test} from "vitest";
import {balance} from "../../lib/book/balance.ts";

import {type Problem, problemCodes, problemSentence} from "../../lib/book/problem.ts";
import type {RecordName} from "../../lib/book/records.ts";
import {rowAccounts} from "../../lib/book/rowAccount.ts";
import {bookAsOf, readBook} from "../../scripts/io/readBook.ts";
import {readWorkbook} from "../../scripts/io/readWorkbook.ts";
import {workbookBytes} from "./makeWorkbook.ts";

// Small books as different workshops keep them, in tests/books/<name>/book; beside each a README that says who keeps it and how, and
// expected.json, every figure of which was worked out from the files by hand or with an arithmetic of its own (the README shows
// it), never taken from the toolkit's output.

/** The day on which every book is read. */
const today = "2026-01-31";

const here = import.meta.dirname;
const names = readdirSync(here, {withFileTypes: true})
  .filter((entry) => entry.isDirectory())
  .map(({name}) => name);

/** What a book must come out as. */
interface Expected {
  /** Every problem but the notes: "refused cell-unreadable squares.csv D5". */
  problems: string[];
  /** Parts of what is said of a fault, by its place: "lots.csv B2". */
  sentences?: Record<string, string[]>;
  /** How each file was read, by the file: parts of the sentences of its notes. */
  notes: Record<string, string[]>;
  /** By the file: rows read, used, refused, no data. */
  rows: Record<string, [number, number, number, number]>;
  /** Values of records, by their number or, without one, by their row. */
  records: {[kind in RecordName]?: Record<string, Record<string, unknown>>};
  /** By the square. */
  densityAt12KgM3: Record<string, number>;
  /** By the species: bought, finished, discarded, diverted, in stock, unaccounted. */
  balance: Record<string, [number, number, number, number, number, number]>;
  /** Pieces by the defect they were discarded for. */
  discarded: Record<string, number>;
}

const expectedOf = (name: string): Expected => JSON.parse(readFileSync(join(here, name, "expected.json"), "utf8"));

const readOf = (name: string) => {
  const read = readBook(join(here, name, "book"), today);
  const {book} = read;
  return {read, asOf: book ? bookAsOf({...read, book}, today) : undefined};
};

/** "squares.csv D5", "squares.csv row 5" where it is the whole row, or the file alone. */
function place({file, row, cell}: Problem): string {
  return [file, cell ?? (row === undefined ? [] : `row ${row}`)].flat().join(" ");
}

/** A sentence without the quotation marks around what it cites. */
function unquoted(text: string): string {
  return text.replaceAll(/[“”]/g, "");
}

/** Each value equal to the one expected; a number within a millionth of it, as it was worked out to seven digits or more. */
function expectValues(actual: Record<string, unknown> | undefined, wanted: Record<string, unknown>, of: string) {
  expect(actual, of).toBeDefined();
  for (const [key, value] of Object.entries(wanted)) {
    const found = actual![key];
    if (typeof value === "number")
      expect(Math.abs(Number(found) - value), `${of} ${key}: ${found}, not ${value}`).toBeLessThanOrEqual(
        1e-6 * Math.abs(value)
      );
    else expect(found ?? null, `${of} ${key}`).toEqual(value); // null: the cell must count as blank
  }
}

describe.each(names)("the book %s", (name) => {
  const expected = expectedOf(name);
  const {read, asOf} = readOf(name);
  const {problems} = asOf ?? read;

  test("has these faults and no others", () => {
    const faults = problems.filter(({severity}) => severity !== "note");
    const found = faults.map((fault) => `${fault.severity} ${fault.code} ${place(fault)}`);
    expect(found.sort()).toEqual([...expected.problems].sort());
    for (const [where, parts] of Object.entries(expected.sentences ?? {})) {
      const said = faults.filter((fault) => place(fault) === where).map(problemSentence);
      for (const part of parts) expect(unquoted(said.join(" "))).toContain(part);
    }
  });

  test("is read as its owner means it", () => {
    const said: Record<string, string> = {};
    for (const {severity, file, wanted} of problems) {
      if (severity === "note") said[file] = unquoted(`${said[file] ?? ""} ${wanted}.`);
    }
    expect(Object.keys(said).sort()).toEqual(Object.keys(expected.notes).sort());
    for (const [file, parts] of Object.entries(expected.notes)) {
      for (const part of parts) expect(said[file]).toContain(part);
    }
  });

  test("has each row used, refused or known for no data", () => {
    const accounts = rowAccounts({...read, problems});
    const rows = accounts.map(({file, read, used, refused, notData}) => [file, [read, used, refused, notData]]);
    expect(Object.fromEntries(rows)).toEqual(expected.rows);
    for (const {read, used, refused, notData} of accounts) expect(used + refused + notData).toBe(read);
  });

  test("gives these records", () => {
    expect(read.book === undefined).toBe(expected.problems.some((one) => one.startsWith("blocking")));
    for (const [kind, records] of Object.entries(expected.records)) {
      const all = read.book![kind as RecordName] as unknown as Record<string, unknown>[];
      const key = {lots: "lot", squares: "square", orders: "order"}[kind] ?? "row";
      for (const [id, wanted] of Object.entries(records)) {
        const own = all.filter((record) => String(record[key]) === id);
        expect(own, `${kind} ${id}`).toHaveLength(1);
        expectValues(own[0], wanted, `${kind} ${id}`);
      }
    }
  });

  test("gives these figures", () => {
    const pieces = asOf?.histories.pieces ?? [];
    const density = Object.fromEntries(pieces.map((piece) => [piece.square, piece.densityAt12KgM3]));
    expectValues(density, expected.densityAt12KgM3, "density at 12 %");
    const rows = asOf ? balance(asOf.histories) : [];
    expect(rows.every(({closes}) => closes)).toBe(true);
    expect(
      Object.fromEntries(
        rows.map((row) => [
          row.species,
          [row.bought, row.finished, row.discarded, row.diverted, row.inStock, row.unaccounted]
        ])
      )
    ).toEqual(expected.balance);
    const discarded: Record<string, number> = {};
    for (const {defect} of pieces) if (defect) discarded[defect] = (discarded[defect] ?? 0) + 1;
    expect(discarded).toEqual(expected.discarded);
  });
});

test("the books have every fault that can be found", () => {
  const found = names.map(readOf).flatMap(({read, asOf}) => (asOf ?? read).problems);
  // Doubts about whole columns of dates are in tests/book/dateDoubts.test.ts.
  const known = Object.keys(problemCodes).filter((code) => !["dates-mixed", "year-first"].includes(code));
  expect([...new Set(found.map(({code}) => code))].sort()).toEqual(known.sort());
});

test.each([
  ["ambiguous", "ambiguous-settled"],
  ["badly-damaged", "mended"]
])("the files of %s are those of %s, byte for byte", (first, second) => {
  const files = readdirSync(join(here, first, "book"));
  expect(files).toContain("squares.csv");
  for (const file of files) {
    const [one, other] = [first, second].map((name) => readFileSync(join(here, name, "book", file)));
    expect(one!.equals(other!), file).toBe(true);
  }
});

// The bytes of files that editors and version control are prone to change.
test.each([
  ["inches-and-ounces/book/lots.csv", "efbbbf4c6f74"], // byte order mark, "Lot"
  ["continental/book/einkauf.csv", "506f7374656e3b"], // no mark, "Posten;"
  ["legacy/book/squares.csv", "7371756172653b"],
  ["unicode-text/book/lots.txt", "fffe4c006f007400"] // byte order mark, "Lot" in two bytes each
])("%s begins with the bytes %s", (file, hex) => {
  expect(readFileSync(join(here, file)).toString("hex").startsWith(hex)).toBe(true);
});

test("the lines of each book end as its owner's programs end them", () => {
  const ends = (file: string) => {
    const text = readFileSync(join(here, file)).toString("latin1");
    return {
      crLf: text.split("\r\n").length - 1,
      cr: text.replaceAll("\r\n", "").split("\r").length - 1,
      lf: text.replaceAll("\r\n", "").split("\n").length - 1
    };
  };
  expect(ends("inches-and-ounces/book/squares.csv")).toEqual({crLf: 8, cr: 0, lf: 0});
  expect(ends("continental/book/kanteln.csv")).toEqual({crLf: 10, cr: 0, lf: 0});
  expect(ends("legacy/book/squares.csv")).toEqual({crLf: 0, cr: 8, lf: 0});
  expect(ends("legacy/book/lots.csv")).toEqual({crLf: 4, cr: 0, lf: 0});
  expect(ends("half-filled/book/lots.csv")).toEqual({crLf: 0, cr: 0, lf: 6});
});

test("the workbook is what makeWorkbook.ts makes", () => {
  const committed = readFileSync(join(here, "workbook", "book", "stock.xlsx"));
  const [kept, made] = [committed, workbookBytes()].map(readWorkbook);
  expect(made).toHaveProperty("sheets");
  expect(kept).toEqual(made);
});
