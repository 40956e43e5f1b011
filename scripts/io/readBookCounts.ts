import {bookCounts, type CountsOf} from "../../lib/book/bookCounts.ts";
import {columnCounts, lastColumnDay} from "../../lib/book/columnCounts.ts";
import type {Day} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {type BookRead, lastDay, readBook} from "./readBook.ts";

/** The counts of a book and every fault found on the way; without `counts` the book cannot be used. */
export interface CountsRead extends Omit<BookRead, "book" | "columns"> {
  counts?: CountsOf;
  problems: Problem[];
}

/**
 * The counts of the book in a folder or a workbook, as of a day, the last one in the book unless given. Events in the plain form never become
 * records, so that a book of millions takes seconds.
 *
 * @param today rows of a later day are refused
 * @throws UserError when nothing is there
 */
export function readBookCounts(place: string, {today, asOf}: {today?: Day; asOf?: Day} = {}): CountsRead {
  const {book, columns, ...read} = readBook(place, today, {asColumns: true});
  if (!book) return read;
  if (columns) {
    // The book itself has no squares and no events then: the later of the two is its last day.
    const last = [lastDay(book), lastColumnDay(columns) ?? ""].sort().at(-1)!;
    const {counts, problems} = columnCounts(book, columns, asOf ?? last);
    return {...read, counts, problems: [...read.problems, ...problems]};
  }
  const replayed = histories(book, asOf ?? lastDay(book));
  return {...read, counts: bookCounts(replayed), problems: [...read.problems, ...replayed.problems]};
}
