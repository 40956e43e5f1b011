import {describe, expect, test} from "vitest";
import {columnDocs} from "../../lib/book/columnDocs.ts";
import {emptyCsv, emptyTable, type NewCell} from "../../lib/book/emptyBook.ts";
import {exampleNote, exampleOf, isExample} from "../../lib/book/example.ts";
import {fields} from "../../lib/book/field.ts";
import type {Grid} from "../../lib/book/grid.ts";
import {readRecords} from "../../lib/book/readRecords.ts";
import {type FileName, fileNames, files} from "../../lib/book/records.ts";
import {brief, recordsOf} from "./smallBook.ts";

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

test.each(fileNames)("exampleOf gives a column of %s its example, but no defect nor an order not yet there", (file) => {
  for (const [, field] of fields(files[file].schema)) {
    const isLeftBlank = file === "events.csv" && ["defect", "order"].includes(field.heading);
    const wanted = field.heading === "note" ? exampleNote : isLeftBlank ? "" : field.example;
    expect(exampleOf(field), field.heading).toBe(wanted);
  }
});

test("isExample goes by the note and by each column that is read, not by others", () => {
  const places = fields(files["climate.csv"].schema).map(([key, field], index) => ({
    key,
    field,
    index,
    heading: field.heading
  }));
  const cells = [...places.map(({field}) => exampleOf(field)), "a column of the owner's own"];
  const noteAt = places.findIndex(({field}) => field.heading === "note");
  expect(isExample({row: 2, cells}, places)).toBe(true);
  expect(isExample({row: 2, cells: cells.with(noteAt, ` ${exampleNote} `)}, places)).toBe(true);
  expect(isExample({row: 2, cells: cells.with(noteAt, "example")}, places)).toBe(false);
  expect(isExample({row: 2, cells: cells.slice(0, noteAt)}, places)).toBe(false);
  expect(isExample({row: 2, cells: cells.with(0, "")}, places)).toBe(false);
  expect(isExample({row: 2, cells}, places.toSpliced(noteAt, 1))).toBe(false);
});

describe.each(fileNames)("the example row of %s", (file) => {
  const docs = columnDocs().filter((doc) => doc.file === file);

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
  if (typeof cell === "object") return {date: cell.date.replace(/^\d+/, (year) => String(Number(year) - 1))};
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

test("an example left standing above the owner's rows counts nowhere and settles nothing", () => {
  const british = saved(emptyTable("lots.csv"), dialects.British!);
  const sure = `${british}L1,20/04/2025,Quillmoor Sawpit,ash,2,,10,,,\r\n`;
  const {records, source} = recordsOf(sure, "lots.csv");
  expect(records.map(({lot, boughtOn, row}) => [lot, boughtOn, row])).toEqual([["L1", "2025-04-20", 3]]);
  expect(source.notData).toEqual([{row: 2, why: "the example"}]);
  const unsure = recordsOf(`${british}L1,03/04/2025,Quillmoor Sawpit,ash,2,,10,,,\r\n`, "lots.csv");
  expect(unsure.problems.map(brief)).toContain("date-ambiguous lots.csv B3");
});
