import {type Day, dayNumber} from "./day.ts";
import type {Book} from "./parseBook.ts";
import {at, excerpt, type Problem, type ProblemCode} from "./problem.ts";
import type {Cells, Numbered} from "./readRecords.ts";
import type {Event, Lot, Order, Square} from "./records.ts";
import type {Settings} from "./settings.ts";
import {groupBy} from "./spells.ts";
import {squareDensityAt12} from "./squareDensity.ts";

/** A piece at one stage: from the day it got there to the day it left, as day numbers. */
export interface Stay {
  stage: string;
  from: number;
  /** Absent while it is still there. */
  to?: number;
  /** How it left. */
  left?: "turned" | "discarded" | "diverted";
}

/** A weighing, a moisture reading, a diameter: what was measured of a piece on a day, at the stage it was at then. */
export interface Measurement {
  day: number;
  stage: string;
  /** Whether it was taken fresh from the lathe: the first at its stage. */
  turned: boolean;
  massG?: number;
  moisturePct?: number;
  diameterMm?: number;
  deflectionMm?: number;
}

export type Fate = "finished" | "discarded" | "diverted" | "in stock";

/** A square and the piece it became, with all that is known of it on the day of the question. */
export interface Piece {
  square: string;
  lot: string;
  supplier: string;
  species: string;
  /** Day numbers; see `dayNumber`. */
  boughtOn: number;
  intake: Square;
  densityAt12KgM3: number;
  stays: Stay[];
  measurements: Measurement[];
  fate: Fate;
  /** The day of its fate, for all but pieces in stock. */
  fateOn?: number;
  defect?: string;
  allottedTo?: string;
  deliveredOn?: number;
}

/** The whole book replayed up to one day, that day included. */
export interface Histories {
  settings: Settings;
  asOf: number;
  lots: Numbered<Lot>[];
  orders: Numbered<Order>[];
  pieces: Piece[];
  /** What cannot have happened. */
  problems: Problem[];
}

/** A mass may rise by 3 % between two weighings, as wood takes up moisture from damp air; common practice, no source. */
export const mostMassG = (beforeG: number) => beforeG * 1.03;

/** A turning takes less than seven eighths of a piece's mass: a square of 1.7 kg gives a shaft of 0.3; common practice, no source. */
export const leastMassG = (beforeG: number) => beforeG / 8;

/**
 * Every piece replayed through its stages up to a day, and what cannot have happened on the way.
 *
 * Events are taken by date and, within a day, in the order of their rows, from the bottom up in a file kept newest first. An impossible event is refused and the replay goes
 * on as if it had not been written.
 *
 * Checked: tests/book/histories.test.ts
 *
 * @param asOf the day of the question; what was bought, ordered or done later is left out
 */
export function histories(book: Book, asOf: Day): Histories {
  const {settings} = book;
  const lots = book.lots.filter(({boughtOn}) => boughtOn <= asOf);
  const lotById = new Map(lots.map((lot) => [lot.lot, lot]));
  const orders = book.orders.filter(({orderedOn}) => orderedOn <= asOf);
  const pieces = new Map<string, Piece>();
  for (const square of book.squares) {
    const lot = lotById.get(square.lot);
    if (lot) pieces.set(square.square, newPiece(square, lot, settings));
  }
  const events = book.events.filter(({date}) => date <= asOf);
  const down = newestFirst(book.events.map(({date}) => date)) ? -1 : 1;
  events.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : down * (a.row - b.row)));
  const replay = new Replay(settings, orders, book.sources["events.csv"], down);
  for (const [square, own] of groupBy(events, (event) => event.square)) replay.piece(pieces.get(square), own);
  return {settings, asOf: dayNumber(asOf), lots, orders, pieces: [...pieces.values()], problems: replay.problems()};
}

/** Replays pieces one after the other, each with all its events in order, and gathers what cannot have happened. */
export class Replay {
  readonly #stages: Stages;
  readonly #orders: readonly Order[];
  readonly #source: Cells | undefined;
  readonly #down: number;
  readonly #told: {event: Numbered<Event>; fault: EventFault}[] = [];
  readonly #promises: Promised[] = [];

  /**
   * @param down −1 where the file is kept newest first: then rows of one day happened from the bottom up
   */
  constructor(settings: Settings, orders: readonly Order[], source: Cells | undefined, down: 1 | -1) {
    this.#stages = new Stages(settings);
    this.#orders = orders;
    this.#source = source;
    this.#down = down;
  }

  /**
   * What happens to a piece, event by event.
   *
   * @param piece as it was bought; it is changed. Absent where its lot is bought after the day of the question
   */
  piece(piece: Piece | undefined, events: readonly Numbered<Event>[]): void {
    for (const event of events) {
      const faults = piece === undefined ? [boughtLater(event)] : impossible(event, piece, this.#stages);
      for (const fault of faults) this.#told.push({event, fault});
      if (!piece || faults.some(({severity}) => severity === "refused")) continue;
      const kind = event.event;
      const takes = (kind === "allotted" || kind === "delivered") && event.order !== undefined;
      if (takes && piece.allottedTo !== event.order) this.promised(event.order!, 1, event.row, () => event);
      const isOut = kind === "discarded" || kind === "diverted";
      // The order it was allotted to wants another.
      if (isOut && piece.allottedTo !== undefined) this.promised(piece.allottedTo, -1, event.row, () => event);
      happen(event, piece, this.#stages);
    }
  }

  /** A shaft that an order gets, 1, or loses, −1, by an event; for pieces that did not come through `piece`. */
  promised(order: string, shafts: 1 | -1, place: number, eventAt: (place: number) => Numbered<Event>): void {
    this.#promises.push({order, shafts, place, eventAt});
  }

  /** Every fault, in the order of the events; orders that were given more than they asked for among them. */
  problems(): Problem[] {
    const inOrder = (a: {event: Numbered<Event>}, b: {event: Numbered<Event>}) =>
      a.event.date < b.event.date ? -1 : a.event.date > b.event.date ? 1 : this.#down * (a.event.row - b.event.row);
    const open = new Map(this.#orders.map(({order, quantity, lost = 0}) => [order, quantity - lost]));
    const asked = new Map<string, number>();
    for (const {order, shafts} of this.#promises) if (shafts === 1) asked.set(order, (asked.get(order) ?? 0) + 1);
    // Of an order that never got more than it wants nothing can be told.
    const isFew = ({order}: Promised) => (asked.get(order) ?? 0) <= (open.get(order) ?? -1);
    const promises = this.#promises.flatMap((one) => (isFew(one) ? [] : [{...one, event: one.eventAt(one.place)}]));
    const overfilled = promises.sort(inOrder).flatMap(({event, order, shafts}) => {
      const left = open.get(order);
      // An order that came in after the day of the question is not known yet.
      if (left === undefined) return [];
      open.set(order, left - shafts);
      return shafts === 1 && left <= 0 ? [{event, fault: overfilledBy(event)}] : [];
    });
    return [...this.#told, ...overfilled].sort(inOrder).map(({event, fault}) => asProblem(fault, event, this.#source));
  }
}

interface Promised {
  order: string;
  shafts: 1 | -1;
  /** Of the event, which is made only where it is told of. */
  place: number;
  eventAt: (place: number) => Numbered<Event>;
}

/** The stages of the settings by their place, and the day numbers of days seen before: both are asked for at every event. */
class Stages {
  readonly names: readonly string[];
  readonly #places: ReadonlyMap<string, number>;
  readonly #days = new Map<Day, number>();

  constructor({stages}: Settings) {
    this.names = stages.map(({name}) => name);
    this.#places = new Map(this.names.map((name, place) => [name, place]));
  }

  place(stage: string): number {
    return this.#places.get(stage)!;
  }

  get last(): string {
    return this.names.at(-1)!;
  }

  /** A day number; a book has many events on each of its days. */
  day(day: Day): number {
    const before = this.#days.get(day);
    if (before !== undefined) return before;
    const number = dayNumber(day);
    this.#days.set(day, number);
    return number;
  }
}

/** Whether days, as text or as numbers, fall more often than they rise from row to row. */
export function newestFirst(days: ArrayLike<Day | number>): boolean {
  let rises = 0;
  for (let i = 1; i < days.length; i++) {
    const [before, after] = [days[i - 1]!, days[i]!];
    rises += after > before ? 1 : after < before ? -1 : 0;
  }
  return rises < 0;
}

/** A piece as it was bought. */
export function newPiece(square: Square, lot: Lot, settings: Settings): Piece {
  const boughtOn = dayNumber(lot.boughtOn);
  const {massG, moisturePct} = square;
  const stage = settings.stages[0]!.name;
  const day = dayNumber(square.measuredOn ?? lot.boughtOn);
  return {
    square: square.square,
    lot: lot.lot,
    supplier: lot.supplier,
    species: lot.species,
    boughtOn,
    intake: square,
    densityAt12KgM3: squareDensityAt12(square, lot.species, settings),
    stays: [{stage, from: boughtOn}],
    measurements: [{day, stage, turned: false, massG, moisturePct}],
    fate: "in stock"
  };
}

/** The change an event makes; it is known to be possible. */
function happen(event: Event, piece: Piece, stages: Stages): void {
  const day = stages.day(event.date);
  const stay = piece.stays.at(-1)!;
  if (event.event === "turned") {
    const passed = skippedStages(event, piece, stages);
    stay.to = day;
    stay.left = "turned";
    for (const stage of passed) piece.stays.push({stage, from: day, to: day, left: "turned"});
    piece.stays.push({stage: event.stage!, from: day});
    if (event.stage === stages.last) {
      piece.fate = "finished";
      piece.fateOn = day;
    }
  }
  if (event.event === "discarded" || event.event === "diverted") {
    stay.to = day;
    stay.left = event.event;
    piece.fate = event.event;
    piece.fateOn = day;
    delete piece.allottedTo;
    if (event.event === "discarded") piece.defect = event.defect!;
  }
  if (event.event === "allotted") piece.allottedTo = event.order!;
  if (event.event === "delivered") {
    piece.deliveredOn = day;
    if (event.order) piece.allottedTo = event.order;
  }
  const {massG, moisturePct, diameterMm, deflectionMm} = event;
  const measured: Measurement = {day, stage: piece.stays.at(-1)!.stage, turned: event.event === "turned"};
  if (massG !== undefined) measured.massG = massG;
  if (moisturePct !== undefined) measured.moisturePct = moisturePct;
  if (diameterMm !== undefined) measured.diameterMm = diameterMm;
  if (deflectionMm !== undefined) measured.deflectionMm = deflectionMm;
  const isMeasured = massG ?? moisturePct ?? diameterMm ?? deflectionMm;
  if (isMeasured !== undefined) piece.measurements.push(measured);
}

/** The stages a turning passed over. */
function skippedStages(event: Event, piece: Piece, stages: Stages): readonly string[] {
  const [now, next] = [stages.place(piece.stays.at(-1)!.stage), stages.place(event.stage!)];
  return next === now + 1 ? [] : stages.names.slice(now + 1, next);
}

interface EventFault {
  code: ProblemCode;
  severity: Problem["severity"];
  heading: string;
  value: string;
  wanted: string;
  mend: string;
}

const refused = (code: ProblemCode, heading: string, value: string, wanted: string, mend: string): EventFault => ({
  code,
  severity: "refused",
  heading,
  value,
  wanted,
  mend
});

/** A square that exists, but whose lot was bought after the day of the question. */
function boughtLater({date}: Event): EventFault {
  return refused(
    "before-purchase",
    "date",
    date,
    "on or after the day its lot was bought",
    "Correct the date here or in lots.csv."
  );
}

/** Why an event cannot have happened, or else what is doubtful about it. */
function impossible(event: Event, piece: Piece, stages: Stages): readonly EventFault[] {
  const fault = cannot(event, piece, stages) ?? weight(event, piece);
  if (fault) return [fault];
  const [first, second] = [skipped(event, piece, stages), elsewhere(event, piece)];
  return first || second ? [first, second].filter((doubt) => doubt !== undefined) : [];
}

function cannot(event: Event, piece: Piece, stages: Stages): EventFault | undefined {
  const day = stages.day(event.date);
  if (day < piece.boughtOn) return boughtLater(event);
  const ended = endedBy(piece, event);
  if (ended) {
    const mend = `Square ${excerpt(piece.square)} was ${ended} before. Take one of the two events out, or correct the number or a date.`;
    return refused("after-end", "event", event.event, "possible for a piece still there", mend);
  }
  const {names} = stages;
  const now = stages.place(piece.stays.at(-1)!.stage);
  if (event.event === "turned" && stages.place(event.stage!) <= now) {
    const wanted = `a stage after ${names[now]}, which it had reached`;
    return refused(
      "stage-backwards",
      "stage",
      event.stage!,
      wanted,
      "Correct the stage, or take out the turning entered twice."
    );
  }
  if ((event.event === "allotted" || event.event === "delivered") && piece.fate !== "finished") {
    const mend = "Enter the missing turning, or correct the square's number.";
    return refused("not-finished", "event", event.event, `of a finished shaft; this piece is at ${names[now]}`, mend);
  }
  if (piece.allottedTo === undefined || event.order === undefined || event.order === piece.allottedTo) return undefined;
  const wanted = `${excerpt(piece.allottedTo)}, the order it was allotted to`;
  return refused("allotted-elsewhere", "order", event.order, wanted, "Correct the order or the square's number.");
}

/** What ended the piece before this event, if anything did. */
function endedBy(piece: Piece, event: Event): string | undefined {
  if (piece.fate === "discarded" || piece.fate === "diverted") return piece.fate;
  if (piece.deliveredOn !== undefined) return "delivered";
  return piece.fate === "finished" && (event.event === "turned" || event.event === "diverted") ? "finished" : undefined;
}

/** A mass that cannot come after the one before it. */
function weight({massG}: Event, piece: Piece): EventFault | undefined {
  const before = piece.measurements.findLast((one) => one.massG !== undefined)?.massG;
  if (massG === undefined || before === undefined) return undefined;
  const was = Number(before.toPrecision(4));
  if (massG > mostMassG(before)) {
    const wanted = `no more than the ${was} g of the weighing before and 3 % for damp air`;
    return refused("mass-grew", "mass_g", String(massG), wanted, "Correct the mass, here or at the weighing before.");
  }
  if (massG >= leastMassG(before)) return undefined;
  const mend = "A digit missing, or ounces for grams? Correct the mass, here or at the weighing before.";
  return refused(
    "mass-fell",
    "mass_g",
    String(massG),
    `more than an eighth of the ${was} g of the weighing before`,
    mend
  );
}

/** A stage written beside a weighing or an end that is not the one the piece is at. */
function elsewhere(event: Event, piece: Piece): EventFault | undefined {
  const {stage} = piece.stays.at(-1)!;
  if (event.event === "turned" || event.stage === undefined || event.stage === stage) return undefined;
  const mend = "The stage written here is passed over. Enter the missing turning, or correct the stage or the number.";
  return {
    code: "stage-differs",
    severity: "doubt",
    heading: "stage",
    value: event.stage,
    wanted: `${stage}, where the piece is`,
    mend
  };
}

/** An order that had all it asked for before this shaft. */
function overfilledBy({order}: Event): EventFault {
  const mend = "The shaft counts as gone there. Correct the order here or before, or the quantity ordered.";
  return {
    code: "order-overfilled",
    severity: "doubt",
    heading: "order",
    value: order!,
    wanted: "an order that still lacks a shaft",
    mend
  };
}

function skipped(event: Event, piece: Piece, stages: Stages): EventFault | undefined {
  if (event.event !== "turned") return undefined;
  const passed = skippedStages(event, piece, stages);
  if (passed.length === 0) return undefined;
  const mend = `It is counted as having passed ${passed.join(" and ")} on that day. Enter the missing turning if there was one.`;
  return {
    code: "stage-skipped",
    severity: "doubt",
    heading: "stage",
    value: event.stage!,
    wanted: "the next stage",
    mend
  };
}

function asProblem({heading, ...fault}: EventFault, event: Numbered<Event>, source: Cells | undefined): Problem {
  const file = source?.file ?? "events.csv";
  const index = source?.columns[heading];
  const place =
    index === undefined ? {file, row: event.row, heading} : at(file, event.row, index, source!.headings[index]!);
  return {...place, ...fault, value: excerpt(fault.value)};
}
