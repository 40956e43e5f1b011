import {BookCounter, type CountsOf} from "./bookCounts.ts";
import {columnReplay} from "./columnReplay.ts";
import {noPlace} from "./columnsOf.ts";
import {type Day, dayNumber, dayText} from "./day.ts";
import {type EventColumns, eventKinds} from "./eventColumns.ts";
import {newestFirst, newPiece, Replay} from "./histories.ts";
import type {Book, BookColumns} from "./parseBook.ts";
import {noDay} from "./plainTable.ts";
import type {Problem} from "./problem.ts";
import {sortedBy} from "./sortedBy.ts";
import {windowSide} from "./spellCounts.ts";
import {discardCause} from "./spells.ts";
import type {SquareColumns} from "./squareColumns.ts";

/** The counts of a book on a day, and what cannot have happened in it. */
export interface ColumnCounts {
  counts: CountsOf;
  problems: Problem[];
  /** Squares that had to be replayed event by event, as something about them may be wrong. */
  doubtful: number;
}

/**
 * The counts of a book whose squares and events are columns: a book of any size needs no more room than its columns and its counts. The same counts
 * and faults as `bookCounts(histories(book, asOf))`.
 *
 * Checked: tests/book/columnCounts.test.ts, against these
 */
export function columnCounts(book: Book, {squares, events}: BookColumns, asOf: Day): ColumnCounts {
  const {settings, lots} = book;
  const last = dayNumber(asOf);
  const bought = lots.filter((lot) => lot.boughtOn <= asOf);
  const boughtAt = new Map(bought.map(({lot}, place) => [lot, place]));
  const boughtPlace = lots.map(({lot}) => boughtAt.get(lot) ?? noPlace);
  const orders = book.orders.filter(({orderedOn}) => orderedOn <= asOf);
  const boughtOn = Int32Array.from(lots, (lot) => dayNumber(lot.boughtOn));
  const down = newestFirst(events.sound.map((place) => events.days[place]!)) ? -1 : 1;
  const rows = inOrder(events, last, down);
  const stages = settings.stages.map(({name}) => name);
  const courses = columnReplay(events, rows, squares, boughtOn, stages.length - 1);
  const {isDoubtful, reachedOn, promisedAt, endedAt} = courses;
  const eventsOf = new Map<number, number[]>();
  for (const place of rows) {
    const square = events.squares[place]!;
    if (isDoubtful[square] === 0) continue;
    const own = eventsOf.get(square);
    if (own) own.push(place);
    else eventsOf.set(square, [place]);
  }

  const replay = new Replay(settings, orders, book.sources["events.csv"], down);
  const counter = new BookCounter(settings, bought);
  const causes = settings.defects.map(({name}) => discardCause(name));
  const windows = bought.map(({species}) => settings.species[species]!.windowKgM3);
  const outcomeOf = (end: number) => {
    const kind = eventKinds[events.kinds[end]!]!;
    return kind === "discarded" ? causes[events.defects[end]!]! : kind;
  };
  const count = (square: number, lot: number) => {
    const [density, stage] = [squares.densityAt12KgM3[square]!, courses.stages[square]!];
    const side = windowSide(density, windows[lot]!);
    const first = square * stages.length;
    for (let k = 0; k < stage; k++)
      counter.addStay(lot, stages[k]!, reachedOn[first + k]!, reachedOn[first + k + 1]!, "passed", side);
    const [promise, end] = [promisedAt[square]!, endedAt[square]!];
    const order = promise === noPlace ? undefined : book.orders[events.orders[promise]!]!.order;
    const outcome = end !== noPlace ? outcomeOf(end) : order && "allotted";
    const to = end === noPlace ? undefined : events.days[end]!;
    counter.addStay(lot, stages[stage]!, reachedOn[first + stage]!, to, outcome, side);
    const isOut = end !== noPlace && outcome !== "delivered";
    counter.addSquare(lot, density, isOut ? undefined : order);
    if (order !== undefined) replay.promised(order, 1, promise, events.event);
    if (order !== undefined && isOut) replay.promised(order, -1, end, events.event);
  };
  for (let square = 0; square < squares.size; square++) {
    const lot = boughtPlace[squares.lots[square]!]!;
    if (isDoubtful[square] === 1) {
      const piece = lot === noPlace ? undefined : newPiece(squares.square(square), bought[lot]!, settings);
      replay.piece(piece, eventsOf.get(square)!.map(events.event));
      if (piece) counter.add(piece);
    } else if (lot !== noPlace) count(square, lot);
  }
  return {counts: counter.counts(last, orders), problems: replay.problems(), doubtful: eventsOf.size};
}

/** Places of the sound events up to a day, in the order in which they happened. */
function inOrder({sound, days}: EventColumns, last: number, down: 1 | -1): Int32Array {
  const rows = sound.filter((place) => days[place]! <= last);
  return sortedBy(down === 1 ? rows : rows.reverse(), days);
}

/** The last day on which a square was measured or anything happened to one; undefined where there is none. */
export function lastColumnDay(
  {
    squares: {measuredOn},
    events: {sound, days}
  }: {
    squares: Pick<SquareColumns, "measuredOn">;
    events: Pick<EventColumns, "sound" | "days">;
  },
  until?: Day
): Day | undefined {
  const most = until === undefined ? Number.MAX_SAFE_INTEGER : dayNumber(until);
  const later = (day: number, one: number) => (one > day && one <= most ? one : day);
  const last = sound.reduce((day, place) => later(day, days[place]!), measuredOn.reduce(later, noDay));
  return last === noDay ? undefined : dayText(last);
}
