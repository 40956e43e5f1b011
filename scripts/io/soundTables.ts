import {closeSync, mkdirSync, openSync, writeSync} from "node:fs";
import {join} from "node:path";
import Papa from "papaparse";
import {fields} from "../../lib/book/field.ts";
import {histories} from "../../lib/book/histories.ts";
import type {Book} from "../../lib/book/parseBook.ts";
import {files} from "../../lib/book/records.ts";
import {lastDay} from "./readBook.ts";

/** The tables from which scripts/sql/ makes counts. */
export const soundTables = ["lots", "squares", "events", "orders"] as const;

/** So many rows are made into text at once. */
const rowsAtOnce = 50_000;

/**
 * Writes the sound rows of a book as CSV tables for an SQL engine, one file a table: every column of its kind, in our units and words, blanks
 * empty, and first of all `row`, the row that it stood in. Rows that were refused are not in it, those refused for their history neither.
 *
 * Texts stand as they are, for the engine that joins by them: the files are not for a spreadsheet.
 *
 * Checked: tests/scripts/sql/countsBySql.test.ts
 *
 * @returns the paths
 */
export function writeSoundTables(folder: string, book: Book): string[] {
  const refused = new Set(
    histories(book, lastDay(book))
      .problems.filter(({severity}) => severity === "refused")
      .map(({row}) => row)
  );
  mkdirSync(folder, {recursive: true});
  return soundTables.map((table) => {
    const columns = fields(files[`${table}.csv`].schema);
    const rows: readonly {row: number}[] =
      table === "events" ? book.events.filter(({row}) => !refused.has(row)) : book[table];
    const path = join(folder, `${table}.csv`);
    const file = openSync(path, "w");
    try {
      writeSync(file, `${["row", ...columns.map(([, {heading}]) => heading)].join(",")}\r\n`);
      for (let at = 0; at < rows.length; at += rowsAtOnce) {
        const lines = rows
          .slice(at, at + rowsAtOnce)
          .map((row) => [row.row, ...columns.map(([key]) => (row as unknown as Record<string, unknown>)[key])]);
        writeSync(file, `${Papa.unparse(lines, {newline: "\r\n"})}\r\n`);
      }
    } finally {
      closeSync(file);
    }
    return path;
  });
}
