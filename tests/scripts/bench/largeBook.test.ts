import {mkdtempSync, readdirSync, readFileSync, rmSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {parse} from "csv-parse/sync";
import {afterAll, describe, expect, it} from "vitest";
import {writeLargeBook} from "../../../scripts/bench/largeBook.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";

const asked = 10_000;
const folder = mkdtempSync(join(tmpdir(), "large-book-"));
afterAll(() => rmSync(folder, {recursive: true}));
const [first, again, larger] = ["first", "again", "larger"].map((name) => join(folder, name)) as [
  string,
  string,
  string
];
const made = writeLargeBook(first, asked);
const madeLarger = writeLargeBook(larger, 40_000);
const rowsOf = (file: string, of = first) =>
  parse<Record<string, string>>(readFileSync(join(of, file)), {columns: true});

describe("a large book", () => {
  it("has the same bytes every time", () => {
    writeLargeBook(again, asked);
    const names = readdirSync(first);
    expect(names).toContain("workshop.json");
    for (const name of names)
      expect(readFileSync(join(again, name)).equals(readFileSync(join(first, name))), name).toBe(true);
  });

  it("has about as many events as asked for, with squares and orders in the sample book's proportion", () => {
    for (const [file, rows] of Object.entries(made.rows)) expect(rowsOf(file).length, file).toBe(rows);
    const sample = (file: string) => rowsOf(file, "sample-data").length;
    const events = made.rows["events.csv"];
    expect(Math.abs(events / asked - 1)).toBeLessThan(0.05);
    for (const file of ["lots.csv", "squares.csv", "orders.csv"] as const)
      expect(Math.abs(made.rows[file] / events / (sample(file) / sample("events.csv")) - 1), file).toBeLessThan(0.15);
  });

  it("has the faults that were put in, and no other", () => {
    const read = readBook(first);
    const {problems} = bookAsOf({...read, book: read.book!});
    const place = ({file, row, heading}: {file: string; row?: number; heading?: string}) => `${file} ${row} ${heading}`;
    expect(made.faults.length).toBe(9);
    expect(problems.map(place).sort()).toEqual(made.faults.map(place).sort());
  });

  it("holds in the rows of its faults what the list says", () => {
    for (const {file, row, heading, found} of made.faults) expect(rowsOf(file)[row - 2]![heading]).toBe(found);
  });

  it("at several benches has all faults once a bench, one run of numbers and the days in order", () => {
    const {faults, rows} = madeLarger;
    expect(faults.length).toBe(3 * 9);
    const early = new Set(
      faults.filter(({file, heading}) => file === "events.csv" && heading === "date").map(({row}) => row)
    );
    expect(early.size).toBe(3);
    const days = rowsOf("events.csv", larger).flatMap(({date}, index) => (early.has(index + 2) ? [] : [date!]));
    expect(days).toEqual(days.toSorted());
    const lots = rowsOf("lots.csv", larger);
    expect(lots.map(({lot}) => lot)).toEqual(lots.map((_, i) => `L${String(i + 1).padStart(3, "0")}`));
    const bought = lots.map(({bought_on: day}) => day!);
    expect(bought).toEqual(bought.toSorted());
    const orders = rowsOf("orders.csv", larger).map(({order}) => order);
    expect(orders).toEqual(orders.map((_, i) => `ORD-${String(i + 1).padStart(4, "0")}`));
    const squares = [...new Set(rowsOf("squares.csv", larger).map(({square}) => square!))];
    expect(squares.length).toBe(rows["squares.csv"] - 3);
    for (const letter of ["A", "M"]) {
      const own = squares.filter((square) => square.startsWith(letter));
      expect(own).toEqual(own.map((_, i) => `${letter}${String(i + 1).padStart(5, "0")}`));
    }
  });

  it("has a note at about one event in a hundred, quoted, some beyond ASCII", () => {
    const notes = rowsOf("events.csv", larger).flatMap(({note}) => note || []);
    expect(notes.length / rowsOf("events.csv", larger).length).toBeCloseTo(0.01, 2);
    expect(notes.every((note) => note.includes(","))).toBe(true);
    expect(notes.some((note) => note.includes('"'))).toBe(true);
    expect(notes.some((note) => /[^\p{ASCII}]/u.test(note))).toBe(true);
  });
});
