import {existsSync, readFileSync} from "node:fs";
import {join} from "node:path";
import Papa from "papaparse";
import {fields} from "../../lib/book/field.ts";
import type {Cells} from "../../lib/book/readRecords.ts";
import {Event} from "../../lib/book/records.ts";
import type {ProposedEvent} from "../../lib/rack/proposedEvents.ts";
import {decodeText} from "./decodeText.ts";
import {keepEdited, readFault, removeReport, UserError, writeReport} from "./writeReport.ts";

/** The file that a stocktake proposes events in. */
export const proposedFile = "proposed-events.csv";

const columns = fields(Event);

/** Proposed events as a file, and what is to be done before its rows can be put below those of the book. */
export interface ProposedCsv {
  text: string;
  /** Our headings of columns that the book's file lacks: they stand behind its own. */
  lacking: string[];
  /** Cells that got an apostrophe in front, as a spreadsheet would take them for formulas. */
  guarded: string[];
}

/**
 * Proposed events as a CSV file in the form of the book's own: its headings in their order, all columns, what stands between its cells. A
 * column that a row needs and the book's file lacks comes behind them. No number with a unit is written, so none has to be turned.
 *
 * A cell that a spreadsheet would take for a formula gets an apostrophe in front.
 *
 * Checked: tests/scripts/io/proposedCsv.test.ts
 */
export function proposedCsv(
  rows: readonly ProposedEvent[],
  {headings, columns: places, delimiter = ","}: Pick<Cells, "headings" | "columns" | "delimiter">
): ProposedCsv {
  const used = columns.filter(([key]) => rows.some((row) => key in row)).map(([, {heading}]) => heading);
  const lacking = used.filter((heading) => places[heading] === undefined);
  const all = [...headings, ...lacking];
  const at = (heading: string) => places[heading] ?? headings.length + lacking.indexOf(heading);
  const touched: string[] = [];
  const lines = rows.map((row) => {
    const cells = all.map(() => "");
    for (const [key, {heading}] of columns) {
      const value = (row as unknown as Record<string, string | undefined>)[key];
      if (value === undefined) continue;
      cells[at(heading)] = guarded(value);
      if (guarded(value) !== value) touched.push(value);
    }
    return cells;
  });
  const text = Papa.unparse([all.map(guarded), ...lines], {delimiter, newline: "\r\n"});
  return {
    text: `\ufeff${text}\r\n`,
    lacking,
    guarded: [...new Set(touched)]
  };
}

function guarded(cell: string): string {
  return /^([=@\t\r]|[+-](?![.,]*\d[\d.,]*$))/.test(cell) ? `'${cell}` : cell;
}

/**
 * Writes proposed events beside the reports, or takes the file of an earlier count away where nothing is proposed. One that is not what
 * would be written now may hold somebody's work, a cell filled in or a row struck: it is renamed, and neither written over nor taken away.
 *
 * @param say takes a line where a file was renamed
 * @returns the path written, none where nothing is proposed
 * @throws UserError when a file cannot be read, written, renamed or taken away
 */
export function writeProposed(
  folder: string,
  text: string | undefined,
  say: (line: string) => void
): string | undefined {
  const before = textThere(join(folder, proposedFile));
  if (before !== undefined && before !== text?.replace(/^\ufeff/, ""))
    say(`The events proposed before are not the same and are kept in ${keepEdited(folder, proposedFile)}.`);
  if (text !== undefined) return writeReport(folder, proposedFile, text);
  removeReport(folder, proposedFile);
  return undefined;
}

function textThere(path: string): string | undefined {
  try {
    return existsSync(path) ? decodeText(readFileSync(path)).text : undefined;
  } catch (error) {
    throw new UserError(readFault(path, (error as NodeJS.ErrnoException).code ?? "unknown"));
  }
}
