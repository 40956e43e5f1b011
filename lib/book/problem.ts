/**
 * One fault of the book, findable and mendable.
 *
 * - `blocking`: no report can be made until it is mended.
 * - `refused`: the row is set aside, whole, and counted nowhere.
 * - `doubt`: the row is used; look at it when there is time.
 */
export interface Problem {
  code: ProblemCode;
  severity: "blocking" | "refused" | "doubt";
  file: string;
  /** As a spreadsheet shows it: the headings are row 1. */
  row?: number;
  /** The column's letter, as a spreadsheet shows it. */
  column?: string;
  /** Column and row together, "D14". */
  cell?: string;
  heading?: string;
  /** What was found. */
  value?: string;
  /** What was wanted; finishes the sentence "… must be". */
  wanted: string;
  /** What to do about it. */
  mend: string;
}

/** Every fault that can be found, and what it means. */
export const problemCodes = {
  "file-missing": "a file that the book must have is not there",
  "file-empty": "a file has no rows",
  "quote-open": "a quotation mark is opened and never closed",
  "heading-missing": "a column that the file must have is not there",
  "heading-twice": "two columns have one heading",
  "heading-unknown": "a column that this book does not use; it is not read",
  "row-ragged": "a row has more cells than there are headings",
  "cell-unreadable": "a cell does not hold what its column wants",
  "setting-unreadable": "workshop.json is not JSON, or a setting is not what it should be",
  "number-twice": "two rows have one number",
  "lot-unknown": "a square names a lot that is not in lots.csv, or was refused there",
  "square-unknown": "an event names a square that is not in squares.csv, or was refused there",
  "order-unknown": "an event names an order that is not in orders.csv, or was refused there",
  "species-unknown": "a species that workshop.json does not name",
  "stage-unknown": "a stage that workshop.json does not name",
  "defect-unknown": "a defect that workshop.json does not name",
  "defect-missing": "a discard without its defect",
  "stage-missing": "a turning that does not say which stage was reached",
  "order-missing": "an allotment that does not say which order",
  "density-impossible": "mass, size and moisture of a square give a density that no such timber has",
  "before-purchase": "an event before its square was bought",
  "after-end": "an event after its piece was discarded, diverted or delivered",
  "stage-backwards": "a piece turned to a stage that it had reached or passed already",
  "stage-skipped": "a piece turned past a stage in one go",
  "mass-grew": "a piece weighs clearly more than at the weighing before",
  "not-finished": "a piece allotted or delivered before it is a finished shaft",
  "allotted-elsewhere": "a piece delivered to another order than the one it was allotted to, or allotted twice",
  "lot-short": "fewer squares are listed than the lot says were bought",
  "lot-over": "more squares are listed than the lot says were bought"
} as const;

export type ProblemCode = keyof typeof problemCodes;

/** The problem in one plain line: where, what was found, what was wanted, how to mend it. */
export function problemSentence({file, row, cell, heading, value, wanted, mend}: Problem): string {
  const place = [file, row === undefined ? "" : ` row ${row}`, cell === undefined ? "" : ` (${cell})`].join("");
  const what = heading === undefined ? "" : `${heading} `;
  const found = value === undefined ? "" : `, got “${value}”`;
  return `${place}: ${what}must be ${wanted}${found}. ${mend}`;
}

/** A column's letter, as a spreadsheet shows it: 0 → A, 26 → AA. */
export function columnLetter(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : columnLetter(Math.floor(index / 26) - 1) + last;
}
