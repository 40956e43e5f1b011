import type {FileCounted} from "./bookCounts.ts";
import type {Book, BookColumns, BookParsed} from "./parseBook.ts";
import {rowCount, someRows} from "./readRecords.ts";
import {type FileName, fileNames, recordName} from "./records.ts";

/** What became of the rows of one file: read = used + refused + no data. */
export interface RowAccount {
  name: FileName;
  /** The file as the owner knows it. */
  file: string;
  /** Every row but that of the headings, blank ones too. */
  read: number;
  used: number;
  refused: number;
  /** Blank rows, titles, totals, notes, headings repeated, the example. */
  notData: number;
}

/**
 * What became of every row of the book, file by file. Where the book cannot be used, no row is used and all rows of data count as
 * refused.
 *
 * Checked: tests/book/rowAccount.test.ts
 */
export function rowAccounts({book, columns, sources, problems}: BookParsed): RowAccount[] {
  return fileNames.flatMap((name) => {
    const source = sources[name];
    if (!source) return [];
    const {file, notData} = source;
    const rows = rowCount(source);
    const ofFile = problems.filter((one) => one.file === file && one.severity === "refused" && one.row !== undefined);
    const fallen = new Set(ofFile.flatMap(({row}) => row ?? []));
    const used = book ? usedRows(name, {book, ...(columns && {columns})}, fallen) : 0;
    const refused = book ? someRows(source, fallen).length : rows;
    return [{name, file, read: rows + notData.length, used, refused, notData: notData.length}];
  });
}

/** Of some files, how many rows with data there are and how many of them are set aside. */
export function filesCounted(accounts: readonly RowAccount[], names: readonly FileName[]): FileCounted[] {
  return accounts
    .filter(({name}) => names.includes(name))
    .map(({file, read, notData, refused}) => ({file, rows: read - notData, setAside: refused}));
}

/** Sound rows of a file that have not fallen, as events that cannot have happened do. */
function usedRows(
  name: FileName,
  {book, columns}: {book: Book; columns?: BookColumns},
  fallen: ReadonlySet<number>
): number {
  if (columns && name === "squares.csv") return columns.squares.size;
  if (columns && name === "events.csv") {
    const {sound} = columns.events;
    return sound.reduce((used, place) => used + (fallen.has(place + 2) ? 0 : 1), 0);
  }
  return book[recordName(name)].filter(({row}) => !fallen.has(row)).length;
}
