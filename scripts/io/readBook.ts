import type {Day} from "../../lib/book/day.ts";
import {type Histories, histories} from "../../lib/book/histories.ts";
import {type Book, type BookParsed, habitsOf, parseBook} from "../../lib/book/parseBook.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {type FileName, ownFileNames} from "../../lib/book/records.ts";
import {type RowAccount, rowAccounts} from "../../lib/book/rowAccount.ts";
import type {SourceFile} from "../../lib/report/provenance.ts";
import {bookFiles, type FileFound, sameName} from "./bookFiles.ts";

/** All that was read of a book; without `book` no report can be made. */
export interface BookRead extends BookParsed {
  folder: string;
  files: FileFound[];
}

/**
 * The book in a folder or a workbook, every file read and checked. Faults are returned, not thrown; only a place that is not
 * there is an error.
 *
 * @param options.asColumns whether events may be columns, as in `parseBook`
 * @param today rows of a later day are refused; without it no day is too late
 * @throws UserError when nothing is there
 */
export function readBook(place: string, today?: Day, {asColumns = false} = {}): BookRead {
  const {folder, files, settings, grids, problems} = bookFiles(place);
  if (!settings) return {folder, files, problems, sources: {}};
  const parsed = parseBook(grids, settings, {today, asColumns});
  // What stands in the way of a file is said once: it is not missing too.
  const isTold = (file: string) =>
    problems.some(
      (one) =>
        one.severity === "blocking" &&
        (one.file === file ||
          sameName(one.file, habitsOf(settings, file as FileName).file ?? "") ||
          isWorkbook(one.file))
    );
  const others = parsed.problems.filter(({code, file}) => code !== "file-missing" || !isTold(file));
  const all = [...problems, ...others];
  if (problems.some(({severity}) => severity === "blocking"))
    return {folder, files, problems: all, sources: parsed.sources};
  return {...parsed, folder, files, problems: all};
}

const isWorkbook = (file: string) => /\.xlsx$/i.test(file);

/** Today by the clock and the calendar of this computer. */
export function today(): Day {
  const now = new Date();
  const two = (number: number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** The days on which anything of a kind of record was bought, measured, done, ordered or read. */
function daysOf(book: Book, file: FileName): Day[] {
  const days = {
    "lots.csv": () => book.lots.map(({boughtOn}) => boughtOn),
    "squares.csv": () => book.squares.flatMap(({measuredOn}) => measuredOn ?? []),
    "events.csv": () => book.events.map(({date}) => date),
    "orders.csv": () => book.orders.map(({orderedOn}) => orderedOn),
    "climate.csv": () => book.climate.map(({date}) => date),
    "advice.csv": () => book.advice.map(({advisedOn}) => advisedOn)
  };
  return days[file]();
}

/** The last day on which anything in the book was bought, ordered, done or read. */
export function lastDay(book: Book): Day {
  // Advice is no event of the workshop.
  return latest(book, ownFileNames)!;
}

/** The last day up to another on which anything was bought, done or ordered: readings of the climate may go on when nobody writes. */
export function lastEntry(book: Book, until: Day): Day {
  return latest(book, ["lots.csv", "squares.csv", "events.csv", "orders.csv"], until) ?? until;
}

function latest(book: Book, files: readonly FileName[], until = "9999"): Day | undefined {
  let last: Day | undefined;
  for (const file of files)
    for (const day of daysOf(book, file)) if (day <= until && (last === undefined || day > last)) last = day;
  return last;
}

/** The book replayed up to a day, with the faults of its rows and of its histories together. */
export interface BookAsOf {
  book: Book;
  asOf: Day;
  /** The last day up to it on which anything was bought, done or ordered. */
  entered: Day;
  accounts: RowAccount[];
  histories: Histories;
  problems: Problem[];
  sources: SourceFile[];
}

/** The book as of a day; without a day the last one in the book. */
export function bookAsOf({book, files: found, problems, sources}: BookRead & {book: Book}, day?: Day): BookAsOf {
  const asOf = day ?? lastDay(book);
  const replayed = histories(book, asOf);
  const all = [...problems, ...replayed.problems];
  const accounts = rowAccounts({book, problems: all, sources});
  return {
    book,
    asOf,
    entered: lastEntry(book, asOf),
    accounts,
    histories: replayed,
    problems: all,
    sources: sourceFiles(found, book, accounts)
  };
}

/** The files of the book with what became of their rows; a workbook is followed by its sheets. */
function sourceFiles(found: readonly FileFound[], book: Book, accounts: readonly RowAccount[]): SourceFile[] {
  return found.flatMap(({name, bytes, sha256}) => {
    const own = accounts.filter(({file}) => file === name || file.startsWith(`${name}, sheet `));
    const rows = own.map((account) => {
      const dates = daysOf(book, account.name).sort();
      return {
        rowsRead: account.read - account.notData,
        rowsUsed: account.used,
        rowsRefused: account.refused,
        ...(dates.length > 0 && {firstDate: dates[0], lastDate: dates.at(-1)})
      };
    });
    const whole = own.length === 1 && own[0]!.file === name;
    if (whole) return [{name, bytes, sha256, ...rows[0]}];
    return [{name, bytes, sha256}, ...own.map(({file}, index) => ({name: file, ...rows[index]}))];
  });
}
