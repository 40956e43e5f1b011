import {bookCounts, type CountsOf} from "../../lib/book/bookCounts.ts";
import {columnCounts, lastColumnDay} from "../../lib/book/columnCounts.ts";
import type {Day} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import type {Book, BookColumns} from "../../lib/book/parseBook.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {type RowAccount, rowAccounts} from "../../lib/book/rowAccount.ts";
import {type BookRead, lastDay, lastEntry, readBook} from "./readBook.ts";

/** The counts of a book and every fault found on the way; without `counts` the book cannot be used. */
export interface CountsRead extends Omit<BookRead, "book" | "columns"> {
  counts?: CountsOf;
  problems: Problem[];
}

/**
 * The counts of the book in a folder or a workbook, as of a day, the last one in the book unless given. Squares and events in the plain form never
 * become records, so that a book of millions takes seconds.
 *
 * @param today rows of a later day are refused
 * @throws UserError when nothing is there
 */
export function readBookCounts(place: string, {today, asOf}: {today?: Day; asOf?: Day} = {}): CountsRead {
  const {book, columns, ...read} = readBook(place, today, {asColumns: true});
  if (!book) return read;
  const {counts, problems} = countsAsOf({...read, book, ...(columns && {columns})}, asOf);
  return {...read, counts, problems};
}

/** The counts of a book up to a day, with the faults of its rows and of its histories together. */
export interface CountsAsOf {
  book: Book;
  /** Its squares and events, where they stayed columns. */
  columns?: BookColumns;
  asOf: Day;
  /** The last day up to it on which anything was bought, done or ordered. */
  entered: Day;
  accounts: RowAccount[];
  counts: CountsOf;
  problems: Problem[];
}

/** The counts of a book as of a day; without a day the last one in the book. */
export function countsAsOf({book, columns, problems}: BookRead & {book: Book}, day?: Day): CountsAsOf {
  if (columns) {
    // The book itself has no squares and no events then: the later of the two is its last day.
    const later = (day: Day, until?: Day) => [day, lastColumnDay(columns, until) ?? ""].sort().at(-1)!;
    const asOf = day ?? later(lastDay(book));
    const {counts, problems: told} = columnCounts(book, columns, asOf);
    return made({
      book,
      columns,
      asOf,
      entered: later(lastEntry(book, asOf), asOf),
      counts,
      problems: [...problems, ...told]
    });
  }
  const asOf = day ?? lastDay(book);
  const replayed = histories(book, asOf);
  const told = [...problems, ...replayed.problems];
  return made({book, asOf, entered: lastEntry(book, asOf), counts: bookCounts(replayed), problems: told});
}

/** The same with what became of the rows. */
function made(counted: Omit<CountsAsOf, "accounts">): CountsAsOf {
  return {...counted, accounts: rowAccounts({...counted, sources: counted.book.sources})};
}
