import Papa from "papaparse";
import type {Problem} from "./problem.ts";

/** A file as a spreadsheet shows it: headings, then rows of text under their row numbers. */
export interface Cells {
  headings: string[];
  rows: {row: number; cells: string[]}[];
  problems: Problem[];
}

/**
 * The text of a CSV file as headings and rows of text: comma-separated, RFC 4180 quotes, nothing typed or guessed. Blank rows
 * are skipped but counted, so that row numbers are those a spreadsheet shows.
 *
 * Lines may end in CR LF, LF or CR, mixed even; a line end within quotes is given as LF.
 *
 * A quote that is never closed, or closed before its cell ends, would swallow the rows up to the next quote, so it is a
 * blocking problem and no row is returned.
 * Other delimiters and decimal commas are no matter of this function: whoever reads the file turns them into this form.
 *
 * Checked: tests/book/cells.test.ts
 */
export function readCells(text: string, file: string): Cells {
  const {data, errors} = Papa.parse(text.replace(/^\ufeff/, "").replaceAll(/\r\n?/g, "\n"), {
    header: false,
    delimiter: ",",
    skipEmptyLines: false,
    dynamicTyping: false
  });
  const [first = [], ...rest] = data;
  const headings = first.map((heading) => heading.trim());
  const rows = rest
    .map((cells, index) => ({row: index + 2, cells}))
    .filter(({cells}) => cells.some((cell) => cell.trim() !== ""));
  const open = errors.find(({code}) => code === "MissingQuotes" || code === "InvalidQuotes");
  if (open) return {headings, rows: [], problems: [openQuote(file, (open.row ?? 0) + 1)]};
  return {headings, rows, problems: []};
}

function openQuote(file: string, row: number): Problem {
  return {
    code: "quote-open",
    severity: "blocking",
    file,
    row,
    wanted: "closed by a second quotation mark wherever one is opened",
    mend: `Look in row ${row} for a lone quotation mark (inches?) and double it or take it out.`
  };
}
