import {bookCounts, type CountsOf} from "../../lib/book/bookCounts.ts";
import {columnCounts, lastColumnDay} from "../../lib/book/columnCounts.ts";
import type {Day} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import type {Book, BookColumns} from "../../lib/book/parseBook.ts";
import type {Problem} from "../../lib/book/problem.ts";
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
  entered: Day;
  counts: CountsOf;
  problems: Problem[];
}

/** The counts of a book as of a day; without a day the last one in the book. */
export function countsAsOf({book, columns, problems}: BookRead & {book: Book}, day?: Day): CountsAsOf {
  if (columns) {
    // The book itself has no squares and no events then: the later of the two is its last day.
    const withColumns = (day: Day) => [day, lastColumnDay(columns) ?? ""].sort().at(-1)!;
    const asOf = day ?? withColumns(lastDay(book));
    const {counts, problems: told} = columnCounts(book, columns, asOf);
    return {book, columns, asOf, entered: withColumns(lastEntry(book)), counts, problems: [...problems, ...told]};
  }
  const asOf = day ?? lastDay(book);
  const replayed = histories(book, asOf);
  return {
    book,
    asOf,
    entered: lastEntry(book),
    counts: bookCounts(replayed),
    problems: [...problems, ...replayed.problems]
  };
}
