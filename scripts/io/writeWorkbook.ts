import * as XLSX from "xlsx";
import {dayNumber} from "../../lib/book/day.ts";
import {check} from "../../lib/check.ts";

/** A sheet to be written; the widths of its columns are in characters. */
export interface SheetToWrite {
  name: string;
  rows: readonly (readonly CellToWrite[])[];
  widths?: readonly number[];
}

const dayFormat = "yyyy-mm-dd";

/** Text stays text even if it looks like a number or a formula; a day is written as a date, shown as 2026-10-31. */
export type CellToWrite = string | number | {date: string};

/**
 * The bytes of an .xlsx workbook: the same sheets give the same bytes, at any time and in any time zone. An empty text is an empty cell.
 *
 *   serial = days from 1970-01-01 to the day + 25569, from 1900-03-01 on; one less before
 *
 * Source: ECMA-376 Part 1 (2016), 18.17.4.1 dates, 18.8.30 numbers of formats; limits of a sheet: common practice of the programs that open it, no source.
 * Checked: tests/scripts/io/writeWorkbook.test.ts
 *
 * @throws RangeError when there is no sheet, a name is not 1 to 31 characters without : \ / ? * [ ], or is there twice; when a
 *   number is not finite, a date no calendar day, a text longer than 32767 characters, or a sheet larger than 1048576 × 16384
 */
export function workbookBytes(sheets: readonly SheetToWrite[]): Uint8Array {
  check(sheets.length > 0, "workbookBytes: sheets", "one or more", sheets.length);
  const names = sheets.map(({name}) => name.toLowerCase());
  // Without formats of its own, a workbook gets those of whatever was read before; numbers below 164 are for built-in ones.
  const book = {...XLSX.utils.book_new(), SSF: {0: "General", 164: dayFormat}};
  for (const [index, {name, rows, widths}] of sheets.entries()) {
    check(
      /^(?!')[^:\\/?*[\]]{1,31}(?<!')$/.test(name),
      "workbookBytes: name",
      "a name of 1 to 31 characters without : \\ / ? * [ ]",
      name
    );
    check(names.indexOf(names[index]!) === index, "workbookBytes: name", "there once", name);
    const columns = rows.reduce((most, row) => Math.max(most, row.length), 0);
    check(rows.length <= 1_048_576, "workbookBytes: rows", "1048576 or fewer", rows.length);
    check(columns <= 16_384, "workbookBytes: columns", "16384 or fewer", columns);
    const sheet: XLSX.DenseWorkSheet = {
      "!data": rows.length === 0 ? [[]] : rows.map((row) => row.map(cellOf)),
      "!ref": `A1:${XLSX.utils.encode_cell({r: Math.max(rows.length - 1, 0), c: Math.max(columns - 1, 0)})}`
    };
    if (widths) sheet["!cols"] = widths.map((wch) => ({wch}));
    XLSX.utils.book_append_sheet(book, sheet, name);
  }
  return new Uint8Array(XLSX.write(book, {type: "array", bookType: "xlsx", bookSST: true, compression: true}));
}

function cellOf(cell: CellToWrite): XLSX.CellObject {
  if (cell === "") return {t: "z"};
  if (typeof cell === "string") {
    check(cell.length <= 32_767, "workbookBytes: text", "32767 characters or fewer", cell.length);
    // What looks like an escaped character, such as _x0041_, would be read as that character.
    return {t: "s", v: cell.replaceAll(/_(?=x[0-9a-f]{4}_)/gi, "_x005F_")};
  }
  if (typeof cell === "number") {
    check(Number.isFinite(cell), "workbookBytes: number", "finite", cell);
    return {t: "n", v: cell};
  }
  const days = dayNumber(cell.date) + 25569;
  return {t: "n", v: days < 61 ? days - 1 : days, z: dayFormat};
}
