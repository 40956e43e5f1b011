import {type Day, dayNumber} from "./day.ts";
import type {Book} from "./parseBook.ts";
import {at, excerpt, type Problem, type ProblemCode} from "./problem.ts";
import type {Cells, Numbered} from "./readRecords.ts";
import type {Event, Lot, Order, Square} from "./records.ts";
import type {Settings} from "./settings.ts";
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

/** A mass may rise by this share between two weighings, as wood takes up moisture from damp air; common practice, no source. */
const massRise = 0.03;

/** A turning takes less than seven eighths of a piece's mass: a square of 1.7 kg gives a shaft of 0.3; common practice, no source. */
const massFall = 1 / 8;

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
  const problems: Problem[] = [];
  const events = book.events.filter(({date}) => date <= asOf);
  const down = newestFirst(book.events) ? -1 : 1;
  events.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : down * (a.row - b.row)));
  const source = book.sources["events.csv"];
  const open = new Map(orders.map(({order, quantity, lost = 0}) => [order, quantity - lost]));
  for (const event of events) {
    const piece = pieces.get(event.square);
    const faults = piece === undefined ? [boughtLater(event)] : impossible(event, piece, settings);
    for (const fault of faults) problems.push(asProblem(fault, event, source));
    if (!piece || faults.some(({severity}) => severity === "refused")) continue;
    const overfilled = fill(event, piece, open);
    if (overfilled) problems.push(asProblem(overfilled, event, source));
    const isOut = event.event === "discarded" || event.event === "diverted";
    if (isOut && piece.allottedTo !== undefined) open.set(piece.allottedTo, (open.get(piece.allottedTo) ?? 0) + 1);
    happen(event, piece, settings);
  }
  return {settings, asOf: dayNumber(asOf), lots, orders, pieces: [...pieces.values()], problems};
}

/** Whether dates fall more often than they rise from row to row. */
function newestFirst(events: readonly Event[]): boolean {
  let rises = 0;
  for (let i = 1; i < events.length; i++)
    rises += Math.sign(dayNumber(events[i]!.date) - dayNumber(events[i - 1]!.date));
  return rises < 0;
}

function newPiece(square: Square, lot: Lot, settings: Settings): Piece {
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
function happen(event: Event, piece: Piece, settings: Settings): void {
  const day = dayNumber(event.date);
  const stay = piece.stays.at(-1)!;
  const last = settings.stages.at(-1)!.name;
  if (event.event === "turned") {
    Object.assign(stay, {to: day, left: "turned"});
    for (const stage of skippedStages(event, piece, settings))
      piece.stays.push({stage, from: day, to: day, left: "turned"});
    piece.stays.push({stage: event.stage!, from: day});
    if (event.stage === last) Object.assign(piece, {fate: "finished", fateOn: day});
  }
  if (event.event === "discarded" || event.event === "diverted") {
    Object.assign(stay, {to: day, left: event.event});
    Object.assign(piece, {fate: event.event, fateOn: day});
    // The order it was allotted to wants another.
    delete piece.allottedTo;
    if (event.event === "discarded") piece.defect = event.defect!;
  }
  if (event.event === "allotted") piece.allottedTo = event.order!;
  if (event.event === "delivered") Object.assign(piece, {deliveredOn: day}, event.order && {allottedTo: event.order});
  const {massG, moisturePct, diameterMm, deflectionMm} = event;
  if ([massG, moisturePct, diameterMm, deflectionMm].some((value) => value !== undefined)) {
    const measured = {massG, moisturePct, diameterMm, deflectionMm};
    const known = Object.fromEntries(Object.entries(measured).filter(([, value]) => value !== undefined));
    piece.measurements.push({day, stage: piece.stays.at(-1)!.stage, turned: event.event === "turned", ...known});
  }
}

/** The stages a turning passed over. */
function skippedStages(event: Event, piece: Piece, settings: Settings): string[] {
  const names = settings.stages.map(({name}) => name);
  return names.slice(names.indexOf(piece.stays.at(-1)!.stage) + 1, names.indexOf(event.stage!));
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
function impossible(event: Event, piece: Piece, settings: Settings): EventFault[] {
  const fault = cannot(event, piece, settings) ?? weight(event, piece);
  if (fault) return [fault];
  return [skipped(event, piece, settings), elsewhere(event, piece)].filter((doubt) => doubt !== undefined);
}

function cannot(event: Event, piece: Piece, settings: Settings): EventFault | undefined {
  const day = dayNumber(event.date);
  if (day < piece.boughtOn) return boughtLater(event);
  const ended = endedBy(piece, event);
  if (ended) {
    const mend = `Square ${excerpt(piece.square)} was ${ended} before. Take one of the two events out, or correct the number or a date.`;
    return refused("after-end", "event", event.event, "possible for a piece still there", mend);
  }
  const names = settings.stages.map(({name}) => name);
  const now = names.indexOf(piece.stays.at(-1)!.stage);
  if (event.event === "turned" && names.indexOf(event.stage!) <= now) {
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
  if (massG > before * (1 + massRise)) {
    const wanted = `no more than the ${was} g of the weighing before and 3 % for damp air`;
    return refused("mass-grew", "mass_g", String(massG), wanted, "Correct the mass, here or at the weighing before.");
  }
  if (massG >= before * massFall) return undefined;
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

/** Counts a shaft towards its order; says when the order had all it asked for. */
function fill(event: Event, piece: Piece, open: Map<string, number>): EventFault | undefined {
  if (event.order === undefined || piece.allottedTo === event.order) return undefined;
  if (event.event !== "allotted" && event.event !== "delivered") return undefined;
  const left = open.get(event.order);
  if (left === undefined) return undefined;
  open.set(event.order, left - 1);
  if (left > 0) return undefined;
  const mend = "The shaft counts as gone there. Correct the order here or before, or the quantity ordered.";
  return {
    code: "order-overfilled",
    severity: "doubt",
    heading: "order",
    value: event.order,
    wanted: "an order that still lacks a shaft",
    mend
  };
}

function skipped(event: Event, piece: Piece, settings: Settings): EventFault | undefined {
  if (event.event !== "turned") return undefined;
  const stages = skippedStages(event, piece, settings);
  if (stages.length === 0) return undefined;
  const mend = `It is counted as having passed ${stages.join(" and ")} on that day. Enter the missing turning if there was one.`;
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
