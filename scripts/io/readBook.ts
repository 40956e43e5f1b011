import {type Day, dayNumber, dayText} from "../../lib/book/day.ts";
import {type Histories, histories} from "../../lib/book/histories.ts";
import {type Book, type BookParsed, habitsOf, parseBook} from "../../lib/book/parseBook.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {type FileName, ownFileNames} from "../../lib/book/records.ts";
import {rowAccounts} from "../../lib/book/rowAccount.ts";
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

/** The days on which anything of a kind of record was bought, measured, done, ordered or read, in order. */
function daysOf(book: Book, file: FileName): Day[] {
  const days = {
    "lots.csv": () => book.lots.map(({boughtOn}) => boughtOn),
    "squares.csv": () => book.squares.flatMap(({measuredOn}) => measuredOn ?? []),
    "events.csv": () => book.events.map(({date}) => date),
    "orders.csv": () => book.orders.map(({orderedOn}) => orderedOn),
    "climate.csv": () => book.climate.map(({date}) => date),
    "advice.csv": () => book.advice.map(({advisedOn}) => advisedOn)
  };
  return days[file]().sort();
}

/** The last day on which anything in the book, or of some of its files, was bought, ordered, done or read. */
export function lastDay(book: Book, files: readonly FileName[] = ownFileNames): Day {
  // Advice is no event of the workshop.
  return files
    .flatMap((file) => daysOf(book, file).at(-1) ?? [])
    .sort()
    .at(-1)!;
}

/** The last day on which anything was bought, done or ordered: readings of the climate may go on when nobody writes. */
export function lastEntry(book: Book): Day {
  return lastDay(book, ["lots.csv", "squares.csv", "events.csv", "orders.csv"]);
}

/** Longer than so many days nobody writes nothing. */
const longestGap = 31;

/** That nothing was entered for long before the day asked about, and what follows from it; undefined where something was. */
export function silence(entered: Day, asOf: Day): string | undefined {
  const days = dayNumber(asOf) - dayNumber(entered);
  if (days <= longestGap) return undefined;
  return `By the book nothing was bought, done or ordered in the ${days} days from ${dayText(dayNumber(entered) + 1)} to ${asOf}. If something was and is not entered yet, shafts, orders and yields are too low here: enter it, or ask for ${entered} with --as-of.`;
}

/** The book replayed up to a day, with the faults of its rows and of its histories together. */
export interface BookAsOf {
  book: Book;
  asOf: Day;
  entered: Day;
  histories: Histories;
  problems: Problem[];
  sources: SourceFile[];
}

/** The book as of a day; without a day the last one in the book. */
export function bookAsOf({book, files: found, problems, sources}: BookRead & {book: Book}, day?: Day): BookAsOf {
  const asOf = day ?? lastDay(book);
  const replayed = histories(book, asOf);
  const all = [...problems, ...replayed.problems];
  return {
    book,
    asOf,
    entered: lastEntry(book),
    histories: replayed,
    problems: all,
    sources: sourceFiles(found, {book, problems: all, sources})
  };
}

/** The files of the book with what became of their rows; a workbook is followed by its sheets. */
function sourceFiles(found: readonly FileFound[], parsed: BookParsed & {book: Book}): SourceFile[] {
  const accounts = rowAccounts(parsed);
  return found.flatMap(({name, bytes, sha256}) => {
    const own = accounts.filter(({file}) => file === name || file.startsWith(`${name}, sheet `));
    const rows = own.map((account) => {
      const dates = daysOf(parsed.book, account.name);
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
