import Papa from "papaparse";
import type {Problem} from "./problem.ts";

/** What stands between the cells of a line. */
export type Delimiter = (typeof delimiters)[number];

export const delimiters = [",", ";", "\t", "|"] as const;

/** A row under the number that a spreadsheet shows. */
export interface Row {
  row: number;
  cells: string[];
  /** Of a sheet: the columns, counted from 0, whose cells are text though they hold digits. */
  texts?: readonly number[] | undefined;
  /** Of a row that was mended: the mark of the row it came from. */
  mark?: string | undefined;
}

/** A file or a sheet as rows of text, nothing of it understood yet. */
export interface Grid {
  /** The file, or the workbook and its sheet: "stock.xlsx, sheet Lots". */
  file: string;
  /** Every row in order, headings and blank ones too. */
  rows: Row[];
  /** Absent for a sheet of a workbook. */
  delimiter?: Delimiter;
  /** Cells of a workbook: a number is written with a point and a day as 2026-10-31, whatever the owner sees. */
  exact?: boolean;
  /** How it was opened, where that is not a matter of course: "windows-1252 letters", "formulas at their last calculated value". */
  how?: string[];
  /** Cells merged into one, of a sheet; rows and columns counted from 1. */
  merged?: readonly {firstRow: number; lastRow: number; firstColumn: number; lastColumn: number}[];
  problems: Problem[];
}

/** Headings are looked for in so many rows at the top; a title and a date may stand above them. */
export const headRows = 20;

/** So much of a text is looked at to find what stands between its cells. */
const headLength = 65_536;

/**
 * The rows of a CSV text: cells untouched, nothing typed or guessed; RFC 4180 quotes. Lines may end in CR LF, LF or CR, mixed
 * even; a line end within quotes is given as LF. A first line `sep=;` is obeyed and not counted, as a spreadsheet does it.
 *
 * What stands between the cells, if it is not given: of comma, semicolon, tab and bar the one by which a line near the top has
 * most known headings; else the one that divides the first line most often.
 *
 * A quote that is never closed, or closed before its cell ends, would swallow the rows up to the next quote, so it is a
 * blocking problem that names the line where it was opened, and no row is returned.
 *
 * Source: RFC 4180, section 2. Checked: tests/book/grid.test.ts, tests/reference/csv.test.ts
 *
 * @param known whether a cell is a heading that the file may have
 */
export function readGrid(
  text: string,
  file: string,
  {delimiter, known = () => false}: {delimiter?: Delimiter | undefined; known?: (cell: string) => boolean} = {}
): Grid {
  const lines = text.replace(/^\ufeff/, "").replaceAll(/\r\n?/g, "\n");
  const announced = /^"?sep=(.)"?[;,\t ]*\n/i.exec(lines);
  const body = announced ? lines.slice(announced[0].length) : lines;
  const stated = delimiters.find((one) => one === announced?.[1]);
  const between = delimiter ?? stated ?? likelyDelimiter(body.slice(0, headLength), known);
  const {data, errors} = parse(body, between);
  // What comes after the last line end is no row.
  if (data.at(-1)?.length === 1 && data.at(-1)![0] === "") data.pop();
  const open = errors.find(({code}) => code === "MissingQuotes" || code === "InvalidQuotes");
  if (open) {
    const line = body.slice(0, open.index ?? 0).split("\n").length + (announced ? 1 : 0);
    return {file, rows: [], delimiter: between, problems: [openQuote(file, (open.row ?? 0) + 1, line)]};
  }
  return {file, rows: data.map((cells, index) => ({row: index + 1, cells})), delimiter: between, problems: []};
}

function parse(text: string, delimiter: Delimiter) {
  return Papa.parse(text, {header: false, delimiter, newline: "\n", skipEmptyLines: false, dynamicTyping: false});
}

/** By which delimiter the top of a text has most known headings; else most cells; else fewest rows that are too long. */
function likelyDelimiter(head: string, known: (cell: string) => boolean): Delimiter {
  const scores = delimiters.map((delimiter) => {
    const rows = parse(head, delimiter).data.filter((cells) => cells.some((cell) => cell.trim() !== ""));
    const headings = Math.max(0, ...rows.slice(0, headRows).map((cells) => cells.filter(known).length));
    const width = rows[0]?.length ?? 0;
    const ragged = rows.filter((cells) => cells.length > width).length;
    return {delimiter, headings, width, ragged};
  });
  scores.sort((a, b) => b.headings - a.headings || b.width - a.width || a.ragged - b.ragged);
  return scores[0]!.delimiter;
}

function openQuote(file: string, row: number, line: number): Problem {
  return {
    code: "quote-open",
    severity: "blocking",
    file,
    row,
    wanted: `closed by a second quotation mark wherever one is opened; the one opened in line ${line} of the text is not`,
    mend: `Look in row ${row} for a lone quotation mark (inches?) and double it or take it out.`
  };
}

/** Whether nothing is in any cell of a row. */
export function isBlank(cells: readonly string[]): boolean {
  return cells.every((cell) => cell.trim() === "");
}
