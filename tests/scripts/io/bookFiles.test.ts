import {execFileSync} from "node:child_process";
import {createHash} from "node:crypto";
import {chmodSync, mkdirSync, mkdtempSync, readdirSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {dirname, join} from "node:path";
import {describe, expect, test} from "vitest";
import type {Grid} from "../../../lib/book/grid.ts";
import {rowMark} from "../../../lib/book/mended.ts";
import {rowCells} from "../../../lib/book/plainTable.ts";
import {problemSentence} from "../../../lib/book/problem.ts";
import type {PlainFile} from "../../../lib/book/readPlain.ts";
import {aboutSheet, bookFiles} from "../../../scripts/io/bookFiles.ts";
import {readBook} from "../../../scripts/io/readBook.ts";
import {UserError} from "../../../scripts/io/writeReport.ts";
import {workbookBytes} from "../../../scripts/io/writeWorkbook.ts";
import {brief, headings, texts} from "../../book/smallBook.ts";
import {style, workbookOf} from "./workbookOf.ts";

/** A folder with these files; a name that ends in "/" is a folder in it. */
function folderOf(contents: Record<string, string | Uint8Array>): string {
  const folder = mkdtempSync(join(tmpdir(), "book-"));
  for (const [name, content] of Object.entries(contents)) {
    const path = join(folder, name);
    mkdirSync(name.endsWith("/") ? path : dirname(path), {recursive: true});
    if (!name.endsWith("/")) writeFileSync(path, content);
  }
  return folder;
}

/** The file or sheet each kind of record was found in. */
function found(place: string): Record<string, string> {
  const {grids} = bookFiles(place);
  return Object.fromEntries(Object.entries(grids).map(([name, grid]) => [name, grid.file]));
}

const faults = (place: string) => bookFiles(place).problems.map((problem) => `${problem.severity} ${brief(problem)}`);

const cells = (text: string) =>
  text
    .trim()
    .split("\n")
    .map((line) => line.split(","));
const sheet = (name: string, text: string) => ({name, rows: cells(text)});
/** A workbook of sheets, each given by its CSV text. */
const workbook = (sheets: Record<string, string>) =>
  workbookBytes(Object.entries(sheets).map(([name, text]) => sheet(name, text)));
const small = texts();
const settings = (reading: object) => ({"workshop.json": JSON.stringify({reading})});
const {"lots.csv": lots, ...others} = small;

describe("a folder of CSV files", () => {
  test("is read with its settings, and each file read is listed with its size and SHA-256", () => {
    const text = '{"name": "Fennaby turners"}';
    const book = bookFiles(folderOf({...small, "workshop.json": text}));
    expect(book.problems).toEqual([]);
    expect(book.settings?.name).toBe("Fennaby turners");
    // A file in the plain form is read as columns.
    const plain = book.grids["lots.csv"] as PlainFile;
    expect(plain.table.found.headings).toEqual(headings["lots.csv"].split(","));
    expect(plain.table.rows).toBe(1);
    expect(rowCells(plain.bytes(plain.table.starts[0]!, plain.size), plain.decode)).toEqual([
      "A",
      "2025-01-10",
      "Quillmoor Sawpit",
      "ash",
      "2",
      "10"
    ]);
    expect(book.files.map(({name}) => name).sort()).toEqual([
      "events.csv",
      "lots.csv",
      "orders.csv",
      "squares.csv",
      "workshop.json"
    ]);
    expect(book.files.find(({name}) => name === "workshop.json")).toEqual({
      name: "workshop.json",
      bytes: 27,
      sha256: createHash("sha256").update(text).digest("hex")
    });
  });

  test("needs no settings, and a file that is not there is no fault here", () => {
    const book = bookFiles(folderOf({"lots.csv": lots}));
    expect(book.settings?.name).toBe("The workshop");
    expect(Object.keys(book.grids)).toEqual(["lots.csv"]);
    expect(book.problems).toEqual([]);
  });

  test("may have its names in any case, and says them as they are", () => {
    const folder = folderOf({"LOTS.CSV": lots, "Squares.csv": small["squares.csv"], "Workshop.JSON": '{"name": "X"}'});
    expect(found(folder)).toEqual({"lots.csv": "LOTS.CSV", "squares.csv": "Squares.csv"});
    expect(bookFiles(folder).settings?.name).toBe("X");
    expect(faults(folder)).toEqual([]);
  });

  test("may hold text as some spreadsheets save it: .tsv or .txt", () => {
    const folder = folderOf({"lots.tsv": lots.replaceAll(",", "\t"), "Orders.txt": small["orders.csv"]});
    expect(found(folder)).toEqual({"lots.csv": "lots.tsv", "orders.csv": "Orders.txt"});
    expect(bookFiles(folder).grids["lots.csv"]).toMatchObject({delimiter: "\t"});
    expect(faults(folder)).toEqual([]);
  });

  test("says of old letters that they were read as such", () => {
    const folder = folderOf({"lots.csv": Buffer.from(lots.replace("Quillmoor", "Quillm\u00fcr"), "latin1")});
    const {grids} = bookFiles(folder);
    const grid = grids["lots.csv"] as Grid;
    expect(grid.how).toEqual(["windows-1252 letters"]);
    expect(grid.rows[1]?.cells[2]).toBe("Quillm\u00fcr Sawpit");
  });

  test("with settings that cannot be read stops there", () => {
    const book = bookFiles(folderOf({...small, "workshop.json": "{name: "}));
    expect(book.settings).toBeUndefined();
    expect(book.grids).toEqual({});
    expect(book.problems.map(brief)).toEqual(["setting-unreadable workshop.json"]);
  });
});

describe("workbooks", () => {
  test("of one workbook, a sheet for each kind of record, named in any case", () => {
    const folder = folderOf({
      "stock.xlsx": workbook({LOTS: lots, " Squares": small["squares.csv"], events: small["events.csv"]}),
      "orders.csv": small["orders.csv"]
    });
    expect(found(folder)).toEqual({
      "lots.csv": "stock.xlsx, sheet LOTS",
      "squares.csv": "stock.xlsx, sheet  Squares",
      "events.csv": "stock.xlsx, sheet events",
      "orders.csv": "orders.csv"
    });
    expect(faults(folder)).toEqual([]);
    expect(readBook(folder).book?.lots).toMatchObject([{lot: "A", squaresBought: 2, priceEach: 10}]);
  });

  test("a workbook by its own path is read with the settings beside it, and nothing else beside it", () => {
    const folder = folderOf({
      "Stock 2025.XLSX": workbook({Lots: lots}),
      "squares.csv": small["squares.csv"],
      "other.xlsx": "broken",
      "Workshop.json": '{"name": "X"}'
    });
    const place = join(folder, "Stock 2025.XLSX");
    expect(found(place)).toEqual({"lots.csv": "Stock 2025.XLSX, sheet Lots"});
    expect(faults(place)).toEqual([]);
    expect(bookFiles(place).settings?.name).toBe("X");
  });

  test("a workbook for each kind of record: its first sheet is read, whatever it is called", () => {
    const folder = folderOf({
      "Lots.xlsx": workbook({Sheet1: lots}),
      "squares.xlsx": workbook({Tabelle1: small["squares.csv"]})
    });
    expect(found(folder)).toEqual({
      "lots.csv": "Lots.xlsx, sheet Sheet1",
      "squares.csv": "squares.xlsx, sheet Tabelle1"
    });
    expect(faults(folder)).toEqual([]);
  });

  test("the sheet so named goes before the first, and a hidden first sheet is passed over", () => {
    const folder = folderOf({"lots.xlsx": workbook({Old: "a,b\n1,2", Lots: lots})});
    expect(found(folder)).toEqual({"lots.csv": "lots.xlsx, sheet Lots"});
    expect(faults(folder)).toEqual(["doubt file-unread lots.xlsx, sheet Old"]);
    const xml = (text: string) => `<sheetData><row r="1"><c r="A1" t="s"><v>${text}</v></c></row></sheetData>`;
    const hidden = workbookOf(
      [
        {name: "lists", state: "hidden", xml: xml("0")},
        {name: "Sheet2", xml: xml("0")}
      ],
      {strings: ["<t>lot</t>"]}
    );
    expect(found(folderOf({"lots.xlsx": hidden}))).toEqual({"lots.csv": "lots.xlsx, sheet Sheet2"});
  });

  test("cells of a workbook have points and days, and formulas are said", () => {
    const row = `<row r="1"><c r="A1" s="${style.date}"><v>45000</v></c><c r="B1"><f>1+1</f><v>2.5</v></c><c r="C1"><f>A2</f></c></row>`;
    const {grids} = bookFiles(folderOf({"lots.xlsx": workbookOf([{name: "S", xml: `<sheetData>${row}</sheetData>`}])}));
    // 45000 is 2023-03-15, see tests/book/cells.test.ts.
    expect(grids["lots.csv"]).toMatchObject({exact: true, rows: [{row: 1, cells: ["2023-03-15", "2.5"]}]});
    expect((grids["lots.csv"] as Grid).how?.[0]).toMatch(/^2 formulas/);
    expect((grids["lots.csv"] as Grid).delimiter).toBeUndefined();
  });

  test("merged cells refuse their rows, and block where they are headings; a merged title above harms nothing", () => {
    const climate = (merged: string) => {
      const rows = [["Air in the store"], ["date", "temperature_c", "humidity_pct"], ["2025-01-01", "16", "55"]];
      const xml = rows.map((row, index) => {
        const filled = row.map((cell, column) => `<c r="${"ABC"[column]}${index + 1}" t="str"><v>${cell}</v></c>`);
        return `<row r="${index + 1}">${filled.join("")}</row>`;
      });
      const sheet = `<sheetData>${xml.join("")}</sheetData><mergeCells count="1"><mergeCell ref="${merged}"/></mergeCells>`;
      const {problems} = readBook(folderOf({...small, "climate.xlsx": workbookOf([{name: "Air", xml: sheet}])}));
      return problems.filter(({code}) => code === "cells-merged").map((one) => [one.severity, one.file, one.row]);
    };
    expect(climate("A1:C1")).toEqual([]);
    expect(climate("A2:B2")).toEqual([["blocking", "climate.xlsx, sheet Air", 2]]);
    expect(climate("A3:A4")).toEqual([["refused", "climate.xlsx, sheet Air", 3]]);
    expect(climate("D3:E3")).toEqual([]);
  });

  test("the sheet about the book, blank sheets and what an open program leaves are passed over", () => {
    const folder = folderOf({
      "stock.xlsx": workbookBytes([
        sheet("Lots", lots),
        {name: "About this book", rows: [["Anything"]]},
        {name: "Sheet2", rows: []}
      ]),
      "~$stock.xlsx": "\u0005Owner",
      "~$lots.xlsx": "\u0005Owner",
      ".~lock.stock.xlsx#": ",owner",
      "._stock.xlsx": "Mac OS X",
      "._lots.csv": "Mac OS X"
    });
    expect(aboutSheet).toBe("about this book");
    expect(found(folder)).toEqual({"lots.csv": "stock.xlsx, sheet Lots"});
    expect(faults(folder)).toEqual([]);
  });
});

describe("kept twice", () => {
  test.each([
    ["as CSV and as a sheet", {"lots.csv": lots, "stock.xlsx": workbook({Lots: lots})}],
    ["in two workbooks", {"a.xlsx": workbook({Lots: lots}), "b.xlsx": workbook({lots})}],
    ["as CSV and as a workbook", {"lots.csv": lots, "lots.xlsx": workbook({Sheet1: lots})}],
    ["as .csv and .txt", {"lots.csv": lots, "lots.txt": lots}]
  ])("%s: neither is read, both are named", (_, contents) => {
    const folder = folderOf({...contents, ...others});
    expect(bookFiles(folder).problems).toMatchObject([{code: "file-twice", severity: "blocking", file: "lots.csv"}]);
    expect(found(folder)).not.toHaveProperty(["lots.csv"]);
    // No fault of a missing file beside it: it is there twice.
    const read = readBook(folder);
    expect(read.book).toBeUndefined();
    expect(read.problems.filter(({code}) => code === "file-missing")).toEqual([]);
  });

  test("the sentence names the places and the setting", () => {
    const [problem] = bookFiles(folderOf({"lots.csv": lots, "stock.xlsx": workbook({Lots: lots})})).problems;
    expect(problemSentence(problem!)).toBe(
      "lots.csv: must be kept in one place, got “stock.xlsx, sheet Lots and lots.csv”. Take all but one away, or say under reading.lots in workshop.json which file or sheet it is."
    );
  });

  test("the setting that the sentence names decides: file or sheet", () => {
    const both = {"lots.csv": lots, "stock.xlsx": workbook({Lots: lots})};
    const decided = (habits: object) => found(folderOf({...both, ...settings({lots: habits})}));
    expect(decided({file: "lots.csv"})).toEqual({"lots.csv": "lots.csv"});
    expect(decided({file: "Stock.xlsx"})).toEqual({"lots.csv": "stock.xlsx, sheet Lots"});
    expect(decided({sheet: "Lots"})).toEqual({"lots.csv": "stock.xlsx, sheet Lots"});
  });

  test("two names that differ only in case, where the disk keeps them apart", () => {
    const folder = folderOf({"lots.csv": lots, "Lots.csv": lots});
    // On Windows and most Macs the second write goes into the first file.
    const apart = readdirSync(folder).length === 2;
    expect(faults(folder)).toEqual(apart ? ["blocking file-twice lots.csv"] : []);
  });

  test("two files of settings that differ only in case: neither is read", () => {
    const folder = folderOf({...small, "workshop.json": '{"name": "X"}', "Workshop.json": '{"name": "Y"}'});
    const apart = readdirSync(folder).length === Object.keys(small).length + 2;
    expect(faults(folder)).toEqual(apart ? ["blocking file-twice workshop.json"] : []);
    expect(bookFiles(folder).settings?.name).toBe(apart ? undefined : "Y");
    if (!apart) return;
    expect(readBook(folder).problems.map(problemSentence)).toEqual([
      "workshop.json: must be kept in one place, got “Workshop.json and workshop.json”. Take all but one away."
    ]);
  });

  test("two files of mended rows that differ only in case: neither is read", () => {
    const mended = `${lots.split("\n")[0]},_row,_mark,_problem\n`;
    const folder = folderOf({...small, "mended-lots-2.csv": mended, "Mended-Lots-2.csv": mended});
    const apart = readdirSync(folder).length === Object.keys(small).length + 2;
    expect(faults(folder)).toEqual(apart ? ["blocking file-twice mended-lots.csv"] : []);
    expect(readBook(folder).book === undefined).toBe(apart);
  });
});

describe("what the settings say of a place", () => {
  test("a file of another name, in any case", () => {
    const folder = folderOf({"Einkauf.csv": lots, ...settings({lots: {file: "einkauf.csv"}})});
    expect(found(folder)).toEqual({"lots.csv": "Einkauf.csv"});
    expect(faults(folder)).toEqual([]);
  });

  test("a sheet of another name, whatever its case and accents", () => {
    const folder = folderOf({
      "stock.xlsx": workbook({Einkäufe: lots, Rest: "a\n1"}),
      ...settings({lots: {sheet: "einkaufe"}})
    });
    expect(found(folder)).toEqual({"lots.csv": "stock.xlsx, sheet Einkäufe"});
    expect(faults(folder)).toEqual(["doubt file-unread stock.xlsx, sheet Rest"]);
  });

  test.each([
    ["one after the other", {lots: {file: "Stock.csv"}, squares: {file: "stock.csv"}}, "lots and squares"],
    ["one with its own name", {lots: {file: "squares.csv"}}, "lots and squares"],
    ["all at once", {all: {file: "stock.csv"}}, "lots and squares and orders and events and climate and advice"]
  ])("a text named for several kinds of record is read as none: %s", (_, reading, kinds) => {
    const name = "all" in reading || reading.lots.file === "Stock.csv" ? "stock.csv" : "squares.csv";
    const folder = folderOf({[name]: lots, "orders.csv": small["orders.csv"], ...settings(reading)});
    const blocking = readBook(folder).problems.filter(({severity}) => severity === "blocking");
    expect(blocking.map(problemSentence)).toContain(
      `${name}: must be read as one kind of record, each kept in a file of its own, got “${kinds}”. Give each its own, and say under reading in workshop.json which file it is.`
    );
    expect(Object.keys(found(folder))).not.toContain("lots.csv");
    expect(Object.keys(found(folder))).not.toContain("squares.csv");
    // Neither is missing too.
    const missing = blocking.filter(({code}) => code === "file-missing").map(({file}) => file);
    expect(missing).toEqual("all" in reading ? [] : ["events.csv"]);
  });

  test("a sheet named for two kinds of record is read as neither", () => {
    const reading = {lots: {file: "Holz.xlsx"}, squares: {file: "Holz.xlsx"}};
    const folder = folderOf({"Holz.xlsx": workbook({Eins: lots}), ...settings(reading)});
    expect(bookFiles(folder).problems.map(problemSentence)).toEqual([
      "Holz.xlsx: must be read as one kind of record, each kept in a sheet of its own, got “lots and squares in sheet Eins”. Give each its own, and say under reading in workshop.json which sheet it is."
    ]);
    expect(found(folder)).toEqual({});
  });

  test("a file for all that is not there is missing, once", () => {
    const folder = folderOf({...small, "stock.xlsx": workbook({Lots: lots}), ...settings({all: {file: "stok.xlsx"}})});
    expect(
      readBook(folder)
        .problems.filter(({severity}) => severity === "blocking")
        .map(problemSentence)
    ).toEqual([
      "stok.xlsx: must be in the book's folder, as reading.all.file in workshop.json says. Did you mean stock.xlsx? Correct the name there, or add the file."
    ]);
  });

  // The two forms of "ä": Unicode Standard Annex 15, figure 3 (composed U+00E4, decomposed U+0061 U+0308).
  test.each([
    ["decomposed on the disk, composed in the settings", "Eink\u0061\u0308ufe.csv", "eink\u00e4ufe.csv"],
    ["composed on the disk, decomposed in the settings", "Eink\u00e4ufe.csv", "EINK\u0041\u0308UFE.csv"]
  ])("a file whose letters are %s", (_, name, said) => {
    const folder = folderOf({...others, [name]: lots, ...settings({lots: {file: said}})});
    expect(faults(folder)).toEqual([]);
    expect(readBook(folder).book?.lots).toHaveLength(1);
    const [onDisk] = readdirSync(folder).filter((one) => one.startsWith("Eink"));
    expect(found(folder)["lots.csv"]).toBe(onDisk);
  });

  test("a workbook whose letters are decomposed on the disk", () => {
    const habits = settings({lots: {file: "H\u00f6lzer.xlsx"}});
    const folder = folderOf({"Ho\u0308lzer.xlsx": workbook({Eins: lots}), ...habits});
    expect(Object.keys(found(folder))).toEqual(["lots.csv"]);
    expect(faults(folder)).toEqual([]);
  });

  test("one workbook for all", () => {
    const folder = folderOf({
      "new.xlsx": workbook({Lots: lots, Squares: small["squares.csv"]}),
      "old.xlsx": workbook({Lots: lots, Squares: small["squares.csv"]}),
      ...settings({all: {file: "new.xlsx"}})
    });
    expect(found(folder)).toMatchObject({
      "lots.csv": "new.xlsx, sheet Lots",
      "squares.csv": "new.xlsx, sheet Squares"
    });
  });

  test("a workbook of another name is read at its first sheet, or at the one named", () => {
    const both = {"Holz.xlsx": workbook({Eins: lots, Zwei: lots})};
    expect(found(folderOf({...both, ...settings({lots: {file: "Holz.xlsx"}})}))).toEqual({
      "lots.csv": "Holz.xlsx, sheet Eins"
    });
    expect(found(folderOf({...both, ...settings({lots: {file: "Holz.xlsx", sheet: "Zwei"}})}))).toEqual({
      "lots.csv": "Holz.xlsx, sheet Zwei"
    });
  });

  test("a sheet that is not there is not replaced by another", () => {
    const folder = folderOf({"lots.xlsx": workbook({Sheet1: lots}), ...settings({lots: {sheet: "Einkauf"}})});
    expect(found(folder)).toEqual({});
    expect(faults(folder)).toEqual(["doubt file-unread lots.xlsx, sheet Sheet1"]);
  });
});

describe("what lies in the book and is none of its records", () => {
  const meant = (name: string) => {
    const {problems} = bookFiles(folderOf({[name]: "a,b\n1,2"}));
    return problems.map(({code, severity, file, mend}) => ({code, severity, file, mend}));
  };

  test.each([
    ["lot.csv", "This file is left as it is and not read. Is it “lots”? Then name it lots.csv."],
    ["Sqares.CSV", "This file is left as it is and not read. Is it “squares”? Then name it squares.csv."],
    ["prices 2024.csv", "This file is left as it is and not read."],
    ["lots.ods", "Save it as .xlsx or as CSV to have it read. Is it “lots”? Then name it lots.xlsx."],
    ["stock.xls", "Save it as .xlsx or as CSV to have it read."],
    ["stock.numbers", "Save it as .xlsx or as CSV to have it read."],
    ["mended-lots.csv", "This file is left as it is and not read."]
  ])("%s is in doubt and says what to do", (name, mend) => {
    expect(meant(name)).toEqual([{code: "file-unread", severity: "doubt", file: name, mend}]);
  });

  test.each(["README.md", "photo.jpg", "readme.txt", "lots.csv.bak", "invoice.pdf"])(
    "%s is left without a word",
    (name) => {
      expect(meant(name)).toEqual([]);
    }
  );

  test("a sheet says which record it may be", () => {
    const {problems} = bookFiles(folderOf({"stock.xlsx": workbook({Squarse: small["squares.csv"]})}));
    expect(problems).toMatchObject([
      {
        code: "file-unread",
        file: "stock.xlsx, sheet Squarse",
        mend: "This sheet is left as it is and not read. Is it “squares”? Then name it squares."
      }
    ]);
  });
});

describe("what cannot be read", () => {
  test.each([
    ["no workbook", "Sorry, no workbook."],
    ["an empty file", ""],
    ["half a workbook", workbook({Lots: lots}).subarray(0, 400)]
  ])("%s called lots.xlsx blocks, and is not missing too", (_, bytes) => {
    const folder = folderOf({...others, "lots.xlsx": bytes});
    expect(faults(folder)).toEqual(["blocking file-unreadable lots.xlsx"]);
    expect(bookFiles(folder).problems[0]!.mend).toBe("Save it again as .xlsx, without a password, or as CSV files.");
    expect(readBook(folder).problems.map(({code}) => code)).not.toContain("file-missing");
  });

  test("a folder called lots.csv blocks, and says so in a sentence", () => {
    const folder = folderOf({...others, "lots.csv/": ""});
    const {problems} = bookFiles(folder);
    expect(problems.map(brief)).toEqual(["file-unreadable lots.csv"]);
    expect(problems[0]).toMatchObject({severity: "blocking", wanted: "readable"});
    expect(problems[0]!.value).toMatch(/^lots\.csv could not be read \([A-Z]+\)$/);
    expect(problems[0]!.mend).toMatch(/^[A-Z]\w* .*\.$/);
    expect(readBook(folder).problems.map(({code}) => code)).not.toContain("file-missing");
  });

  test("the other files are read all the same, so that all faults are seen at once", () => {
    const folder = folderOf({...others, "lots.xlsx": "", "squares.csv": small["squares.csv"].replace("1680", "heavy")});
    expect(readBook(folder).problems.map(brief)).toEqual(
      expect.arrayContaining(["file-unreadable lots.xlsx", "cell-unreadable squares.csv F2"])
    );
  });
});

test("a folder and a workbook's own folder that may not be listed are said in a sentence", () => {
  // Windows knows no such mode of a folder. Root may list all, so it reads as somebody else.
  if (process.platform === "win32") return;
  const folder = folderOf({"stock.xlsx": workbook({Lots: lots})});
  chmodSync(folder, 0o311);
  const script = `import {bookFiles} from "./scripts/io/bookFiles.ts";
    for (const place of process.argv.slice(1))
      try { bookFiles(place); console.log("read"); } catch (error) { console.log(error.constructor.name, error.message); }`;
  const args = ["--import", "tsx", "--input-type=module", "-e", script, folder, join(folder, "stock.xlsx")];
  const nobody = process.getuid!() === 0 ? {uid: 65534, gid: 65534} : {};
  const said = execFileSync(process.execPath, args, {encoding: "utf8", ...nobody});
  chmodSync(folder, 0o700);
  const line = `UserError ${folder} could not be read (EACCES): you may not read it. Give yourself the right to it; if it is open in another program, close it there.\n`;
  expect(said).toBe(line + line);
});

describe("files of mended rows", () => {
  const heading = `${headings["orders.csv"]},_row,_mark,_problem`;
  const mended = (quantity: number) => `${heading}\nO1,2025-02-01,ash,${quantity},2,${rowMark(orderCells)},\n`;
  const orderCells = ["O1", "2025-02-01", "ash", "1"];
  /** The quantity of the one order, which is that of the file read last. */
  const quantity = (names: readonly string[]) => {
    const files = Object.fromEntries(names.map((name, index) => [name, mended(index + 2)]));
    const {book, problems} = readBook(folderOf({...small, ...files}));
    expect(problems.map(brief)).toEqual(names.map(() => "rows-mended orders.csv"));
    return book?.orders[0]?.quantity;
  };

  test("are all read, in the order of their numbers", () => {
    expect(quantity(["mended-orders.csv"])).toBe(2);
    expect(quantity(["mended-orders.csv", "mended-orders-2.csv"])).toBe(3);
    expect(quantity(["mended-orders-10.csv", "mended-orders-2.csv", "mended-orders.csv"])).toBe(2);
    expect(quantity(["MENDED-orders-2.CSV", "mended-orders-10.csv", "Mended-Orders.csv"])).toBe(3);
  });

  test("are those of their own kind of record only", () => {
    const folder = folderOf({...small, "mended-order.csv": mended(2), "mended-orders-2.csv": mended(3)});
    expect(faults(folder)).toEqual(["doubt file-unread mended-order.csv"]);
    expect(readBook(folder).book?.orders[0]?.quantity).toBe(3);
  });

  test("are read beside a workbook named itself", () => {
    const sheets = Object.fromEntries(Object.entries(small).map(([name, text]) => [name.replace(".csv", ""), text]));
    const folder = folderOf({"stock.xlsx": workbook(sheets), "mended-orders-2.csv": mended(7)});
    expect(readBook(join(folder, "stock.xlsx")).book?.orders[0]?.quantity).toBe(7);
  });
});

describe("a place that is none", () => {
  const told = (place: string) => {
    try {
      bookFiles(place);
    } catch (error) {
      expect(error).toBeInstanceOf(UserError);
      return (error as UserError).message;
    }
    throw new Error("Nothing was refused.");
  };

  test("that is not there", () => {
    const place = join(folderOf({}), "my-bok");
    expect(told(place)).toBe(
      `--book must be a folder or a workbook that exists, got “${place}”. Look for a typing error, or name the folder of your files.`
    );
    expect(told(`${place}.xlsx`)).toContain("that exists");
  });

  test("that is one of its files", () => {
    const place = join(folderOf(small), "lots.csv");
    expect(told(place)).toBe(
      `--book must be a folder, or a workbook saved as .xlsx, got “${place}”. Name the folder the file lies in.`
    );
  });

  test("an empty folder is a place", () => {
    expect(bookFiles(folderOf({}))).toMatchObject({files: [], grids: {}, problems: []});
  });
});

test("a workbook that is none of the book's and cannot be read is a doubt only", () => {
  const {book, problems} = readBook(folderOf({...texts(), "invoices.xlsx": "locked"}));
  expect(book).toBeDefined();
  expect(problems).toMatchObject([{code: "file-unreadable", severity: "doubt", file: "invoices.xlsx"}]);
});

test("a file that workshop.json names and that is not there is missing under that name, once", () => {
  const {"squares.csv": squares, ...others} = texts();
  const reading = {squares: {file: "stok.csv"}};
  const {book, problems} = readBook(
    folderOf({...others, "stock.csv": squares, "workshop.json": JSON.stringify({reading})})
  );
  expect(book).toBeUndefined();
  expect(problems.filter(({severity}) => severity === "blocking")).toMatchObject([
    {code: "file-missing", file: "stok.csv", mend: expect.stringContaining("Did you mean stock.csv?")}
  ]);
});
