/**
 * One fault of the book, findable and mendable.
 *
 * - `blocking`: no report can be made until it is mended.
 * - `refused`: the row is set aside, whole, and counted nowhere.
 * - `doubt`: the row is used; look at it when there is time.
 * - `note`: no fault, but how something was read that could be read otherwise.
 */
export interface Problem {
  code: ProblemCode;
  severity: Severity;
  /** The file, or the workbook and its sheet: "stock.xlsx, sheet Lots". */
  file: string;
  /** As a spreadsheet shows it: the headings are mostly row 1. */
  row?: number;
  /** The column's letter, as a spreadsheet shows it. */
  column?: string;
  /** Column and row together, "D14". */
  cell?: string;
  heading?: string;
  /** What was found. */
  value?: string;
  /** What was wanted; finishes the sentence "… must be". Of a note: how it was read; finishes "… is". */
  wanted: string;
  /** What to do about it. */
  mend: string;
}

export type Severity = "blocking" | "refused" | "doubt" | "note";

/** The severities, most important first. */
export const severities = ["blocking", "refused", "doubt", "note"] as const satisfies readonly Severity[];

/** Every fault that can be found, and what it means. */
export const problemCodes = {
  "file-missing": "a file that the book must have is not there",
  "file-twice": "one kind of record, or the settings, stand in two places, or two kinds in one",
  "file-unreadable": "a file is there but cannot be opened or is no workbook",
  "file-unread": "a table lies in the book that is none of its records; it is not read",
  "file-empty": "a file has no rows",
  "setting-unreadable": "workshop.json is not JSON, or a setting is not what it should be",
  "quote-open": "a quotation mark is opened and never closed",
  "heading-missing": "a column that the file must have is not there",
  "heading-twice": "two columns have one heading",
  "heading-unit": "a heading names a unit that its column cannot have",
  "heading-loose": "a heading may mean something else than what it is read as",
  "heading-unknown": "a column that this book does not use; it is not read",
  "heading-empty": "a column has cells but no heading; it is not read",
  "unit-assumed": "a heading names no unit",
  "headings-again": "a second row of headings that differs from the first",
  "row-above": "a record stands above the headings",
  "row-ragged": "a row has more cells than there are headings",
  "row-short": "a row has fewer cells than there are headings",
  "row-twice": "an event is written twice, cell for cell",
  "cells-merged": "cells of the table are merged into one",
  "cell-unreadable": "a cell does not hold what its column wants",
  "cell-error": "a spreadsheet's error stands in a cell",
  "cell-damaged": "a character was lost when the file was saved",
  "number-ambiguous":
    "a number can be read with a decimal point or with a decimal comma, and nothing in the file says which",
  "date-ambiguous": "a date can be read day first or month first, and nothing in the file says which",
  "date-future": "a date lies after today",
  "date-apart": "a date lies years from every other of its column",
  "year-first": "dates of two digits each look as if the year stood first",
  "dates-mixed": "a sheet's column has days and dates that are text",
  "unit-jump": "a size differs from the others of its column as one unit does from another",
  "number-twice": "two rows have one number",
  "lot-unknown": "a square names a lot that is not in the book",
  "lot-refused": "a square's lot was refused, so the square goes with it",
  "square-unknown": "an event names a square that is not in the book",
  "square-refused": "an event's square was refused, so the event goes with it",
  "order-unknown": "an event names an order that is not in the book",
  "order-refused": "an event's order was refused, so the event goes with it",
  "species-unknown": "a species that workshop.json does not name",
  "stage-unknown": "a stage that workshop.json does not name",
  "defect-unknown": "a defect that workshop.json does not name",
  "defect-missing": "a discard without its defect",
  "stage-missing": "a turning that does not say which stage was reached",
  "order-missing": "an allotment that does not say which order",
  "supplier-spelling": "one supplier is spelt in two ways",
  "density-impossible": "mass, size and moisture of a square give a density that no timber has",
  "density-unlikely": "the density of a square is one that its species hardly has",
  "density-differs": "the density noted is not mass over volume",
  "before-purchase": "something happened before its square was bought",
  "before-order": "an order was promised for a day before it came in",
  "after-end": "an event after its piece was discarded, diverted or delivered",
  "stage-backwards": "a piece turned to a stage that it had reached or passed already",
  "stage-skipped": "a piece turned past a stage in one go",
  "stage-differs": "a piece weighed or discarded at a stage at which it is not",
  "mass-window": "an order's lightest shaft is heavier than its heaviest",
  "deflection-window": "an order's stiffest shaft bends more than its most pliant",
  "lost-more": "more shafts of an order were lost than it asked for",
  "range-turned": "a kept advice with a range that ends before it begins",
  "looked-fewer": "fewer squares were looked at than bought",
  "mass-grew": "a piece weighs clearly more than at the weighing before",
  "mass-fell": "a piece weighs less than an eighth of the weighing before",
  "not-finished": "a piece allotted or delivered before it is a finished shaft",
  "allotted-elsewhere": "a piece delivered to another order than the one it was allotted to, or allotted twice",
  "order-overfilled": "more shafts went to an order than it asked for",
  "lot-short": "fewer squares are listed than the lot says were bought",
  "lot-over": "more squares are listed than the lot says were bought",
  "mended-lost": "a mended row whose original is no longer in the book",
  "read-as": "how a file that is not in the plain form was read",
  "rows-not-data": "rows that are not data: titles, totals, notes, headings repeated",
  "rows-mended": "rows read as they were mended in another file"
} as const;

export type ProblemCode = keyof typeof problemCodes;

/** Faults that only follow from another: mended with it. */
const following: readonly ProblemCode[] = ["lot-refused", "square-refused", "order-refused", "lot-short"];

/** The problems, most important first: by severity, those that only follow from others last, then by file and row. Returns a new list. */
export function byImportance(problems: readonly Problem[]): Problem[] {
  const rank = ({severity, code}: Problem) => severities.indexOf(severity) * 2 + (following.includes(code) ? 1 : 0);
  return problems.toSorted(
    (a, b) => rank(a) - rank(b) || (a.file < b.file ? -1 : a.file > b.file ? 1 : (a.row ?? 0) - (b.row ?? 0))
  );
}

/** The problem in one plain line: where, what was found, what was wanted, how to mend it. */
export function problemSentence({severity, file, row, cell, heading, value, wanted, mend}: Problem): string {
  const place = [file, row === undefined ? "" : ` row ${row}`, cell === undefined ? "" : ` (${cell})`].join("");
  const what = heading === undefined ? "" : `${excerpt(heading)} `;
  const found = value === undefined ? "" : `, got “${excerpt(value)}”`;
  return onOneLine(`${place}: ${what}${severity === "note" ? "is" : "must be"} ${wanted}${found}. ${mend}`.trimEnd());
}

/** A text on one line that a terminal only shows: no control characters, no halves of characters, and none that turn the direction of writing. */
export function onOneLine(text: string): string {
  return text
    .replaceAll(/[\t\n\v\f\r\u2028\u2029]+/g, " ")
    .replaceAll(/[\p{Cc}\p{Cs}\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, "\ufffd");
}

/** The first 80 characters of a text on one line, so that a damaged cell does not fill the screen; none is cut in half. */
export function excerpt(text: string): string {
  const line = text.slice(0, 200).replaceAll(/\s+/g, " ");
  return line.length > 80 || text.length > 200 ? `${line.slice(0, 80).replace(/[\ud800-\udbff]$/, "")}…` : line;
}

/** A column's letter, as a spreadsheet shows it: 0 → A, 26 → AA. */
export function columnLetter(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : columnLetter(Math.floor(index / 26) - 1) + last;
}

/** Where a cell stands, in a spreadsheet's terms; of its heading so much as a sentence holds. */
export function at(file: string, row: number, index: number, heading: string) {
  const column = columnLetter(index);
  return {file, row, column, cell: `${column}${row}`, heading: excerpt(heading)};
}
