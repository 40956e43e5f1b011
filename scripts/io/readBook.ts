import {createHash} from "node:crypto";
import {existsSync, readFileSync, statSync} from "node:fs";
import {join} from "node:path";
import {type Day, isDay} from "../../lib/book/day.ts";
import {type Histories, histories} from "../../lib/book/histories.ts";
import {type Book, parseBook} from "../../lib/book/parseBook.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {type FileName, files} from "../../lib/book/records.ts";
import {parseSettings, settingsFile} from "../../lib/book/settings.ts";
import type {SourceFile} from "../../lib/report/provenance.ts";
import {UserError} from "./writeReport.ts";

/** A file of the book as found on the disk. */
export interface FileFound {
  name: string;
  bytes: number;
  sha256: string;
  text: string;
}

/** All that was read of a folder; without `book` no report can be made. */
export interface BookRead {
  folder: string;
  files: FileFound[];
  book?: Book;
  problems: Problem[];
  /** The cells of each file, so that refused rows can be written out whole. */
  sources: Book["sources"];
}

/**
 * The book in a folder: every file read as UTF-8 and checked. Faults are returned, not thrown; only a folder that is not there is an error.
 *
 * @throws Error when the folder does not exist
 */
export function readBook(folder: string): BookRead {
  if (!existsSync(folder) || !statSync(folder).isDirectory()) {
    throw new UserError(
      `--book must be a folder that exists, got “${folder}”. Look for a typing error, or name the folder of your CSV files.`
    );
  }
  const found: FileFound[] = [];
  const read = (name: string): string | undefined => {
    const path = join(folder, name);
    if (!existsSync(path)) return undefined;
    const bytes = readFileSync(path);
    const text = bytes.toString("utf8");
    found.push({name, bytes: bytes.length, sha256: createHash("sha256").update(bytes).digest("hex"), text});
    return text;
  };
  const texts: Partial<Record<FileName, string>> = {};
  for (const name of Object.keys(files) as FileName[]) {
    const text = read(name);
    if (text !== undefined) texts[name] = text;
  }
  const {settings, problems: ofSettings} = parseSettings(read(settingsFile) ?? "{}");
  if (!settings) return {folder, files: found, problems: ofSettings, sources: {}};
  const {book, problems, sources} = parseBook(texts, settings);
  return {folder, files: found, problems: [...ofSettings, ...problems], sources, ...(book && {book})};
}

/** The last day on which anything in the book was bought, ordered, done or read. */
export function lastDay({lots, squares, events, orders, climate}: Book): Day {
  const days = [
    ...lots.map(({boughtOn}) => boughtOn),
    ...squares.flatMap(({measuredOn}) => measuredOn ?? []),
    ...events.map(({date}) => date),
    ...orders.map(({orderedOn}) => orderedOn),
    ...climate.map(({date}) => date)
  ];
  return days.sort().at(-1)!;
}

/** The book replayed up to a day, with the faults of its rows and of its histories together. */
export interface BookAsOf {
  book: Book;
  asOf: Day;
  histories: Histories;
  problems: Problem[];
  sources: SourceFile[];
}

/** The book as of a day; without a day the last one in the book. */
export function bookAsOf({book, files: found, problems}: BookRead & {book: Book}, day?: Day): BookAsOf {
  const asOf = day ?? lastDay(book);
  const replayed = histories(book, asOf);
  const all = [...problems, ...replayed.problems];
  return {book, asOf, histories: replayed, problems: all, sources: found.map((file) => source(file, book, all))};
}

function source({name, bytes, sha256}: FileFound, book: Book, problems: readonly Problem[]): SourceFile {
  const cells = book.sources[name as FileName];
  if (!cells) return {name, bytes, sha256};
  const refused = new Set(problems.filter((one) => one.file === name && one.severity === "refused").map(({row}) => row))
    .size;
  const dateColumn = cells.headings.findIndex((heading) =>
    ["date", "bought_on", "ordered_on", "measured_on"].includes(heading)
  );
  const dates = cells.rows
    .map((row) => row.cells[dateColumn] ?? "")
    .filter(isDay)
    .sort();
  return {
    name,
    bytes,
    sha256,
    rowsRead: cells.rows.length,
    rowsUsed: cells.rows.length - refused,
    rowsRefused: refused,
    ...(dates.length > 0 && {firstDate: dates[0], lastDate: dates.at(-1)})
  };
}
