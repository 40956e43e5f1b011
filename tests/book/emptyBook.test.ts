import {parse} from "csv-parse/sync";
import {describe, expect, test} from "vitest";
import {columnDocs} from "../../lib/book/columnDocs.ts";
import {aboutRows, aboutText, emptyCsv, emptyTable, wrapped} from "../../lib/book/emptyBook.ts";
import {exampleNote} from "../../lib/book/example.ts";
import {fields} from "../../lib/book/field.ts";
import {parseBook} from "../../lib/book/parseBook.ts";
import {fileNames, files, ownFileNames} from "../../lib/book/records.ts";
import {rowAccounts} from "../../lib/book/rowAccount.ts";
import {brief, settingsOf} from "./smallBook.ts";

/** The columns that a new book begins with. */
const ownDocs = () => columnDocs().filter(({file}) => ownFileNames.includes(file));

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

  test("is emptyTable() as text, whose numbers are numbers and whose days are days", () => {
    const [headings, example] = emptyTable(file);
    const [, text] = parse(emptyCsv(file), {bom: true}) as string[][];
    expect(headings).toEqual(docs.map(({heading}) => heading));
    const cells = fields(files[file].schema).map(([, {kind}], index) => {
      const cell = text![index]!;
      if (cell === "") return "";
      return kind === "date" ? {date: cell} : kind === "number" || kind === "integer" ? Number(cell) : cell;
    });
    expect(example).toEqual(cells);
  });

  test("with semicolons has the same cells, numbers with decimal commas", () => {
    const plain = parse(emptyCsv(file), {bom: true}) as string[][];
    const continental = parse(emptyCsv(file, {semicolons: true}), {bom: true, delimiter: ";"}) as string[][];
    const numeric = (cell: string) => /^\d+\.\d+$/.test(cell);
    expect(continental).toEqual(plain.map((row) => row.map((cell) => (numeric(cell) ? cell.replace(".", ",") : cell))));
  });
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

test("rowAccounts of a new book: one row read in each file, no data, none used or refused", () => {
  const texts = Object.fromEntries(fileNames.map((file) => [file, emptyCsv(file)]));
  const accounts = rowAccounts(parseBook(texts, settingsOf()));
  expect(accounts.map(({read, used, refused, notData}) => [read, used, refused, notData])).toEqual(
    fileNames.map(() => [1, 0, 0, 1])
  );
});

test("wrapped() breaks at blanks only, begins each line as told and loses no word", () => {
  const words = `${"a".repeat(60)} ${"b".repeat(36)} ${"c".repeat(120)} d`;
  const [a, b, c, d] = words.split(" ");
  // 3 + 60 + 1 + 36 = 100 characters, the most that a line has.
  expect(wrapped(words, "// ")).toEqual([`// ${a} ${b}`, `   ${c}`, `   ${d}`]);
  expect(wrapped(`${words} e`, "//  ", "> ")).toEqual([`//  ${a}`, `> ${b}`, `> ${c}`, `> ${d} e`]);
});

test("no line of aboutText() is longer than 100 characters", () => {
  const lines = aboutText().replace("\ufeff", "").split("\r\n");
  expect(lines.filter((line) => [...line].length > 100)).toEqual([]);
  expect(lines.some((line) => [...line].length > 95)).toBe(true);
});

test("aboutText() lists every column under its file, with unit, whether it must be filled, and what it is", () => {
  const text = aboutText();
  expect(text).toMatch(/^\ufeffAbout this book\r\n/);
  expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  const parts = text.split(/\r\n(?=\w+\.csv: one row is )/).slice(1);
  expect(parts.map((part) => part.slice(0, part.indexOf(":")))).toEqual(ownFileNames);
  for (const {file, heading, unit, required, description, example} of ownDocs()) {
    const words = parts[ownFileNames.indexOf(file)]!.replaceAll(/\s+/g, " ");
    const expected = [heading, unit, required && "must be", `${description}. Example: ${example} `];
    expect(`${words} `, `${file} ${heading}`).toContain(` ${expected.filter(Boolean).join(" ")}`);
  }
});

test("aboutRows() lists every column under its sheet in the same words", () => {
  const rows = aboutRows();
  for (const {file, heading, unit = "", required, description, example} of ownDocs()) {
    const title = rows.findIndex(([cell = ""]) => cell.startsWith(`${file.replace(".csv", "")}: one row is `));
    const below = rows.slice(title + 1);
    const end = below.findIndex((row) => row.length === 0);
    const table = end < 0 ? below : below.slice(0, end);
    expect(table).toContainEqual([heading, unit, required ? "must be" : "", description, example]);
  }
});
