import type {Cell} from "./table.ts";

/**
 * Lines of cells as a CSV file that any spreadsheet opens rightly: a byte order mark so that it is read as UTF-8, lines ended
 * by CR LF, quotes where a cell needs them. Returns the text.
 *
 * A text that a spreadsheet would take for a formula gets an apostrophe in front; a number, or a text that is one, never
 * does, so −5 stays −5.
 *
 * Source: RFC 4180 for lines and quotes.
 */
export function csvText(lines: readonly (readonly Cell[])[]): string {
  return `\ufeff${lines.map((cells) => `${cells.map(field).join(",")}\r\n`).join("")}`;
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
