import {execFile} from "node:child_process";
import {promisify} from "node:util";
import {expect, test} from "vitest";
import {type FileName, fileNames} from "../../lib/book/records.ts";
import {type BookBytes, fuzzBook} from "../../scripts/fuzz/fuzzBook.ts";
import {fuzzRun, runStream} from "../../scripts/fuzz/fuzzRun.ts";
import {type Intake, intakeOf} from "../../scripts/fuzz/intake.ts";
import {mutated} from "../../scripts/fuzz/mutate.ts";
import {brokenPromises} from "../../scripts/fuzz/promises.ts";
import {folderOf} from "./run.ts";

const book = fuzzBook();
const fuzz = (...args: string[]) =>
  promisify(execFile)(process.execPath, ["--import", "tsx", "scripts/fuzz.ts", "--out", folderOf({}), ...args]);

/** The files of the book with one of them changed. */
function bookWith(name: FileName, change: (rows: string[][]) => string[][]): BookBytes {
  const files = fileNames.map((file) => {
    const rows = file === name ? change(book.tables[file]) : book.tables[file];
    const lines = rows.map((cells) => cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(","));
    return [file, Buffer.from(lines.join("\n"))];
  });
  return {...Object.fromEntries(files), "workshop.json": Buffer.from(book.settings)};
}

const sound = intakeOf(bookWith("lots.csv", (rows) => rows));
const torn = intakeOf(bookWith("events.csv", (rows) => [...rows, ["2022-01-01", "=1+1", "weighed", "-"]]));

test("the book that is changed is sound, and has rows of every kind", () => {
  expect(sound.problems).toEqual([]);
  for (const {name, read, used} of sound.accounts)
    expect([name, used > 3 || name === "lots.csv", read]).toEqual([name, true, used]);
  expect(sound.accounts.map(({name}) => name)).toEqual(fileNames);
});

test("2,000 books changed at random: nothing is thrown, hangs or is lost", {timeout: 600_000}, async () => {
  const {stdout} = await fuzz("--runs", "2000");
  expect(stdout).toContain("2000 runs of seed 20: 0 broke a promise.");
  const [, books, refused] = /(\d+) had a book, in which (\d+) rows were refused/.exec(stdout)!;
  // Changes that nothing survives, or that harm nothing, would test nothing.
  expect(Number(books)).toBeGreaterThan(500);
  expect(Number(books)).toBeLessThan(1900);
  expect(Number(refused)).toBeGreaterThan(2000);
});

test("a run is the same whenever it is repeated", () => {
  const once = mutated(book, runStream(3, 17));
  expect(mutated(book, runStream(3, 17))).toEqual(once);
  expect(mutated(book, runStream(3, 18))).not.toEqual(once);
  const {broken, seconds: _, ...run} = fuzzRun(book, 3, 17);
  expect(broken).toEqual([]);
  const {seconds: __, ...again} = fuzzRun(book, 3, 17);
  expect(again).toEqual({...run, broken});
});

test("fuzz refuses half a run, in a sentence", {timeout: 60_000}, async () => {
  await expect(fuzz("--runs", "0.5")).rejects.toMatchObject({
    code: 2,
    stderr: expect.stringContaining("Give a whole number")
  });
});

const columns = (count: number, row: number) => Array.from({length: count}, (_, i) => (row === 0 ? `c${i}` : "1"));
const withCell = (rows: string[][], row: number, column: number, cell: string) =>
  rows.map((cells, index) => (index === row ? cells.with(column, cell) : cells));
const everyCell = (rows: string[][], change: (cell: string, row: number) => string[]) =>
  rows.map((cells, row) => cells.flatMap((cell) => change(cell, row)));

test.each<[string, (rows: string[][]) => string[][]]>([
  ["a cell of 10 MB", (rows) => withCell(rows, 1, -1, "x".repeat(1e7))],
  ["a number of 10 MB", (rows) => withCell(rows, 1, 4, "1".repeat(1e7))],
  ["a name of 10 MB", (rows) => withCell(rows, 1, 0, "L".repeat(1e7))],
  ["a heading of 10 MB", (rows) => withCell(rows, 0, -1, "x".repeat(1e7))],
  ["1,000 columns", (rows) => rows.map((cells, row) => [...cells, ...columns(1000, row)])],
  [
    "1,000 cells without a heading",
    (rows) => rows.map((cells, row) => (row === 1 ? [...cells, ...columns(1000, row)] : cells))
  ],
  ["NUL in every cell", (rows) => everyCell(rows, (cell, row) => [row === 0 ? cell : `${cell}\0`])],
  ["NUL in every heading", (rows) => everyCell(rows, (cell, row) => [row === 0 ? `${cell}\0` : cell])],
  ["the heading __proto__", (rows) => rows.map((cells, row) => [...cells, row === 0 ? "__proto__" : "polluted"])],
  [
    "__proto__ as lot, supplier and species",
    (rows) => [
      ...rows,
      ...["__proto__", "constructor"].map((name) => [name, "2022-01-01", name, name, "1", "", "1", "", "", name])
    ]
  ],
  [
    "formulas",
    (rows) => [
      ...rows,
      ...["=1+1", "+1+1", "-1+1", "@x", "\t=1", "-5"].map((text) => Array.from({length: 10}, () => text))
    ]
  ]
])("%s breaks no promise", (_, change) => {
  const began = performance.now();
  const intake = intakeOf(bookWith("lots.csv", change));
  expect(brokenPromises(intake)).toEqual([]);
  expect(performance.now() - began).toBeLessThan(60_000);
});

test("__proto__ in the settings changes no object, and is no species", () => {
  const settings = `{"__proto__": {"polluted": true}, "species": {"__proto__": {"wood": "european-ash", "windowKgM3": {"low": 1, "high": 2}}}}`;
  const intake = intakeOf({...bookWith("lots.csv", (rows) => rows), "workshop.json": Buffer.from(settings)});
  expect(brokenPromises(intake)).toEqual([]);
  expect({}).not.toHaveProperty("polluted");
  expect(Object.keys(intake.settings?.species ?? {})).not.toContain("__proto__");
});

test("-5 goes out as -5, beside formulas that do not", () => {
  const intake = intakeOf(bookWith("lots.csv", (rows) => [...rows, ["=1+1", "-5", "-5,5", "@12"]]));
  expect(intake.exported["lots.csv"]).toContain("'=1+1,-5,\"-5,5\",'@12");
  expect(intake.refused["lots.csv"]).toContain("'=1+1,-5,\"-5,5\",'@12");
});

// Each promise can be broken: a reading in which one is must be found out.
test.each<[string, Intake]>([
  ["rows do not add up", {...torn, accounts: torn.accounts.map((one) => ({...one, used: one.used - 1}))}],
  ["csv-parse counts", {...torn, texts: {...torn.texts, "lots.csv": `${torn.texts["lots.csv"]}\nL9`}}],
  ["no book though nothing is blocking", {...torn, parsed: {problems: [], sources: torn.parsed.sources}}],
  ["the balance does not close", {...torn, closes: false}],
  ["read back change what became", {...torn, again: {...torn.again!, accounts: []}}],
  ["read back have other faults", {...torn, again: {...torn.again!, problems: []}}],
  [
    "a refused row reads back otherwise",
    {...torn, readBack: {...torn.readBack, "events.csv": {...torn.readBack["events.csv"]!, rows: []}}}
  ],
  [
    "a refused row is not known again",
    {...torn, readBack: {...torn.readBack, "events.csv": {...torn.readBack["events.csv"]!, problems: []}}}
  ],
  [
    "a formula among the refused rows",
    {...torn, refused: {"events.csv": torn.refused["events.csv"]!.replace("'=", "=")}}
  ],
  [
    "not written out as it was",
    {...torn, refused: {"events.csv": torn.refused["events.csv"]!.replace("weighed", "turned")}}
  ],
  ["refused rows are not written out", {...torn, refused: {}}],
  [
    "a formula in what is exported",
    {...torn, exported: {...torn.exported, "lots.csv": torn.exported["lots.csv"]!.replace("L001", "=L001")}}
  ],
  [
    "a number is exported otherwise",
    {...torn, exported: {...torn.exported, "lots.csv": torn.exported["lots.csv"]!.replace("10.50", "'10.50")}}
  ],
  ["lacks file, wanted or mend", {...torn, problems: torn.problems.map((one) => ({...one, mend: ""}))}],
  ["is not one plain line", {...torn, sentences: torn.sentences.map((one) => `${one}\u001b[31m`)}],
  [
    "characters of a cell",
    {...torn, sentences: torn.sentences.map((one) => one.replace("got “", `got “${"x".repeat(90)}`))}
  ],
  ["characters to say", {...torn, sentences: torn.sentences.map((one) => one.repeat(30))}],
  ["markup from a file", {...torn, faultHtml: `${torn.faultHtml}<script>`}],
  ["NUL in the list", {...torn, faultHtml: `${torn.faultHtml}\0`}],
  ["a half-written character", {...torn, faultHtml: `${torn.faultHtml}&`}]
])("a reading in which %s is found out", (line, intake) => {
  expect(brokenPromises(torn)).toEqual([]);
  expect(brokenPromises(intake).join("\n")).toContain(line);
});
