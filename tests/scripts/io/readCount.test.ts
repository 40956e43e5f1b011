import {mkdirSync, mkdtempSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {expect, test} from "vitest";
import * as XLSX from "xlsx";
import {readCount} from "../../../scripts/io/readCount.ts";
import {UserError} from "../../../scripts/io/writeReport.ts";

const folder = mkdtempSync(join(tmpdir(), "count-"));

function fileOf(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

function workbook(sheets: Record<string, unknown[][]>, hidden: string[] = []): Uint8Array {
  const book = XLSX.utils.book_new();
  for (const [name, rows] of Object.entries(sheets))
    XLSX.utils.book_append_sheet(book, XLSX.utils.aoa_to_sheet(rows), name);
  book.Workbook = {Sheets: Object.keys(sheets).map((name) => ({name, Hidden: hidden.includes(name) ? 1 : 0}))};
  return XLSX.write(book, {type: "buffer", bookType: "xlsx"});
}

const cells = (path: string) => readCount(path)[0]!.rows.map((row) => row.cells);

test("readCount reads text in UTF-8, UTF-16 and windows-1252", () => {
  expect(cells(fileOf("a.csv", "\ufeffsquare;stage\r\nÖ-9;finished\r\n"))).toEqual([
    ["square", "stage"],
    ["Ö-9", "finished"]
  ]);
  expect(cells(fileOf("b.txt", Buffer.from("\ufeffA0001\nÖ-9\n", "utf16le")))).toEqual([["A0001"], ["Ö-9"]]);
  expect(readCount(fileOf("c.csv", Buffer.from("A0001\nÖ-9\n", "latin1")))).toMatchObject([
    {how: ["windows-1252 letters"]}
  ]);
  expect(cells(fileOf("empty.csv", ""))).toEqual([]);
});

test("readCount reads every sheet of a workbook that is shown and has anything in it, whatever its name ends with", () => {
  const bytes = workbook({Old: [["A0009"]], Blank: [], Rack: [["Square"], ["A0001"], [7]], More: [["A0002"]]}, ["Old"]);
  for (const name of ["count.xlsx", "count.csv"]) {
    const grids = readCount(fileOf(name, bytes));
    expect(grids).toMatchObject([
      {file: `${name}, sheet Rack`, exact: true},
      {file: `${name}, sheet More`, exact: true}
    ]);
    expect(grids.map(({rows}) => rows.map((row) => row.cells))).toEqual([[["Square"], ["A0001"], ["7"]], [["A0002"]]]);
  }
});

test("readCount says what is wrong with a list that is not there, is a folder, or is no table", () => {
  mkdirSync(join(folder, "lists"), {recursive: true});
  const damaged = workbook({Rack: [["A0001"]]}).slice(0, 300);
  const faults: [string, string][] = [
    [
      join(folder, "none.csv"),
      `--count must be a list that is there, got “${join(folder, "none.csv")}”. Look for a typing error, or name its folder too.`
    ],
    [join(folder, "lists"), `--count must be a file, got the folder “${join(folder, "lists")}”. Name the list in it.`],
    [
      fileOf("picture.png", Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 1])),
      "picture.png is no list that can be read. Save it as a CSV file, or as .xlsx."
    ],
    [fileOf("damaged.xlsx", damaged), "Save it again as .xlsx, without a password, or as a CSV file."]
  ];
  for (const [path, sentence] of faults) {
    expect(() => readCount(path)).toThrow(UserError);
    expect(() => readCount(path)).toThrow(sentence);
  }
});
