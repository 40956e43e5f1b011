import {cellData, headingText} from "./cell.ts";
import type {Cell, Column, Table} from "./table.ts";

/**
 * A table as a CSV file that any spreadsheet opens rightly: a byte order mark so that it is read as UTF-8, lines ended by
 * CR LF, the unit in each heading, the interval as two more columns, numbers rounded as they are shown. Returns the text.
 *
 * A text that a spreadsheet would take for a formula gets an apostrophe in front; a number never does, so −5 stays −5.
 *
 * Source: RFC 4180 for lines and quotes.
 */
export function tableCsv(table: Table, {currency = ""} = {}): string {
  const heading = table.columns.flatMap((column) =>
    parts(column).map(({part}) => headingText(column, {currency, part}))
  );
  const rows = table.rows.map((row) =>
    table.columns.flatMap((column) => parts(column).map(({key}) => cellData(row[key], column.unit)))
  );
  return `\ufeff${[heading, ...rows].map((cells) => `${cells.map(field).join(",")}\r\n`).join("")}`;
}

function parts({key, low, high}: Column): {key: string; part: string}[] {
  const value = {key, part: ""};
  return low === undefined || high === undefined
    ? [value]
    : [value, {key: low, part: "low"}, {key: high, part: "high"}];
}

function field(cell: Cell): string {
  if (cell === undefined) return "";
  if (typeof cell === "number") return String(cell);
  const text = /^[=+\-@\t\r]/.test(cell) && !isNumeric(cell) ? `'${cell}` : cell;
  return /[",;\t\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

function isNumeric(text: string): boolean {
  return /^[+-]?\d+([.,]\d+)?$/.test(text);
}
