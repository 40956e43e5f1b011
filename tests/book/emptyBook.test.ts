import {readFileSync} from "node:fs";
import {parse} from "csv-parse/sync";
import ts from "typescript";
import {describe, expect, test} from "vitest";
import {columnDocs} from "../../lib/book/columnDocs.ts";
import {
  aboutRows,
  aboutText,
  emptyCsv,
  emptySettings,
  emptyTable,
  exampleNote,
  type NewCell
} from "../../lib/book/emptyBook.ts";
import type {Grid} from "../../lib/book/grid.ts";
import {parseBook} from "../../lib/book/parseBook.ts";
import {readRecords} from "../../lib/book/readRecords.ts";
import {type FileName, fileNames, files} from "../../lib/book/records.ts";
import {rowAccounts} from "../../lib/book/rowAccount.ts";
import {parseSettings} from "../../lib/book/settings.ts";
import {brief, recordsOf, settingsOf} from "./smallBook.ts";

const settingsSource = readFileSync(new URL("../../lib/book/settings.ts", import.meta.url), "utf8");

/** The file of each column, by file and heading. */
const fileOf = Object.fromEntries(columnDocs().map(({file, heading}) => [`${file} ${heading}`, file])) as Record<
  string,
  FileName
>;

/** A cell as a spreadsheet of some country shows and saves it. */
interface Dialect {
  between: "," | ";" | "\t";
  decimal: "." | ",";
  date: (year: string, month: string, day: string) => string;
}

const short = (text: string) => String(Number(text));

/** Common practice of spreadsheets under these countries' settings, no source; years of two digits are the short form. */
const dialects: Record<string, Dialect> = {
  "as made": {between: ",", decimal: ".", date: (y, m, d) => `${y}-${m}-${d}`},
  British: {between: ",", decimal: ".", date: (y, m, d) => `${d}/${m}/${y}`},
  American: {between: ",", decimal: ".", date: (y, m, d) => `${short(m)}/${short(d)}/${y}`},
  "American, short": {between: ",", decimal: ".", date: (y, m, d) => `${short(m)}/${short(d)}/${y.slice(2)}`},
  German: {between: ";", decimal: ",", date: (y, m, d) => `${d}.${m}.${y}`},
  "German, short": {between: ";", decimal: ",", date: (y, m, d) => `${d}.${m}.${y.slice(2)}`},
  French: {between: ";", decimal: ",", date: (y, m, d) => `${d}/${m}/${y}`},
  Dutch: {between: ";", decimal: ",", date: (y, m, d) => `${short(d)}-${short(m)}-${y}`},
  Swedish: {between: ";", decimal: ",", date: (y, m, d) => `${y}-${m}-${d}`},
  "tabs of a copied table": {between: "\t", decimal: ".", date: (y, m, d) => `${d}/${m}/${y}`}
};

function saved(rows: readonly (readonly NewCell[])[], {between, decimal, date}: Dialect): string {
  const cell = (value: NewCell) => {
    if (typeof value === "number") return String(value).replace(".", decimal);
    return typeof value === "string" ? value : date(...(value.date.split("-") as [string, string, string]));
  };
  return rows.map((row) => `${row.map(cell).join(between)}\r\n`).join("");
}

describe.each(fileNames)("emptyCsv(%s)", (file) => {
  const docs = columnDocs().filter((doc) => doc.file === file);

  // csv-parse is another's reader of RFC 4180; it throws on rows of different lengths.
  test("has the headings of all columns and one row of their examples, for csv-parse too", () => {
    const text = emptyCsv(file);
    expect(text).toMatch(/^\ufeff/);
    expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    const [headings, example, ...more] = parse(text, {bom: true}) as string[][];
    expect(more).toEqual([]);
    expect(headings).toEqual(docs.map(({heading}) => heading));
    docs.forEach(({heading, example: wanted}, index) => {
      const isLeftBlank = file === "events.csv" && ["defect", "order"].includes(heading);
      expect(example![index], heading).toBe(heading === "note" ? exampleNote : isLeftBlank ? "" : wanted);
    });
  });

  test("with semicolons has the same cells, numbers with decimal commas", () => {
    const plain = parse(emptyCsv(file), {bom: true}) as string[][];
    const continental = parse(emptyCsv(file, {semicolons: true}), {bom: true, delimiter: ";"}) as string[][];
    const numeric = (cell: string) => /^\d+\.\d+$/.test(cell);
    expect(continental).toEqual(plain.map((row) => row.map((cell) => (numeric(cell) ? cell.replace(".", ",") : cell))));
  });

  test("is no data and no fault, whatever spreadsheet saved it since", () => {
    const texts = [emptyCsv(file), emptyCsv(file, {semicolons: true})];
    for (const dialect of Object.values(dialects)) texts.push(saved(emptyTable(file), dialect));
    for (const text of texts) {
      const {records, source, problems} = recordsOf(text, file);
      expect(records, text).toEqual([]);
      expect([source.rows, source.notData], text).toEqual([[], [{row: 2, why: "the example"}]]);
      const faults = problems.filter(({severity}) => severity !== "note").map(({code}) => code);
      expect(faults, text).toEqual(files[file].filled ? ["file-empty"] : []);
    }
  });

  test("is no data in a workbook, or with columns in another order or taken out", () => {
    const [headings, example] = emptyTable(file) as [string[], NewCell[]];
    const cells = example.map((cell) => (typeof cell === "object" ? cell.date : String(cell)));
    const grid = (rows: string[][]): Grid => ({
      file,
      rows: rows.map((row, index) => ({row: index + 1, cells: row})),
      exact: true,
      problems: []
    });
    expect(readRecords(grid([headings, cells]), files[file]).source.rows).toEqual([]);
    const turned = grid([headings.toReversed(), cells.toReversed()]);
    expect(readRecords(turned, files[file]).source.notData).toEqual([{row: 2, why: "the example"}]);
    const needed = headings.map(
      (heading) => heading === "note" || docs.find((doc) => doc.heading === heading)!.required
    );
    const fewer = grid([headings, cells].map((row) => row.filter((_, index) => needed[index])));
    expect(readRecords(fewer, files[file]).source.notData).toEqual([{row: 2, why: "the example"}]);
  });
});

/** Another value for a cell of the example. */
function other(cell: NewCell): NewCell {
  if (typeof cell === "number") return cell + 1;
  if (typeof cell === "object") return {date: cell.date.replace("2025", "2024")};
  return cell === "air" ? "kiln" : cell === "turned" ? "weighed" : `${cell}x`;
}

test.each(Object.keys(fileOf))("a row with one cell of the owner's own is data, %s", (column) => {
  const file = fileOf[column]!;
  const [headings, example] = emptyTable(file) as [string[], NewCell[]];
  const index = headings.indexOf(column.slice(file.length + 1));
  const row = example.with(index, other(example[index]!));
  for (const [name, dialect] of Object.entries(dialects)) {
    const {records, source} = recordsOf(saved([headings, row], dialect), file);
    expect(
      source.rows.map((one) => one.row),
      name
    ).toEqual([2]);
    expect(source.notData, name).toEqual([]);
    if (name === "as made" || name === "German") expect(records, name).toHaveLength(1);
  }
});

test("a row of the example with a cell emptied is the owner's, and listed where the cell must be filled", () => {
  const [headings, example] = emptyTable("squares.csv") as [string[], NewCell[]];
  const row = example.with(headings.indexOf("mc_pct"), "");
  const {source, problems} = recordsOf(saved([headings, row], dialects["as made"]!), "squares.csv");
  expect(source.rows).toHaveLength(1);
  expect(problems.map(brief)).toEqual(["cell-unreadable squares.csv H2"]);
});

test("the examples fit together: noted otherwise they are sound rows of one lot that lists one square of 34", () => {
  const texts = Object.fromEntries(fileNames.map((file) => [file, emptyCsv(file).replace(exampleNote, "ours")]));
  const {book, problems} = parseBook(texts, settingsOf());
  expect(problems.map(brief)).toEqual(["lot-short lots.csv E2"]);
  const {lots, squares, orders, events, climate} = book!;
  expect([lots, squares, orders, events, climate].map((rows) => rows.length)).toEqual([1, 1, 1, 1, 1]);
  expect(squares[0]!.lot).toBe(lots[0]!.lot);
  expect(events[0]!.square).toBe(squares[0]!.square);
});

test("an example left standing above the owner's rows counts nowhere and settles nothing", () => {
  const british = saved(emptyTable("lots.csv"), dialects.British!);
  const sure = `${british}L1,20/04/2025,Quillmoor Sawpit,ash,2,,10,,,\r\n`;
  const {records, source} = recordsOf(sure, "lots.csv");
  expect(records.map(({lot, boughtOn, row}) => [lot, boughtOn, row])).toEqual([["L1", "2025-04-20", 3]]);
  expect(source.notData).toEqual([{row: 2, why: "the example"}]);
  const unsure = recordsOf(`${british}L1,03/04/2025,Quillmoor Sawpit,ash,2,,10,,,\r\n`, "lots.csv");
  expect(unsure.problems.map(brief)).toContain("date-ambiguous lots.csv B3");
});

test("rowAccounts of a new book: one row read in each file, no data, none used or refused", () => {
  const texts = Object.fromEntries(fileNames.map((file) => [file, emptyCsv(file)]));
  const accounts = rowAccounts(parseBook(texts, settingsOf()));
  expect(accounts.map(({read, used, refused, notData}) => [read, used, refused, notData])).toEqual(
    fileNames.map(() => [1, 0, 0, 1])
  );
});

test("emptySettings() gives the defaults when read, by this reader and by the compiler's of JSON with remarks", () => {
  const text = emptySettings();
  const defaults = parseSettings("").settings;
  expect(defaults).toBeDefined();
  expect(parseSettings(text)).toEqual({settings: defaults, problems: []});
  const {config, error} = ts.parseConfigFileTextToJson("workshop.json", text);
  expect(error).toBeUndefined();
  expect(config).toEqual(defaults);
});

test("emptySettings() explains every setting, in the words of its declaration", () => {
  const remarks = emptySettings()
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line.startsWith("//"))
    .map((line) => line.slice(2).trim())
    .join(" ");
  const said = [...settingsSource.matchAll(/\.describe\(\s*"((?:[^"\\]|\\.)*)"/g)].map(([, text]) => text!);
  expect(said.length).toBe(settingsSource.split(".describe(").length - 1);
  expect(said.length).toBeGreaterThan(25);
  expect(said.filter((text) => !remarks.includes(text))).toEqual([]);
});

test("emptySettings() has a remark above each setting that stands by itself, and names the parts of the others", () => {
  const lines = emptySettings().split("\n");
  const own = lines.flatMap((line, index) => (/^( {2}){1,2}"\w+": (?!\{"|"european|"sugar)/.test(line) ? [index] : []));
  const unexplained = own.filter((index) => !lines[index - 1]!.trim().startsWith("//"));
  expect(own.length).toBeGreaterThan(14);
  expect(unexplained.map((index) => lines[index]!.trim())).toEqual([]);
  const parts = lines.flatMap((line) => /^ +\/\/ {3}(\w+)(?::|$)/.exec(line)?.[1] ?? []);
  expect(parts).toEqual(
    "name restDays largeMm smallMm lengthMm name group wood windowKgM3 minimum available file sheet delimiter decimal dates serialsFrom headings units words".split(
      " "
    )
  );
});

test("no line of emptySettings() and aboutText() is longer than 100 characters", () => {
  const lines = `${emptySettings()}${aboutText()}`.replace("\ufeff", "").split(/\r?\n/);
  expect(lines.filter((line) => [...line].length > 100)).toEqual([]);
  expect(lines.some((line) => [...line].length > 95)).toBe(true);
});

test("aboutText() lists every column under its file, with unit, whether it must be filled, and what it is", () => {
  const text = aboutText();
  expect(text).toMatch(/^\ufeffAbout this book\r\n/);
  expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  const parts = text.split(/\r\n(?=\w+\.csv: one row is )/).slice(1);
  expect(parts.map((part) => part.slice(0, part.indexOf(":")))).toEqual(fileNames);
  for (const {file, heading, unit, required, description, example} of columnDocs()) {
    const words = parts[fileNames.indexOf(file)]!.replaceAll(/\s+/g, " ");
    const expected = [heading, unit, required && "must be", `${description}. Example: ${example} `];
    expect(`${words} `, `${file} ${heading}`).toContain(` ${expected.filter(Boolean).join(" ")}`);
  }
});

test("aboutRows() lists every column under its sheet in the same words", () => {
  const rows = aboutRows();
  for (const {file, heading, unit = "", required, description, example} of columnDocs()) {
    const title = rows.findIndex(([cell = ""]) => cell.startsWith(`${file.replace(".csv", "")}: one row is `));
    const below = rows.slice(title + 1);
    const end = below.findIndex((row) => row.length === 0);
    const table = end < 0 ? below : below.slice(0, end);
    expect(table).toContainEqual([heading, unit, required ? "must be" : "", description, example]);
  }
});
