import {type Day, dayNumber, dayText} from "../book/day.ts";
import {fold} from "../book/fold.ts";
import type {Histories, Piece} from "../book/histories.ts";
import {nearest} from "../book/nearest.ts";
import type {Numbered} from "../book/readRecords.ts";
import type {Event} from "../book/records.ts";
import {isThere} from "../book/shafts.ts";
import {textOrder} from "../book/textOrder.ts";
import {type Counted, squareFinder} from "./countedRows.ts";

/** A part of the stock that was counted: of all stages or lots where none is named. */
export interface StockPart {
  stages?: readonly string[] | undefined;
  lots?: readonly string[] | undefined;
}

/** A number on the list, as the book has it, with the rows of the list it stands in. */
export interface CountedPiece {
  square: string;
  rows: number[];
  /** What was noted beside it. */
  notes: string[];
}

/** A piece that the book has in stock: where it has it, and since when. */
export interface BookPlace {
  species: string;
  lot: string;
  stage: string;
  since: Day;
  allottedTo?: string;
}

/** A piece of the part that is in stock by the book and not on the list. */
export interface Missing extends BookPlace {
  square: string;
  /** The first day after the count on which the book has it do something: then it was overlooked. */
  seenOn?: Day;
  /** Whether the book has something of it on the day of the count itself, which may be before or after it. */
  onTheDay?: boolean;
  /** Of events.csv: a row with its number that was set aside, and may say where it is. */
  refusedRow?: number;
  /** Numbers on the list that the book does not have and that may stand for this one. */
  perhaps?: string[];
}

/** A piece in stock by the book, seen at another stage than the book has it at. */
export interface AtOtherStage extends CountedPiece, BookPlace {
  seen: string;
  /** Whether it is of the part that was counted, by the book. */
  inPart: boolean;
  /** The turnings that the book lacks, in order, by the stage reached: none where the piece was seen at an earlier stage. */
  passes: string[];
  /** Of a piece seen at an earlier stage: the rows of events.csv with the turnings beyond it. */
  eventRows: number[];
  /** Of a piece seen at a later stage: the day after the count on which the book has it turned to that stage or beyond. */
  enteredOn?: Day;
  /** Of a piece seen at an earlier stage: whether the book has it turned on the day of the count, which may have been after it. */
  onTheDay?: boolean;
  /** Of events.csv: a row with its number that was set aside, and may be the turning. */
  refusedRow?: number;
}

/** A number on the list that the book does not have in stock on that day, and why. */
export type Unexpected = CountedPiece &
  (
    | {
        why: "unknown" /** The number probably meant. */;
        near?: string /** Whether that one is missing. */;
        nearMissing?: boolean;
      }
    | {why: "set aside" /** Of squares.csv. */; squareRow: number}
    | {why: "discarded" | "diverted" | "delivered"; day: Day /** Of events.csv. */; eventRow?: number}
    | {why: "bought later"; day: Day; lot: string}
  );

/** A number that stands in the list more than once. */
export interface Twice {
  square: string;
  rows: number[];
  /** Where the rows give different stages: all of them; none was taken. */
  stages: string[];
}

/** Of the pieces of one species and stage that the book has in stock: how many were found. */
export interface StocktakeRow {
  species: string;
  stage: string;
  book: number;
  found: number;
  otherStage: number;
  missing: number;
}

/** A counted list held against the book. Each number is in one of the five lists only. */
export interface Stocktake {
  on: Day;
  part: StockPart;
  /** In stock by the book and seen; at the same stage, where one was noted. */
  found: (CountedPiece &
    BookPlace & {/** Whether its stage was noted too; else only that it is there was seen. */ stageNoted: boolean})[];
  missing: Missing[];
  otherStage: AtOtherStage[];
  unexpected: Unexpected[];
  /** In stock by the book, but of another part than the one counted, and seen at no other stage. */
  beside: (CountedPiece & BookPlace)[];
  twice: Twice[];
  byStage: StocktakeRow[];
  /** Of `of` pieces of the part that the book has in stock, `found` were found as it says. A count of all of them: no sample, no interval. */
  agreement: {found: number; of: number};
}

/** What is known beside the book on the day of the count. */
export interface StocktakeKnowledge {
  part?: StockPart;
  /** The sound events of the book, to name the row that is to be looked at. */
  events?: readonly Numbered<Event>[];
  /** The same book replayed to its last day. */
  later?: Histories;
  /** The row of squares.csv in which a number stands that was refused there. */
  setAside?: (square: string) => number | undefined;
  /** The row of events.csv with a number that was refused there. */
  refusedEvent?: (square: string) => number | undefined;
}

/** Looking for the number that was meant takes time: for so many unknown ones it is done. */
const looked = 200;

/**
 * A counted list against the book on the day of the count. The order of the rows does not matter; a number that stands twice is one piece; its
 * stage is not taken where the rows differ.
 *
 * Every piece of the part that the book has in stock (shafts not delivered are) is in `found`, `missing` or `otherStage`:
 *
 *   book = found + missing + those of `otherStage` that are `inPart`
 *
 * Checked: tests/rack/stocktake.test.ts
 *
 * @param histories the book replayed to the day of the count
 * @param counted stages in the spelling of the settings
 */
export function stocktake(
  histories: Histories,
  counted: readonly Numbered<Counted>[],
  {part = {}, events = [], later, setAside = () => undefined, refusedEvent = () => undefined}: StocktakeKnowledge = {}
): Stocktake {
  const {settings, asOf, pieces} = histories;
  const stages = settings.stages.map(({name}) => name);
  const now = new Map(pieces.map((piece) => [piece.square, piece]));
  const after = new Map((later?.pieces ?? []).map((piece) => [piece.square, piece]));
  const numbers = [...new Set([...now.keys(), ...after.keys()])];
  const inPart = (piece: Piece) =>
    (part.stages?.includes(stageOf(piece)) ?? true) && (part.lots?.includes(piece.lot) ?? true);
  const eventsOf = new Map<string, Numbered<Event>[]>();
  for (const event of events) eventsOf.set(event.square, [...(eventsOf.get(event.square) ?? []), event]);

  const seen = together(counted, squareFinder(numbers));
  const wanted = pieces.filter((piece) => isThere(piece) && inPart(piece));
  const result: Stocktake = {
    on: dayText(asOf),
    part,
    found: [],
    missing: wanted
      .filter(({square}) => !seen.has(square))
      .map((piece) => ({...missing(piece, asOf, after.get(piece.square)), ...refusal(piece.square)})),
    otherStage: [],
    unexpected: [],
    beside: [],
    twice: [],
    byStage: [],
    agreement: {found: 0, of: wanted.length}
  };
  const lost = new Map(result.missing.map((one) => [one.square, one]));
  let left = looked;
  for (const square of [...seen.keys()].sort(textOrder)) {
    const {stages: noted, ...one} = seen.get(square)!;
    if (one.rows.length > 1) result.twice.push({square, rows: one.rows, stages: noted.length > 1 ? noted : []});
    const piece = now.get(square);
    if (!piece || !isThere(piece)) {
      result.unexpected.push({...one, ...notThere(piece)});
      continue;
    }
    const stage = noted.length === 1 ? noted[0]! : stageOf(piece);
    if (stage !== stageOf(piece)) result.otherStage.push({...one, ...placeOf(piece), ...moved(piece, stage)});
    else if (inPart(piece)) result.found.push({...one, ...placeOf(piece), stageNoted: noted.length === 1});
    else result.beside.push({...one, ...placeOf(piece)});

    function notThere(gone: Piece | undefined) {
      if (gone) return ended(gone, eventsOf.get(square) ?? []);
      const bought = after.get(square);
      if (bought) return {why: "bought later" as const, day: dayText(bought.boughtOn), lot: bought.lot};
      const squareRow = setAside(square);
      if (squareRow !== undefined) return {why: "set aside" as const, squareRow};
      return {why: "unknown" as const, ...(left-- > 0 && meant(square, [...lost.keys()], numbers))};
    }
  }
  for (const one of result.unexpected) {
    const meant = one.why === "unknown" && one.near !== undefined && lost.get(one.near);
    if (meant) meant.perhaps = [...(meant.perhaps ?? []), one.square];
  }
  result.byStage = byStage(result, wanted, stages);
  result.agreement.found = result.found.length;
  return result;

  function refusal(square: string) {
    const row = refusedEvent(square);
    return row === undefined ? {} : {refusedRow: row};
  }

  function moved(piece: Piece, stage: string) {
    const [at, seenAt] = [stages.indexOf(stageOf(piece)), stages.indexOf(stage)];
    const entered = after
      .get(piece.square)
      ?.stays.find(({stage: own, from}) => from > asOf && stages.indexOf(own) >= seenAt);
    return {
      seen: stage,
      inPart: inPart(piece),
      passes: stages.slice(at + 1, seenAt + 1),
      eventRows: (eventsOf.get(piece.square) ?? [])
        .filter(
          ({event, date, stage: own = ""}) =>
            event === "turned" && dayNumber(date) <= asOf && stages.indexOf(own) > seenAt
        )
        .map(({row}) => row),
      ...(seenAt > at && entered && {enteredOn: dayText(entered.from)}),
      ...(seenAt < at && piece.stays.at(-1)!.from === asOf && {onTheDay: true}),
      ...refusal(piece.square)
    };
  }
}

function stageOf({stays}: Piece): string {
  return stays.at(-1)!.stage;
}

function placeOf(piece: Piece): BookPlace {
  const {stage, from} = piece.stays.at(-1)!;
  const {species, lot, allottedTo} = piece;
  return {species, lot, stage, since: dayText(from), ...(allottedTo !== undefined && {allottedTo})};
}

/** The rows of the list by the number of the book, or else by the number as typed. */
function together(counted: readonly Numbered<Counted>[], find: (typed: string) => string | undefined) {
  const seen = new Map<string, CountedPiece & {stages: string[]}>();
  const unknown = new Map<string, string>();
  const inRows = counted.toSorted((a, b) => a.row - b.row || textOrder(a.square, b.square));
  for (const {square: typed, row, stage, note} of inRows) {
    const known = find(typed) ?? unknown.get(fold(typed) || typed);
    const square = known ?? typed;
    if (known === undefined) unknown.set(fold(typed) || typed, typed);
    const one = seen.get(square) ?? {square, rows: [], notes: [], stages: []};
    one.rows.push(row);
    if (note !== undefined) one.notes.push(note);
    if (stage !== undefined && !one.stages.includes(stage)) one.stages.push(stage);
    seen.set(square, one);
  }
  return seen;
}

function missing(piece: Piece, asOf: number, later: Piece | undefined): Missing {
  const days = later ? [...daysOf(later), later.fateOn, later.deliveredOn] : [];
  const next = days.filter((day) => day !== undefined && day > asOf).sort((a, b) => a! - b!)[0];
  return {
    square: piece.square,
    ...placeOf(piece),
    ...(next !== undefined && {seenOn: dayText(next)}),
    ...(daysOf(piece).includes(asOf) && {onTheDay: true})
  };
}

/** The days on which the book has a piece bought, turned or measured. */
function daysOf({boughtOn, stays, measurements}: Piece): number[] {
  return [boughtOn, ...stays.map(({from}) => from), ...measurements.map(({day}) => day)];
}

/** What ended a piece that is not there any more, and the row that says so. */
function ended({fate, fateOn, deliveredOn}: Piece, events: readonly Numbered<Event>[]) {
  const why = fate === "discarded" || fate === "diverted" ? fate : "delivered";
  const day = dayText(why === "delivered" ? deliveredOn! : fateOn!);
  const row = events.find(({event, date}) => event === why && date === day)?.row;
  return {why, day, ...(row !== undefined && {eventRow: row})} as const;
}

/** The number that was probably meant, of those missing or else of all: without zeros in front, l and I for 1, O for 0; else the nearest. */
function meant(
  square: string,
  lost: readonly string[],
  all: readonly string[]
): {near?: string; nearMissing?: boolean} {
  const bare = (text: string) =>
    fold(text)
      .replaceAll(/[il]/g, "1")
      .replaceAll("o", "0")
      .replaceAll(/(?<!\d)0+(?=\d)/g, "");
  const alike = (some: readonly string[]) => {
    const same = some.filter((one) => bare(one) === bare(square));
    return same.length === 1 ? same[0] : undefined;
  };
  const near = alike(lost) ?? nearest(square, lost) ?? alike(all) ?? nearest(square, all);
  return near === undefined ? {} : {near, nearMissing: lost.includes(near)};
}

function byStage(
  {missing, otherStage}: Stocktake,
  wanted: readonly Piece[],
  stages: readonly string[]
): StocktakeRow[] {
  const gone = new Set(missing.map(({square}) => square));
  const elsewhere = new Set(otherStage.map(({square}) => square));
  const species = [...new Set(wanted.map((piece) => piece.species))].sort(textOrder);
  return species.flatMap((name) =>
    stages.flatMap((stage) => {
      const own = wanted.filter((piece) => piece.species === name && stageOf(piece) === stage);
      if (own.length === 0) return [];
      const count = (some: ReadonlySet<string>) => own.filter(({square}) => some.has(square)).length;
      const [lost, moved] = [count(gone), count(elsewhere)];
      return {
        species: name,
        stage,
        book: own.length,
        found: own.length - lost - moved,
        otherStage: moved,
        missing: lost
      };
    })
  );
}
