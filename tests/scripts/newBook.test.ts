import {mkdirSync, readdirSync, readFileSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {describe, expect, test} from "vitest";
import * as XLSX from "xlsx";
import type {Book} from "../../lib/book/parseBook.ts";
import {ownFileNames, recordName} from "../../lib/book/records.ts";
import {parseSettings} from "../../lib/book/settings.ts";
import {faultLines} from "../../scripts/faultLines.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {filesOf, folderOf, runIn} from "./run.ts";

const timeout = 600_000;

const csvFiles = [...ownFileNames, "workshop.json", "about-this-book.txt"];
const linesOf = (text: string) => text.split("\n").filter((line) => line !== "");

/** What is written over the example rows: a lot of two squares of 700 kg/m³, an order, and a turning. */
const ours: Record<string, (string | number)[][]> = {
  lots: [["A", "2025-01-20", "Quillmoor Sawpit", "ash", 2, "", 10.5, "", "", "", "air", ""]],
  squares: [
    ["A1", "A", "2025-01-21", 1500, 40.5, 40, 1701, 12, "", "", "", "", ""],
    ["A2", "A", "2025-01-25", 1500, 40, 40, 1680, 12.5, "", "", "", "", "ours"]
  ],
  orders: [["O1", "2025-02-01", "2025-05-20", "ash", "", 9.5, "", "", "", "", "", "", 1, "", "", ""]],
  events: [["2025-04-21", "A1", "turned", "rough-round", 1100.5, 11, "", "", "", "", ""]],
  climate: [["2025-04-21", 16.5, 61, ""]]
};

/** How a spreadsheet shows and saves a cell: ISO, British, or with decimal commas and semicolons. */
const dialects = {
  iso: {between: ",", decimal: ".", dates: "yyyy-mm-dd"},
  British: {between: ",", decimal: ".", dates: "dd/mm/yyyy"},
  German: {between: ";", decimal: ",", dates: "dd.mm.yyyy"},
  French: {between: ";", decimal: ",", dates: "dd/mm/yyyy"}
} as const;

function cellText(cell: string | number, {decimal, dates}: (typeof dialects)[keyof typeof dialects]): string {
  const date = /^(\d{4})-(\d\d)-(\d\d)$/.exec(String(cell));
  if (date) return dates.replace("yyyy", date[1]!).replace("mm", date[2]!).replace("dd", date[3]!);
  return typeof cell === "number" ? String(cell).replace(".", decimal) : cell;
}

/** A file with its example row written over by ours, as a spreadsheet saves it. */
function withOurs(text: string, record: string, dialect: keyof typeof dialects): string {
  const how = dialects[dialect];
  const heading = linesOf(text)[0]!.trim().replaceAll(/[,;]/g, how.between);
  const rows = ours[record]!.map((row) => row.map((cell) => cellText(cell, how)).join(how.between));
  return [heading, ...rows].map((line) => `${line}\r\n`).join("");
}

const dataOf = ({lots, squares, orders, events, climate}: Book) => ({lots, squares, orders, events, climate});

/** What is amiss with a new book, and the only thing: that the first rows are still to be entered. */
const notFilledIn = (lots: string, squares: string) => [
  `blocking ${lots}: must be filled with at least one sound purchase. Enter the first purchase, or mend the rows listed.`,
  `doubt    ${squares}: must be filled with at least one row below its headings. Enter the first row.`
];

/** Holds that nothing is amiss in these lines but that; returns what else they note. */
function isNotFilledIn(lines: readonly string[], sheets?: string): string[] {
  const place = (record: string) => (sheets === undefined ? `${record}.csv` : `${sheets}, sheet ${record}`);
  const isNote = (line: string) => line.startsWith("note ");
  expect(lines.filter((line) => !isNote(line))).toEqual(notFilledIn(place("lots"), place("squares")));
  return lines.filter(isNote);
}

/** The faults that `check` lists of a book that cannot be used. */
async function checked(cwd: string, book: string): Promise<string[]> {
  const {code, stdout, stderr} = await runIn(cwd, "check", "--book", book);
  expect(code).toBe(3);
  return linesOf(stdout + stderr).filter((line) => /^(blocking|refused|doubt|note) /.test(line));
}

describe.concurrent("npm run new-book my-book", {timeout}, () => {
  test("makes the files of a book, and says what to do next", async () => {
    const cwd = folderOf({});
    const {code, stdout, stderr} = await runIn(cwd, "new-book", "my-book");
    expect([code, linesOf(stdout), stderr]).toEqual([
      0,
      csvFiles.map((name) => join("my-book", name)),
      "Write over the example rows, then: npx tsx scripts/check.ts --book my-book\n"
    ]);
    expect(readdirSync(join(cwd, "my-book")).sort()).toEqual([...csvFiles].sort());
    const written = filesOf(join(cwd, "my-book"));
    for (const file of ownFileNames) {
      expect(written.get(file), file).toMatch(/^\ufeff(?:[^\r\n]+\r\n){2}$/);
      expect(written.get(file), file).toMatch(/[,;]example: write over this row\r\n$/);
    }
    expect(parseSettings(written.get("workshop.json")!)).toEqual(parseSettings("{}"));
    expect(isNotFilledIn(await checked(cwd, "my-book"))).toEqual([]);
  });

  test("with the examples written over the book has no fault", async () => {
    const cwd = folderOf({});
    await runIn(cwd, "new-book", "my-book");
    for (const file of ownFileNames) {
      const path = join(cwd, "my-book", file);
      writeFileSync(path, withOurs(readFileSync(path, "utf8"), recordName(file), "iso"));
    }
    const {code, stdout} = await runIn(cwd, "check", "--book", "my-book", "--strict");
    expect([code, linesOf(stdout)[0]]).toEqual([0, "Nothing to mend: every row was read and used."]);
  });

  test("--semicolons gives what spreadsheets with decimal commas expect", async () => {
    const cwd = folderOf({});
    const {code} = await runIn(cwd, "new-book", "my-book", "--semicolons");
    expect(code).toBe(0);
    const climate = readFileSync(join(cwd, "my-book", "climate.csv"), "utf8");
    expect(linesOf(climate)[1]).toBe("2025-06-02;16,5;61;example: write over this row\r");
    for (const note of isNotFilledIn(await checked(cwd, "my-book")))
      expect(note).toContain(": is read with semicolons between the cells.");
  });

  test("a book saved by a spreadsheet of another country is read the same, example rows and ours", async () => {
    const cwd = folderOf({});
    await runIn(cwd, "new-book", "my-book");
    const made = filesOf(join(cwd, "my-book"));
    const read = Object.keys(dialects).map((name) => {
      const dialect = name as keyof typeof dialects;
      const files = ownFileNames.map((file) => [file, withOurs(made.get(file)!, recordName(file), dialect)]);
      const {book, problems} = readBook(folderOf(Object.fromEntries(files)));
      expect(
        problems.filter(({severity}) => severity !== "note"),
        name
      ).toEqual([]);
      return dataOf(book!);
    });
    expect(read[0]!.squares).toHaveLength(2);
    expect(read[0]!.squares[1]).toMatchObject({square: "A2", measuredOn: "2025-01-25", moisturePct: 12.5, row: 3});
    for (const other of read) expect(other).toEqual(read[0]);
  });
});

describe.concurrent("npm run new-book my-book --workbook", {timeout}, () => {
  test("makes one workbook and its settings; days are dates and numbers are numbers in it", async () => {
    const cwd = folderOf({});
    const {code, stdout} = await runIn(cwd, "new-book", "my-book", "--workbook");
    const names = ["workshop.json", "my-book.xlsx"];
    expect([code, linesOf(stdout)]).toEqual([0, names.map((name) => join("my-book", name))]);
    expect(readdirSync(join(cwd, "my-book")).sort()).toEqual(names.toReversed());
    const workbook = XLSX.read(readFileSync(join(cwd, "my-book", "my-book.xlsx")), {cellDates: true, UTC: true});
    expect(workbook.SheetNames).toEqual(["about this book", "lots", "squares", "orders", "events", "climate"]);
    const rows = XLSX.utils.sheet_to_json<unknown[]>(workbook.Sheets.climate!, {header: 1, UTC: true});
    expect(rows).toEqual([
      ["date", "temperature_c", "humidity_pct", "note"],
      [new Date("2025-06-02T00:00Z"), 16.5, 61, "example: write over this row"]
    ]);
    for (const book of ["my-book", join("my-book", "my-book.xlsx")])
      expect(isNotFilledIn(await checked(cwd, book), "my-book.xlsx")).toEqual([]);
  });

  test("with the examples written over it reads the same as the CSV files do", async () => {
    const cwd = folderOf({});
    await Promise.all([runIn(cwd, "new-book", "plain"), runIn(cwd, "new-book", "my-book", "--workbook")]);
    const path = join(cwd, "my-book", "my-book.xlsx");
    const workbook = XLSX.read(readFileSync(path), {cellNF: true});
    for (const file of ownFileNames) {
      const record = recordName(file);
      const rows = ours[record]!.map((row) =>
        row.map((cell) => (/^\d{4}-/.test(String(cell)) ? new Date(`${cell}T00:00Z`) : cell))
      );
      XLSX.utils.sheet_add_aoa(workbook.Sheets[record]!, rows, {origin: "A2", UTC: true});
      const plain = join(cwd, "plain", file);
      writeFileSync(plain, withOurs(readFileSync(plain, "utf8"), record, "iso"));
    }
    writeFileSync(path, XLSX.write(workbook, {type: "buffer", bookType: "xlsx"}));
    const read = ["my-book", "plain"].map((name) => readBook(join(cwd, name)));
    expect(read[0]!.problems).toEqual([]);
    expect(dataOf(read[0]!.book!)).toEqual(dataOf(read[1]!.book!));
    expect(read[0]!.book!.settings).toEqual(read[1]!.book!.settings);
  });

  test("its sheets saved as CSV are a new book too, whatever the country", async () => {
    const cwd = folderOf({});
    await runIn(cwd, "new-book", "my-book", "--workbook");
    const bytes = readFileSync(join(cwd, "my-book", "my-book.xlsx"));
    for (const [dates, decimal, shown] of [
      ["yyyy-mm-dd", ".", "2025-06-02;16.5;61"],
      ["m/d/yyyy", ".", "6/2/2025;16.5;61"],
      ["dd/mm/yyyy", ",", "02/06/2025;16,5;61"],
      ["dd\\.mm\\.yyyy", ",", "02.06.2025;16,5;61"]
    ] as const) {
      const workbook = XLSX.read(bytes, {cellNF: true});
      const saved = ownFileNames.map((file) => {
        const sheet = workbook.Sheets[recordName(file)]!;
        for (const [place, cell] of Object.entries(sheet)) {
          if (place.startsWith("!") || cell.t !== "n") continue;
          const text = {t: "s", v: String(cell.v).replace(".", decimal)};
          Object.assign(cell, {w: undefined}, cell.z === "yyyy-mm-dd" ? {z: dates} : text);
        }
        return [file, XLSX.utils.sheet_to_csv(sheet, {FS: ";"})];
      });
      const files: Record<string, string> = Object.fromEntries(saved);
      expect(linesOf(files["climate.csv"]!)[1]).toBe(`${shown};example: write over this row`);
      const notes = isNotFilledIn(faultLines(readBook(folderOf(files)).problems).lines);
      for (const note of notes) expect(note).toContain(": is read with semicolons between the cells.");
    }
  });
});

describe.concurrent("new-book never writes over anything", {timeout}, () => {
  test.each(["lots.csv", "workshop.json", "about-this-book.txt", "LOTS.csv"])("%s is there", async (name) => {
    const cwd = folderOf({[`my-book/${name}`]: "ours"});
    const {code, stdout, stderr} = await runIn(cwd, "new-book", "my-book");
    expect([code, stdout]).toEqual([2, ""]);
    expect(stderr).toBe(
      `my-book has ${name} already; nothing was written and nothing changed. Choose another folder, or move what is there away.\n`
    );
    expect([...filesOf(cwd)]).toEqual([[join("my-book", name), "ours"]]);
  });

  test.each(["my-book.xlsx", "workshop.json"])("%s is there, for a workbook", async (name) => {
    const cwd = folderOf({[`my-book/${name}`]: "ours"});
    const {code, stderr} = await runIn(cwd, "new-book", "my-book", "--workbook");
    expect([code, stderr]).toEqual([2, expect.stringContaining(`my-book has ${name} already;`)]);
    expect([...filesOf(cwd)]).toEqual([[join("my-book", name), "ours"]]);
  });

  test("all that is there is named; other files stay and do not matter", async () => {
    const cwd = folderOf({"a/orders.csv": "1", "a/lots.csv": "2", "b/letter.md": "3"});
    const {stderr} = await runIn(cwd, "new-book", "a");
    expect(stderr).toContain("a has lots.csv, orders.csv already;");
    expect((await runIn(cwd, "new-book", "b")).code).toBe(0);
    expect(readdirSync(join(cwd, "b")).sort()).toEqual([...csvFiles, "letter.md"].sort());
    expect(readFileSync(join(cwd, "b", "letter.md"), "utf8")).toBe("3");
  });

  test("where a file cannot be written, those before it are taken away again, and a folder that was not there", async () => {
    // A name of 252 letters may be a folder's, but with .xlsx behind it is longer than the 255 that file systems allow.
    const name = "b".repeat(252);
    const cwd = folderOf({});
    const {code, stdout, stderr} = await runIn(cwd, "new-book", name, "--workbook");
    expect([code, stdout]).toEqual([2, ""]);
    expect(stderr).toContain(".xlsx could not be written (E");
    expect(readdirSync(cwd)).toEqual([]);

    mkdirSync(join(cwd, name));
    writeFileSync(join(cwd, name, "letter.md"), "ours");
    expect((await runIn(cwd, "new-book", name, "--workbook")).code).toBe(2);
    expect(readdirSync(join(cwd, name))).toEqual(["letter.md"]);
  });

  test("where a file has the name of the folder, it says so", async () => {
    const cwd = folderOf({"my-book": "ours"});
    const {code, stderr} = await runIn(cwd, "new-book", "my-book");
    expect([code, stderr]).toEqual([
      2,
      expect.stringContaining("a part of the path is a file, and a folder is wanted.")
    ]);
    expect([...filesOf(cwd)]).toEqual([["my-book", "ours"]]);
  });
});

describe.concurrent("new-book used wrongly ends with 2, says what was wanted, and writes nothing", {timeout}, () => {
  test.each([
    [
      [],
      "error: missing required argument 'folder'\nName the folder to make, like: npx tsx scripts/new-book.ts my-book"
    ],
    [["my", "book"], "error: too many arguments. Expected 1 argument but got 2."],
    [["b", "--semicolon"], "error: unknown option '--semicolon'\n(Did you mean --semicolons?)"],
    [["b", "--workbook", "--semicolons"], "error: option '--semicolons' cannot be used with option '--workbook'"],
    [[" "], "The folder must be named, like my-book, got “ ”."]
  ])("%j", async (args, sentence) => {
    const cwd = folderOf({});
    const {code, stdout, stderr} = await runIn(cwd, "new-book", ...args);
    expect([code, stdout]).toEqual([2, ""]);
    expect(stderr).toContain(sentence);
    expect(stderr).not.toMatch(/^\s+at /m);
    expect(readdirSync(cwd)).toEqual([]);
  });
});

test("new-book --help says what it takes, and ends with 0", {timeout}, async () => {
  const {code, stdout} = await runIn(folderOf({}), "new-book", "--help");
  expect(code).toBe(0);
  for (const word of ["<folder>", "--workbook", "--semicolons"]) expect(stdout).toContain(word);
});

test("new-book makes a folder within folders, and quotes a name with spaces for the shell", {timeout}, async () => {
  const cwd = folderOf({});
  const {code, stderr} = await runIn(cwd, "new-book", "books/my own/");
  expect([code, stderr]).toEqual([
    0,
    'Write over the example rows, then: npx tsx scripts/check.ts --book "books/my own/"\n'
  ]);
  expect(readdirSync(join(cwd, "books", "my own"))).toHaveLength(7);
});
