import {readFileSync, symlinkSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {parse} from "csv-parse/sync";
import {expect, test} from "vitest";
import {emptyTable} from "../../../lib/book/emptyBook.ts";
import type {Advice} from "../../../lib/book/records.ts";
import {fileNames, recordName} from "../../../lib/book/records.ts";
import {type AdviceGiven, adviceCsv, adviceRows, keepAdvice} from "../../../scripts/io/keepAdvice.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {realPlace} from "../../../scripts/io/realPlace.ts";
import {workbookBytes} from "../../../scripts/io/writeWorkbook.ts";
import {texts} from "../../book/smallBook.ts";
import {filesOf, folderOf} from "../run.ts";

const ash: AdviceGiven = {
  species: "ash",
  squares: 120,
  bandLow: 105,
  bandHigh: 140,
  orders: [
    {supplier: "Low Fold, Sawmill", squares: 80},
    {supplier: "Sägerei Quill", squares: 40}
  ],
  demand: {mean: 96.44, low: 61, high: 139},
  usable: {mean: 0.4651, low: 0.31, high: 0.615},
  profit: 9840.4,
  expectedShort: 3.12,
  expectedLeftover: 14.18,
  service: 0.8149
};
const season = {startsOn: "2025-06-01", endsOn: "2026-05-31"};
const rowsOn = (advisedOn: string, ...given: AdviceGiven[]) => adviceRows(given, {advisedOn, season});
const rows = rowsOn("2025-03-01", ash);

/** Keeps rows in the book of a folder, as the command does. */
function kept(place: string, some: readonly Advice[] = rows) {
  const {book, problems} = readBook(place);
  if (!book) throw new Error(JSON.stringify(problems));
  return keepAdvice(place, book, some);
}

/** What another reader of CSV finds, as the book's own reader finds it too. */
const adviceOf = (place: string) => readBook(place).book!.advice.map(({row: _, ...values}) => values);

test("adviceRows rounds as the file shows, names whom, and notes what was made afterwards", () => {
  expect(rows).toEqual([
    {
      advisedOn: "2025-03-01",
      species: "ash",
      seasonFrom: "2025-06-01",
      seasonTo: "2026-05-31",
      squares: 120,
      squaresLow: 105,
      squaresHigh: 140,
      whom: "80 Low Fold, Sawmill + 40 Sägerei Quill",
      shaftsWanted: 96.4,
      shaftsWantedLow: 61,
      shaftsWantedHigh: 139,
      usablePct: 46.5,
      usableLowPct: 31,
      usableHighPct: 61.5,
      profit: 9840,
      shaftsShort: 3.1,
      shaftsLeftOver: 14.2,
      servicePct: 81.5
    }
  ]);
  const [none] = adviceRows([{...ash, squares: 0, orders: [], usable: undefined}], {
    advisedOn: "2025-03-01",
    season,
    later: true
  });
  expect(none).not.toHaveProperty("whom");
  expect(none).not.toHaveProperty("usablePct");
  expect(none!.note).toBe("made afterwards from what was known that day");
});

/** What is said: the file by its whole path, so that nobody writes into another book unseen. */
const keptIn = (folder: string, file = "advice.csv") =>
  `Kept the advice on ash of 2025-03-01 in ${realPlace(join(folder, file))}.`;

test("the file is made with its headings where there is none; another reader of CSV reads the same", () => {
  const folder = folderOf(texts());
  const before = filesOf(folder);
  const {said, kept: some, paste} = kept(folder);
  expect(said).toEqual([keptIn(folder)]);
  expect([some, paste]).toEqual([rows, undefined]);
  const after = filesOf(folder);
  const [headings, cells] = parse(after.get("advice.csv")!) as string[][];
  expect(headings!.slice(0, 5)).toEqual(["advised_on", "species", "season_from", "season_to", "squares"]);
  expect(cells![headings!.indexOf("whom")]).toBe("80 Low Fold, Sawmill + 40 Sägerei Quill");
  expect(cells![headings!.indexOf("usable_low_pct")]).toBe("31");
  expect(adviceOf(folder)).toEqual(rows);
  after.delete("advice.csv");
  expect(after).toEqual(before);
});

test("a second advice of the day replaces nothing and says so; another species of that day is added", () => {
  const folder = folderOf(texts());
  kept(folder);
  const before = readFileSync(join(folder, "advice.csv"));
  const again = kept(folder, rowsOn("2025-03-01", {...ash, squares: 999}));
  expect(again.kept).toEqual([]);
  expect(again.said).toEqual([
    "The advice on ash of 2025-03-01 is kept already (row 2): nothing was replaced. Take that row out if the new one is wanted."
  ]);
  expect(readFileSync(join(folder, "advice.csv"))).toEqual(before);
  const both = kept(folder, rowsOn("2025-03-01", ash, {...ash, species: "maple"}));
  expect(both.said).toHaveLength(2);
  expect(both.kept.map(({species}) => species)).toEqual(["maple"]);
  kept(folder, rowsOn("2025-04-01", ash));
  expect(adviceOf(folder).map(({advisedOn, species}) => `${advisedOn} ${species}`)).toEqual([
    "2025-03-01 ash",
    "2025-03-01 maple",
    "2025-04-01 ash"
  ]);
  expect(readFileSync(join(folder, "advice.csv")).subarray(0, before.length)).toEqual(before);
});

const headings = parse(adviceCsv([]))[0] as string[];
const old = ["2025-02-01", "ash", "2025-06-01", "2026-05-31", "100", "90", "110", "100 Quill", "96.5", "61", "139"];
const line = (cells: readonly string[], between = ",") =>
  [...cells, ...new Array<string>(headings.length - cells.length).fill("")].join(between);
const british = ["01/02/2025", "ash", "01/06/2025", "31/05/2026", ...old.slice(4)];

test.each([
  ["no line end at the end", `${line(headings)}\n${line(old)}`, `\n`],
  ["CR LF and a byte order mark", `\ufeff${line(headings)}\r\n${line(old)}\r\n`, "\r\n"],
  ["semicolons and decimal commas", `${line(headings, ";")}\r\n${line(old.with(8, "96,5"), ";")}\r\n`, "\r\n"],
  ["semicolons and decimal points", `${line(headings, ";")}\n${line(old, ";")}\n`, "\n"],
  [
    "tabs, columns in another order, one of the owner's own",
    `mine\t${line(headings.toReversed(), "\t")}\nx\t${line(old.concat(new Array(headings.length - old.length).fill("")).toReversed(), "\t")}\n`,
    "\n"
  ],
  ["days as a British spreadsheet saved them", `${line(headings)}\r\n${line(british)}\r\n`, "\r\n"],
  ["headings alone", `${line(headings)}\n`, "\n"]
])("what stands there stays and the row is added in the file's own way: %s", (_, text, end) => {
  const folder = folderOf({...texts(), "advice.csv": text});
  const there = adviceOf(folder);
  const {said, paste} = kept(folder);
  expect([said.length, paste]).toEqual([1, undefined]);
  const now = readFileSync(join(folder, "advice.csv"), "utf8");
  expect(now.startsWith(text)).toBe(true);
  expect(now.endsWith(end)).toBe(true);
  expect(now.split(end).join("")).not.toMatch(/[\r\n]/);
  expect(adviceOf(folder)).toEqual([...there, ...rows]);
});

test("columns that the owner took out are not brought back", () => {
  const needed = headings.filter((heading) => !/usable|profit|short|over|service|note|whom/.test(heading));
  const folder = folderOf({...texts(), "advice.csv": `${needed.join(",")}\n`});
  kept(folder);
  expect(readFileSync(join(folder, "advice.csv"), "utf8")).toBe(
    `${needed.join(",")}\n2025-03-01,ash,2025-06-01,2026-05-31,120,105,140,96.4,61,139\n`
  );
});

test("a file of other letters is left alone, and the rows are given", () => {
  const folder = folderOf(texts());
  const bytes = Buffer.from(`${line(headings)}\n${line(old.with(7, "Sägerei"))}\n`, "latin1");
  writeFileSync(join(folder, "advice.csv"), bytes);
  const {said, kept: some, paste} = kept(folder);
  expect(said).toEqual([
    "The advice cannot be kept in advice.csv: its letters are windows-1252; save it as “CSV UTF-8” first. Nothing was changed there. Paste the rows yourself."
  ]);
  expect([some, paste]).toEqual([[], adviceCsv(rows)]);
  expect(readFileSync(join(folder, "advice.csv"))).toEqual(bytes);
});

test("a decimal comma that the settings ask for is written, whatever stands between the cells", () => {
  const settings = JSON.stringify({reading: {advice: {decimal: "comma"}}});
  const folder = folderOf({...texts(), "advice.csv": `${line(headings)}\n`, "workshop.json": settings});
  expect(kept(folder).said).toEqual([keptIn(folder)]);
  expect(readFileSync(join(folder, "advice.csv"), "utf8")).toContain('"96,4"');
  expect(adviceOf(folder)).toEqual(rows);
});

test("a file in which a row would be read otherwise than it was written is left alone", () => {
  // The owner's word “ash” stands for maple in this file: the row would be read as advice on maple.
  const settings = JSON.stringify({reading: {advice: {words: {species: {ash: "maple"}}}}});
  const text = `${line(headings)}\n`;
  for (const more of [{"advice.csv": text}, {}]) {
    const folder = folderOf({...texts(), ...more, "workshop.json": settings});
    const before = filesOf(folder);
    const {said, paste} = kept(folder);
    expect(said).toEqual([
      "The advice cannot be kept in advice.csv: a row added at its end would not be read as it was written, or others would be read otherwise. Nothing was changed there. Paste the rows yourself."
    ]);
    expect(paste).toBe(adviceCsv(rows));
    expect(filesOf(folder)).toEqual(before);
  }
});

test("a new file is written as the settings say that all files are", () => {
  const all = {delimiter: ";", decimal: "comma", dates: "day-first"} as const;
  const books = Object.entries(texts()).map(([name, text]) => [name, text!.replaceAll(",", ";")]);
  const folder = folderOf({...Object.fromEntries(books), "workshop.json": JSON.stringify({reading: {all}})});
  kept(folder);
  expect(adviceOf(folder)).toEqual(rows);
  expect(readFileSync(join(folder, "advice.csv"), "utf8")).toContain(";96,4;61;139;46,5;");
});

test("a workbook is never written to: the rows are given to be pasted", () => {
  const sheets = fileNames.map((file) => ({name: recordName(file), rows: emptyTable(file)}));
  const folder = folderOf({"workshop.json": "{}"});
  const own = sheets.map(({name, rows: [first, second]}) => ({
    name,
    rows: [first!, second!.with(first!.indexOf("note"), "ours")].slice(0, name === "advice" ? 1 : 2)
  }));
  writeFileSync(join(folder, "stock.xlsx"), workbookBytes(own));
  const before = readFileSync(join(folder, "stock.xlsx"));
  for (const place of [folder, join(folder, "stock.xlsx")]) {
    const {said, kept: some, paste} = kept(place);
    expect(said).toEqual([
      "The advice cannot be kept in stock.xlsx, sheet advice: a workbook is read, never written to. Nothing was changed there. Paste the rows yourself."
    ]);
    expect([some, paste]).toEqual([[], adviceCsv(rows)]);
  }
  // Of a workbook without the sheet, in a folder, advice.csv beside it is read, so it is kept there; by the workbook's own name it is not.
  writeFileSync(join(folder, "stock.xlsx"), workbookBytes(own.filter(({name}) => name !== "advice")));
  expect(kept(join(folder, "stock.xlsx")).said[0]).toContain("cannot be kept in stock.xlsx:");
  expect(kept(folder).said).toEqual([keptIn(folder)]);
  expect(adviceOf(folder)).toEqual(rows);
  expect(before.length).toBeGreaterThan(0);
});

test("a file under a name of its own, or behind a link, is found", () => {
  const named = folderOf({
    ...texts(),
    "said.csv": `${line(headings)}\n`,
    "workshop.json": JSON.stringify({reading: {advice: {file: "said.csv"}}})
  });
  expect(kept(named).said).toEqual([keptIn(named, "said.csv")]);
  expect(adviceOf(named)).toEqual(rows);
  const linked = join(folderOf({}), "book");
  const folder = folderOf(texts());
  symlinkSync(folder, linked, "junction");
  kept(linked);
  expect(adviceOf(folder)).toEqual(rows);
});

test("kept advice is no event of the workshop: the last day of the book stays what it was", () => {
  const folder = folderOf(texts());
  const lastOf = () => {
    const {book, ...rest} = readBook(folder);
    return bookAsOf({...rest, book: book!}).asOf;
  };
  const before = lastOf();
  kept(folder, rowsOn("2025-09-09", ash));
  expect([lastOf(), before]).toEqual(["2025-02-01", "2025-02-01"]);
});
