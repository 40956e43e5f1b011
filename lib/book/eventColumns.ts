import {dayColumn, nameColumn, noPlace, numberColumn, placesOf, unknownPlace} from "./columnsOf.ts";
import {dayNumber} from "./day.ts";
import {noDay, type PlainTable} from "./plainTable.ts";
import {recordOf} from "./readPlain.ts";
import type {Numbered} from "./readRecords.ts";
import {Event, files} from "./records.ts";
import {type Asked, type KnownNumbers, soundEvents} from "./soundRows.ts";
import {isFarSize, middleOf} from "./unitJumps.ts";

/** The sound events of a plain file, as columns by place; row i of the file, counted from the first below the headings, has place i. */
export interface EventColumns {
  /** Places of the sound rows, in the order of the file. */
  sound: Int32Array;
  /** Day numbers. */
  days: Int32Array;
  /** The place of each row's square among those known; `noPlace` where it is none. */
  squares: Int32Array;
  /** 1 where what follows does not say what the event is: a row not in the plain form, or with a name in another spelling. */
  isApart: Uint8Array;
  /** Places in `eventKinds`. */
  kinds: Int32Array;
  /** Places among the stages of the settings, `noPlace` where it is blank; the same of defects, and of orders among those known. */
  stages: Int32Array;
  defects: Int32Array;
  orders: Int32Array;
  /** NaN where it is blank. */
  massG: Float64Array;
  event: (place: number) => Numbered<Event>;
}

export const eventKinds = Event.shape.event.options;

/**
 * The events of a plain file that fit, as `soundEvents` finds them, with its faults: rows that may not fit are picked out by a look along each
 * column, and only these are made records and gone through one by one.
 *
 * Checked: tests/book/columnCounts.test.ts, against the book read row by row
 *
 * @param odd the records among the odd rows of the table
 */
export function eventColumns(
  table: PlainTable,
  odd: readonly Numbered<Event>[],
  known: KnownNumbers,
  asked: Asked
): EventColumns {
  const {rows} = table;
  const {settings, today} = asked;
  const oddAt = new Map(odd.map((event) => [event.row - 2, event]));
  const read = recordOf<Event>(files["events.csv"], table);
  const isOdd = new Uint8Array(rows);
  for (const {place} of table.odd) isOdd[place] = 1;

  const days = dayColumn(table, "date");
  const squares = nameColumn(table, "square", known.squares);
  const kinds = nameColumn(table, "event", placesOf(eventKinds));
  const stages = nameColumn(table, "stage", placesOf(settings.stages.map(({name}) => name)));
  const defects = nameColumn(table, "defect", placesOf(settings.defects.map(({name}) => name)));
  const orders = nameColumn(table, "order", known.orders);
  const massG = numberColumn(table, "massG");
  const diameterMm = numberColumn(table, "diameterMm");
  // Columns hold nothing of use in odd rows.
  for (const {place} of table.odd) {
    const event = oddAt.get(place);
    days[place] = event ? dayNumber(event.date) : noDay;
    squares[place] = event ? (known.squares.get(event.square) ?? unknownPlace) : noPlace;
    diameterMm[place] = event?.diameterMm ?? Number.NaN;
  }

  const lastDay = today === undefined ? Number.MAX_SAFE_INTEGER : dayNumber(today);
  const middle = middleOf(diameterMm);
  const [turned, discarded, allotted] = (["turned", "discarded", "allotted"] as const).map(kindAt);
  /** Rows that are looked at one by one. */
  const isApart = new Uint8Array(rows);
  for (let place = 0; place < rows; place++) {
    const kind = kinds[place];
    const isLacking =
      (kind === turned && stages[place] === noPlace) ||
      (kind === discarded && defects[place] === noPlace) ||
      (kind === allotted && orders[place] === noPlace);
    const isUnknown =
      squares[place]! < 0 ||
      stages[place] === unknownPlace ||
      defects[place] === unknownPlace ||
      orders[place] === unknownPlace;
    const isFar = isFarSize(diameterMm[place]!, middle);
    if (isLacking || isUnknown || isFar || days[place]! > lastDay) isApart[place] = 1;
  }
  for (const {place} of table.odd) isApart[place] = oddAt.has(place) ? 1 : 0;
  markAlike(isApart, squares, days, table, known.squares.size);

  const looked: Numbered<Event>[] = [];
  for (let place = 0; place < rows; place++) if (isApart[place] === 1) looked.push(oddAt.get(place) ?? read(place));
  const kept = soundEvents(looked, known, asked, {diameterMm: middle});
  const keptAt = new Map(kept.map((event) => [event.row - 2, event]));
  const sound = new Int32Array(rows);
  let count = 0;
  for (let place = 0; place < rows; place++) {
    const isSound = isApart[place] === 1 ? keptAt.has(place) : isOdd[place] === 0;
    if (isSound) sound[count++] = place;
  }
  const event = (place: number) => keptAt.get(place) ?? read(place);
  return {sound: sound.subarray(0, count), days, squares, isApart, kinds, stages, defects, orders, massG, event};
}

/** The place of a kind of event. */
export function kindAt(kind: Event["event"]): number {
  return eventKinds.indexOf(kind);
}

/** Against so many earlier rows of its square a row is held; where a square has more, each of its rows is looked at. */
const mostHeld = 64;

/** Marks rows of one square and day that say the same, to be looked at. */
function markAlike(
  isApart: Uint8Array,
  squares: Int32Array,
  days: Int32Array,
  {columns}: PlainTable,
  known: number
): void {
  const all = [...columns.values()].map((column) => (column.kind === "text" ? column.places : column.values));
  const isSame = (a: number, b: number) => all.every((values) => Object.is(values[a], values[b]));
  const isRising = !days.some((day, place) => place > 0 && day < days[place - 1]!);
  /** Of each square the last row so far, and of each row the row of the same square before it. */
  const last = new Int32Array(known).fill(noPlace);
  const before = new Int32Array(days.length);
  const isCrowded = new Uint8Array(known);
  for (let place = 0; place < days.length; place++) {
    const square = squares[place]!;
    if (square < 0) continue;
    let held = 0;
    for (let other = last[square]!; other >= 0 && isCrowded[square] === 0; other = before[other]!) {
      if (days[other] !== days[place] && isRising) break;
      if (++held > mostHeld) isCrowded[square] = 1;
      if (days[other] !== days[place]) continue;
      // A row that is looked at anyway may say the same in other words.
      const isUnsure = isApart[other] === 1 || isApart[place] === 1;
      if (isUnsure || isSame(other, place)) isApart[other] = isApart[place] = 1;
    }
    before[place] = last[square]!;
    last[square] = place;
  }
  for (let place = 0; place < days.length; place++)
    if (squares[place]! >= 0 && isCrowded[squares[place]!] === 1) isApart[place] = 1;
}
