import {dayNumber} from "./day.ts";
import {noDay, type PlainColumn, type PlainTable} from "./plainTable.ts";
import {cellValue} from "./readPlain.ts";
import type {Numbered} from "./readRecords.ts";
import type {Event} from "./records.ts";
import type {Settings} from "./settings.ts";
import {type Asked, type KnownNumbers, soundEvents} from "./soundRows.ts";
import {isFarSize, middleOf} from "./unitJumps.ts";

/** The sound events of a plain file, as columns: nothing is made of them before they are asked for. */
export interface EventColumns {
  /** Places of the sound rows, in the order of the file. */
  sound: Int32Array;
  /** Day numbers, row by row. */
  days: Int32Array;
  /** The place of each row's square among those known; −1 where it is none. */
  squares: Int32Array;
  event: (place: number) => Numbered<Event>;
}

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
  const {rows, columns} = table;
  const {settings, today} = asked;
  const days = new Int32Array(rows).fill(noDay);
  days.set((columns.get("date") as PlainColumn & {kind: "day"}).values.subarray(0, rows));
  const oddAt = new Map(odd.map((event) => [event.row - 2, event]));
  const read = recordAt(table);
  const isOdd = new Uint8Array(rows);
  for (const {place} of table.odd) isOdd[place] = 1;

  const squareAt = new Map([...known.squares].map((square, place) => [square, place]));
  const squareText = textsOf(table, "square", (name) => squareAt.get(name) ?? -1);
  const squares = Int32Array.from({length: rows}, (_, place) => squareText(place));
  const isStrange = lookOver(table, known, settings);
  const lastDay = today === undefined ? Number.MAX_SAFE_INTEGER : dayNumber(today);
  const diameters = columns.get("diameterMm");
  const sizes = diameters?.kind === "number" ? diameters.values : undefined;
  const middle = middleDiameter(sizes, rows, isOdd, odd);

  const looked = new Uint8Array(rows);
  for (let place = 0; place < rows; place++) {
    if (isOdd[place] === 1) {
      looked[place] = oddAt.has(place) ? 1 : 0;
      continue;
    }
    const size = sizes?.[place] ?? Number.NaN;
    const isFar = middle !== undefined && isFarSize(size, middle);
    if (squares[place]! < 0 || days[place]! > lastDay || isFar || isStrange(place)) looked[place] = 1;
  }
  for (const event of odd) {
    days[event.row - 2] = dayNumber(event.date);
    squares[event.row - 2] = squareAt.get(event.square) ?? -1;
  }
  markAlike(looked, isOdd, squares, days, table, oddAt);

  const subset: Numbered<Event>[] = [];
  for (let place = 0; place < rows; place++) if (looked[place] === 1) subset.push(oddAt.get(place) ?? read(place));
  const kept = soundEvents(subset, known, asked, middle === undefined ? {} : {diameterMm: middle});
  const mended = new Map(kept.map((event) => [event.row - 2, event]));
  const sound = new Int32Array(rows);
  let count = 0;
  for (let place = 0; place < rows; place++) {
    const isSound = looked[place] === 1 ? mended.has(place) : isOdd[place] === 0;
    if (isSound) sound[count++] = place;
  }
  return {
    sound: sound.subarray(0, count),
    days,
    squares,
    event: (place) => (looked[place] === 1 ? mended.get(place)! : read(place))
  };
}

/** Whether a plain row may not fit by its words: its event, stage, defect and order. */
function lookOver(table: PlainTable, known: KnownNumbers, settings: Settings): (place: number) => boolean {
  const within = (names: readonly string[]) => (name: string) => (names.includes(name) ? 1 : 2);
  const stage = textsOf(table, "stage", within(settings.stages.map(({name}) => name)), 0);
  const defect = textsOf(table, "defect", within(settings.defects.map(({name}) => name)), 0);
  const order = textsOf(table, "order", (name) => (known.orders.has(name) ? 1 : 2), 0);
  const wants = {turned: stage, discarded: defect, allotted: order};
  const wanted = textsOf(table, "event", (name) => Object.keys(wants).indexOf(name));
  const needed = Object.values(wants);
  return (place) => {
    if (stage(place) === 2 || defect(place) === 2 || order(place) === 2) return true;
    const need = wanted(place);
    return need >= 0 && needed[need]!(place) === 0;
  };
}

/** A number for each row by its text in a column, worked out once for each text; `blank` where there is none. */
function textsOf(table: PlainTable, key: string, of: (name: string) => number, blank = -1): (place: number) => number {
  const column = table.columns.get(key);
  if (column?.kind !== "text") return () => blank;
  const numbers = Int32Array.from(column.names, of);
  const {places} = column;
  return (place) => (places[place]! < 0 ? blank : numbers[places[place]!]!);
}

/** The middle of all diameters, those of odd rows among them; undefined with fewer than three. */
function middleDiameter(
  sizes: Float64Array | undefined,
  rows: number,
  isOdd: Uint8Array,
  odd: readonly Event[]
): number | undefined {
  const all: number[] = odd.flatMap(({diameterMm}) => diameterMm ?? []);
  for (let place = 0; sizes && place < rows; place++)
    if (isOdd[place] === 0 && !Number.isNaN(sizes[place]!)) all.push(sizes[place]!);
  return middleOf(all);
}

/** Marks rows of one square and day that say the same, to be looked at. */
function markAlike(
  looked: Uint8Array,
  isOdd: Uint8Array,
  squares: Int32Array,
  days: Int32Array,
  table: PlainTable,
  oddAt: ReadonlyMap<number, Numbered<Event>>
): void {
  const columns = [...table.columns.values()];
  const isSame = (a: number, b: number) =>
    columns.every((column) => {
      if (column.kind === "day") return column.values[a] === column.values[b];
      if (column.kind === "text") return column.places[a] === column.places[b];
      return Object.is(column.values[a], column.values[b]);
    });
  const {starts, order} = bySquare(squares);
  for (let square = 0; square + 1 < starts.length; square++) {
    const [from, to] = [starts[square]!, starts[square + 1]!];
    for (let i = from; i < to; i++)
      for (let k = i + 1; k < to; k++) {
        const [a, b] = [order[i]!, order[k]!];
        if (days[a] !== days[b]) continue;
        // A row that is looked at anyway may say the same in other words.
        const isUnsure = isOdd[a] === 1 || isOdd[b] === 1 || looked[a] === 1 || looked[b] === 1;
        if (isUnsure ? (oddAt.has(a) || isOdd[a] === 0) && (oddAt.has(b) || isOdd[b] === 0) : isSame(a, b))
          looked[a] = looked[b] = 1;
      }
  }
}

/** The rows of each square, in the order of the file; rows of unknown squares left out. */
export function bySquare(squares: Int32Array, rows?: Int32Array): {starts: Int32Array; order: Int32Array} {
  const all = rows ?? Int32Array.from(squares, (_, place) => place);
  let most = -1;
  for (const place of all) if (squares[place]! > most) most = squares[place]!;
  const starts = new Int32Array(most + 2);
  for (const place of all) if (squares[place]! >= 0) starts[squares[place]! + 1]!++;
  for (let i = 1; i < starts.length; i++) starts[i]! += starts[i - 1]!;
  const next = starts.slice();
  const order = new Int32Array(starts.at(-1)!);
  for (const place of all) {
    const square = squares[place]!;
    if (square >= 0) order[next[square]!++] = place;
  }
  return {starts, order};
}

/**
 * Makes the event of a plain row. All have one shape, blank cells undefined, and the columns are at hand one by one: a million take 0.1 s, made key
 * by key as records are they take 0.9 s.
 */
function recordAt({columns}: PlainTable): (place: number) => Numbered<Event> {
  const days = columns.get("date") as PlainColumn & {kind: "day"};
  const date = cellValue(days);
  const [square, event, stage] = [textOf(columns, "square"), textOf(columns, "event"), textOf(columns, "stage")];
  const [defect, order, note] = [textOf(columns, "defect"), textOf(columns, "order"), textOf(columns, "note")];
  const [massG, moisturePct] = [numbersOf(columns, "massG"), numbersOf(columns, "moisturePct")];
  const [diameterMm, deflectionMm] = [numbersOf(columns, "diameterMm"), numbersOf(columns, "deflectionMm")];
  return (place) =>
    ({
      date: date(place),
      square: textAt(square, place),
      event: textAt(event, place),
      stage: textAt(stage, place),
      massG: numberAt(massG, place),
      moisturePct: numberAt(moisturePct, place),
      diameterMm: numberAt(diameterMm, place),
      deflectionMm: numberAt(deflectionMm, place),
      defect: textAt(defect, place),
      order: textAt(order, place),
      note: textAt(note, place),
      row: place + 2
    }) as Numbered<Event>;
}

interface Texts {
  places: Int32Array;
  names: readonly string[];
}

const noTexts: Texts = {places: new Int32Array(0), names: []};
const noNumbers = new Float64Array(0);

function textOf(columns: PlainTable["columns"], key: string): Texts {
  const column = columns.get(key);
  return column?.kind === "text" ? {places: column.places, names: column.names} : noTexts;
}

function numbersOf(columns: PlainTable["columns"], key: string): Float64Array {
  const column = columns.get(key);
  return column?.kind === "number" ? column.values : noNumbers;
}

function textAt({places, names}: Texts, place: number): string | undefined {
  const name = place < places.length ? places[place]! : -1;
  return name < 0 ? undefined : names[name];
}

function numberAt(values: Float64Array, place: number): number | undefined {
  const value = place < values.length ? values[place]! : Number.NaN;
  return Number.isNaN(value) ? undefined : value;
}
