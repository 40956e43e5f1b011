import {type CountsOf, densityStep} from "./bookCounts.ts";
import {type Day, dayNumber, dayText} from "./day.ts";
import {bySquare, type EventColumns} from "./eventColumns.ts";
import {newPiece, Replay} from "./histories.ts";
import {LotCountsMaker} from "./lotCounts.ts";
import type {Book} from "./parseBook.ts";
import type {Problem} from "./problem.ts";
import {spellCount, windowSide} from "./spellCounts.ts";

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
  const lotAt = new Map(lots.map(({lot}, place) => [lot, place]));
  const {days, sound} = events;
  const down = newestFirst(events) ? -1 : 1;
  const last = dayNumber(asOf);
  const {starts, order} = bySquare(
    events.squares,
    sound.filter((place) => days[place]! <= last)
  );
  const replay = new Replay(settings, orders, book.sources["events.csv"], down);
  const maker = new LotCountsMaker(lots.map(({lot}) => lot));
  const densities = lots.map((): number[] => []);
  const given = new Map<string, number>();
  for (const [place, square] of book.squares.entries()) {
    const rows = order.subarray(starts[place] ?? 0, starts[place + 1] ?? 0);
    // A book kept from day to day has them in order already.
    const isInOrder = down === 1 && rows.every((row, i) => i === 0 || days[rows[i - 1]!]! <= days[row]!);
    const inOrder = isInOrder ? rows : rows.sort((a, b) => days[a]! - days[b]! || down * (a - b));
    const lotPlace = lotAt.get(square.lot);
    const lot = lotPlace === undefined ? undefined : lots[lotPlace]!;
    const piece = lot && newPiece(square, lot, settings);
    replay.piece(piece, Array.from(inOrder, events.event));
    if (!piece || lotPlace === undefined) continue;
    const side = windowSide(piece.densityAt12KgM3, settings.species[piece.species]!.windowKgM3);
    densities[lotPlace]!.push(densityStep(piece.densityAt12KgM3));
    for (const stay of piece.stays) maker.add(lotPlace, {...spellCount(piece, stay), side});
    const {allottedTo} = piece;
    if (allottedTo !== undefined) given.set(allottedTo, (given.get(allottedTo) ?? 0) + 1);
  }
  const counts: CountsOf = {
    settings,
    asOf: last,
    lots: lots.map(({row: _, ...lot}) => lot),
    orders: orders.map(({row: _, ...one}) => ({...one, given: given.get(one.order) ?? 0})),
    spells: maker.made(last),
    densities: densities.flatMap((own, place) =>
      Array.from(Float64Array.from(own).sort(), (densityKgM3) => ({lot: lots[place]!.lot, densityKgM3, squares: 1}))
    )
  };
  return {counts, problems: replay.problems()};
}

/** Whether days fall more often than they rise from row to row. */
function newestFirst({sound, days}: EventColumns): boolean {
  let rises = 0;
  for (let i = 1; i < sound.length; i++) rises += Math.sign(days[sound[i]!]! - days[sound[i - 1]!]!);
  return rises < 0;
}

/** The last day on which anything in the book was bought, measured, ordered, done or read. */
export function lastColumnDay({lots, squares, orders, climate}: Book, {sound, days}: EventColumns): Day {
  let event = Number.NEGATIVE_INFINITY;
  for (const place of sound) if (days[place]! > event) event = days[place]!;
  let last = event === Number.NEGATIVE_INFINITY ? "" : dayText(event);
  const later = (day: Day | undefined) => {
    if (day !== undefined && day > last) last = day;
  };
  for (const {boughtOn} of lots) later(boughtOn);
  for (const {measuredOn} of squares) later(measuredOn);
  for (const {orderedOn} of orders) later(orderedOn);
  for (const {date} of climate) later(date);
  return last;
}
