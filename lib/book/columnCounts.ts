import {greatest} from "../stats/numbers.ts";
import {BookCounter, type CountsOf} from "./bookCounts.ts";
import {type Day, dayNumber, dayText} from "./day.ts";
import {bySquare, type EventColumns} from "./eventColumns.ts";
import {newestFirst, newPiece, Replay} from "./histories.ts";
import type {Book} from "./parseBook.ts";
import type {Problem} from "./problem.ts";

/** The counts of a book on a day, and what cannot have happened in it. */
export interface ColumnCounts {
  counts: CountsOf;
  problems: Problem[];
}

/**
 * The counts of a book whose events are columns: each piece is replayed by itself, counted and forgotten, so that a book of any size needs no more
 * room than its columns and its counts. The same counts and faults as `bookCounts(histories(book, asOf))`.
 *
 * Checked: tests/book/columnCounts.test.ts, against these
 */
export function columnCounts(book: Book, events: EventColumns, asOf: Day): ColumnCounts {
  const {settings} = book;
  const lots = book.lots.filter(({boughtOn}) => boughtOn <= asOf);
  const orders = book.orders.filter(({orderedOn}) => orderedOn <= asOf);
  const lotOf = new Map(lots.map((lot) => [lot.lot, lot]));
  const {days, sound} = events;
  const down = newestFirst(Array.from(sound, (place) => days[place]!)) ? -1 : 1;
  const last = dayNumber(asOf);
  const {starts, order} = bySquare(
    events.squares,
    sound.filter((place) => days[place]! <= last)
  );
  const replay = new Replay(settings, orders, book.sources["events.csv"], down);
  const counter = new BookCounter(settings, lots);
  for (const [place, square] of book.squares.entries()) {
    const rows = order.subarray(starts[place] ?? 0, starts[place + 1] ?? 0);
    // A book kept from day to day has them in order already.
    const isInOrder = down === 1 && rows.every((row, i) => i === 0 || days[rows[i - 1]!]! <= days[row]!);
    const inOrder = isInOrder ? rows : rows.sort((a, b) => days[a]! - days[b]! || down * (a - b));
    const lot = lotOf.get(square.lot);
    const piece = lot && newPiece(square, lot, settings);
    replay.piece(piece, Array.from(inOrder, events.event));
    if (piece) counter.add(piece);
  }
  return {counts: counter.counts(last, orders), problems: replay.problems()};
}

/** The last day of the sound events; undefined where there is none. */
export function lastEventDay({sound, days}: EventColumns): Day | undefined {
  const last = greatest(Array.from(sound, (place) => days[place]!));
  return sound.length > 0 ? dayText(last) : undefined;
}
