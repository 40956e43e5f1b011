import {createRequire} from "node:module";
import type * as Xlsx from "xlsx";
import {dayText, isDay} from "../../lib/book/day.ts";
import {zipFault} from "./zipFault.ts";

/** A block of cells merged into one; its text is in the first cell, the others are blank. All counted from 1, column A being 1. */
export interface MergedCells {
  firstRow: number;
  lastRow: number;
  firstColumn: number;
  lastColumn: number;
}

/** A sheet of a workbook as text, under the row numbers that its program shows. */
export interface WorkbookSheet {
  name: string;
  /** Every row from 1 to the last with anything in it, blank ones too; each from column A to its own last filled cell. */
  rows: {
    row: number;
    cells: string[] /** The columns, from 0, of texts that hold a digit and so may be meant as numbers. */;
    texts?: number[];
  }[];
  merged: MergedCells[];
  /** How many cells are calculated: the value last saved with the formula is taken. */
  formulas: number;
  /**
   * How many of these were saved without a value, by a program that does not calculate: they are blank here. A formula that
   * promises text and has none is not told from one whose text is empty, and not counted.
   */
  uncalculated: number;
  hidden: boolean;
}

/** The reader of workbooks, loaded when there is one: most books are CSV files. */
const xlsx = (): typeof Xlsx => {
  loaded ??= createRequire(import.meta.url)("xlsx") as typeof Xlsx;
  return loaded;
};

let loaded: typeof Xlsx | undefined;

/** The most that is read of a sheet. */
export const largestSheet = {rows: 200_000, columns: 1_000} as const;

/**
 * The sheets of an .xlsx workbook as text, or why it cannot be read as the rest of a sentence that begins with its name. Never throws.
 *
 * A number is its exact text with a decimal point and no exponent, whatever its format rounds it to; with a format in percent it
 * is 100 times that and “%”, to 12 significant digits. A number with the format of a date is the day, "2026-10-31", by the
 * workbook's own calendar and whatever the time zone; the time of day is dropped. A time without a day, and a day the calendar
 * does not have, stay as shown. Truth is TRUE or FALSE, an error its code such as #REF!, text stays as it is, its line
 * ends LF.
 *
 *   day = serial − 25569 days after 1970-01-01, from serial 61 on; one more before, as serial 60 is a 29 February 1900 that never was
 *   day = serial − 24107 days after 1970-01-01 in a workbook that counts from 1904
 *
 * The trap: a format such as 0000 shows 0007 where the cell holds 7; here it is 7.
 *
 * Source: ECMA-376 Part 1 (2016), 18.17.4.1 dates, 18.3.1.4 cells, 18.8.30 number formats.
 * Checked: tests/scripts/io/readWorkbook.test.ts
 */
export function readWorkbook(bytes: Uint8Array): {sheets: WorkbookSheet[]} | {fault: string} {
  if (bytes.length === 0) return {fault: "is empty"};
  const start = Buffer.from(bytes.subarray(0, 8)).toString("hex");
  const isZip = start.startsWith("504b0304");
  // A workbook of the kind before .xlsx, and one locked with a password, lie in a compound file.
  const isCompound = start === "d0cf11e0a1b11ae1";
  if (!isZip && !isCompound) return {fault: "is no workbook that can be read (it does not begin as .xlsx does)"};
  const damage = isZip ? zipFault(bytes) : undefined;
  if (damage) return {fault: damage};
  try {
    return sheetsOf(bytes);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return {
      fault: /password|encrypt/i.test(why) ? "is locked with a password" : `is no workbook that can be read (${why})`
    };
  }
}

function sheetsOf(bytes: Uint8Array): {sheets: WorkbookSheet[]} | {fault: string} {
  // Stubs, so that a formula saved without its value is seen.
  const workbook = xlsx().read(bytes, {type: "array", dense: true, cellNF: true, cellHTML: false, sheetStubs: true});
  const from1904 = workbook.Workbook?.WBProps?.date1904 === true;
  const sheets: WorkbookSheet[] = [];
  for (const [index, name] of workbook.SheetNames.entries()) {
    const source = workbook.Sheets[name];
    if (!source) return {fault: `is no workbook that can be read (its sheet “${name}” is damaged)`};
    if ((source["!type"] ?? "sheet") !== "sheet") continue;
    const sheet: WorkbookSheet = {
      name,
      rows: [],
      merged: (source["!merges"] ?? []).map(mergedCells),
      formulas: 0,
      uncalculated: 0,
      hidden: Boolean(workbook.Workbook?.Sheets?.[index]?.Hidden)
    };
    for (const {cell, row, column} of cellsOf(source)) {
      if (isCalculated(cell)) sheet.formulas++;
      if (isCalculated(cell) && cell.t === "z") sheet.uncalculated++;
      const text = textOf(cell, from1904);
      if (text.trim() === "") continue;
      if (row >= largestSheet.rows || column >= largestSheet.columns) {
        return {
          fault: `has more than ${largestSheet.rows} rows or ${largestSheet.columns} columns in its sheet “${name}” (${xlsx().utils.encode_cell({r: row, c: column})} is filled)`
        };
      }
      while (sheet.rows.length <= row) sheet.rows.push({row: sheet.rows.length + 1, cells: []});
      const {cells, texts = []} = sheet.rows[row]!;
      while (cells.length < column) cells.push("");
      cells.push(text);
      if (cell.t === "s" && /\d/.test(text)) sheet.rows[row]!.texts = [...texts, column];
    }
    sheets.push(sheet);
  }
  return {sheets};
}

/** The cells that are there, in order of rows and columns; whatever size the sheet says it has. */
function* cellsOf(sheet: Xlsx.WorkSheet): Generator<{cell: Xlsx.CellObject; row: number; column: number}> {
  const data = sheet["!data"] ?? [];
  for (const row of placesOf(data)) {
    for (const column of placesOf(data[row]!)) yield {cell: data[row]![column]!, row, column};
  }
}

/** The places of an array with gaps that hold something, ascending. */
function placesOf(list: readonly unknown[]): number[] {
  return Object.keys(list).map(Number);
}

function isCalculated(cell: Xlsx.CellObject): boolean {
  return cell.f !== undefined || cell.F !== undefined;
}

function mergedCells({s, e}: Xlsx.Range): MergedCells {
  return {firstRow: s.r + 1, lastRow: e.r + 1, firstColumn: s.c + 1, lastColumn: e.c + 1};
}

function textOf(cell: Xlsx.CellObject, from1904: boolean): string {
  if (cell.t === "n") return numberText(cell, from1904);
  if (cell.t === "b") return cell.v ? "TRUE" : "FALSE";
  if (cell.t === "z") return "";
  if (cell.t === "e") return cell.w ?? "#ERROR!";
  return String(cell.v ?? "");
}

function numberText({v, z, w}: Xlsx.CellObject, from1904: boolean): string {
  const value = Number(v);
  const format = String(z ?? "General");
  // What is only shown beside the number: words, colours and conditions; [h] are hours beyond 24.
  const codes = format.replace(/"[^"]*"|\\.|_.|\*.|\[(?![hms]+\])[^\]]*\]/gi, "");
  if (!xlsx().SSF.is_date(format))
    return codes.includes("%") ? `${plain(Number((value * 100).toPrecision(12)))}%` : plain(value);
  const isTimeOnly = /[hs]/i.test(codes) && !/[dye]/i.test(codes);
  return (isTimeOnly ? undefined : dayOfSerial(value, from1904)) ?? (w || plain(value));
}

function dayOfSerial(serial: number, from1904: boolean): string | undefined {
  // Calculated days may lie a hair below midnight.
  const whole = Math.floor(serial + 1e-9);
  if (!(whole >= 1 && whole < 3e6) || (whole === 60 && !from1904)) return undefined;
  const day = dayText(from1904 ? whole - 24107 : whole < 60 ? whole - 25568 : whole - 25569);
  return isDay(day) ? day : undefined;
}

/** A number as text without an exponent. */
function plain(value: number): string {
  const [digits, exponent] = String(value).split("e");
  if (exponent === undefined) return digits!;
  const [, sign, whole, decimals = ""] = /^(-?)(\d)(?:\.(\d+))?$/.exec(digits!)!;
  const places = Number(exponent);
  return places < 0
    ? `${sign}0.${"0".repeat(-places - 1)}${whole}${decimals}`
    : `${sign}${whole}${decimals.padEnd(places, "0")}`;
}
