import fc from "fast-check";
import {dayText} from "../lib/book/day.ts";
import type {Histories, Measurement, Piece, Stay} from "../lib/book/histories.ts";
import {Settings} from "../lib/book/settings.ts";

/** The settings of a book that says nothing: five stages, ten defects, ash and maple. */
export const settings = Settings.parse({});

/** What a made-up piece is: days are day numbers, the same clock for all. */
export interface PieceMade {
  square?: string;
  lot?: string;
  supplier?: string;
  species?: string;
  boughtOn?: number;
  /** The days on which it was turned to the second, third, … stage; four of them make a shaft. */
  turned?: readonly number[];
  /** The day it was thrown out. */
  discarded?: number;
  defect?: string;
  /** The day it was put to other use. */
  diverted?: number;
  density?: number;
  measurements?: readonly Measurement[];
  intake?: Partial<Piece["intake"]>;
  allottedTo?: string;
  deliveredOn?: number;
}

/** A piece as `histories` would replay it, from the days of its turnings. */
export function makePiece({
  square = "S1",
  lot = "L1",
  supplier = "Low Fold Sawmill",
  species = "ash",
  boughtOn = 0,
  turned = [],
  discarded,
  defect = "knot",
  diverted,
  density = 690,
  measurements = [],
  intake,
  allottedTo,
  deliveredOn
}: PieceMade = {}): Piece {
  const starts = [boughtOn, ...turned];
  const stays = starts.map((from, i): Stay => {
    const stage = settings.stages[i]!.name;
    const next = starts[i + 1];
    if (next !== undefined) return {stage, from, to: next, left: "turned"};
    if (discarded !== undefined) return {stage, from, to: discarded, left: "discarded"};
    if (diverted !== undefined) return {stage, from, to: diverted, left: "diverted"};
    return {stage, from};
  });
  const size = {lengthMm: 1500, widthMm: 40, thicknessMm: 40, massG: 1656, moisturePct: 12};
  const common = {square, lot, supplier, species, boughtOn, densityAt12KgM3: density, stays};
  const given = {
    ...(allottedTo !== undefined && {allottedTo}),
    ...(deliveredOn !== undefined && {deliveredOn})
  };
  const known = {...common, ...given, measurements: [...measurements], intake: {square, lot, ...size, ...intake}};
  if (discarded !== undefined) return {...known, fate: "discarded", fateOn: discarded, defect};
  if (diverted !== undefined) return {...known, fate: "diverted", fateOn: diverted};
  if (turned.length === settings.stages.length - 1) return {...known, fate: "finished", fateOn: turned.at(-1)!};
  return {...known, fate: "in stock"};
}

/** The histories of made-up pieces; their lots hold as many squares as there are pieces, at 10 each, unless told otherwise. */
export function makeHistories(
  pieces: readonly Piece[],
  {asOf, lots = {}}: {asOf: number; lots?: Record<string, Partial<Histories["lots"][number]>>}
): Histories {
  const byName = new Map<string, Histories["lots"][number]>();
  for (const {lot, boughtOn, supplier, species} of pieces) {
    const before = byName.get(lot)?.squaresBought ?? 0;
    const row = {row: byName.size + 2, lot, boughtOn: dayText(boughtOn), supplier, species, priceEach: 10};
    byName.set(lot, {...row, ...lots[lot], squaresBought: lots[lot]?.squaresBought ?? before + 1});
  }
  return {settings, asOf, lots: [...byName.values()], orders: [], pieces: [...pieces], problems: []};
}

/** The last day of the pieces that `anyPieces` makes. */
export const lastMadeDay = 200;

/** Pieces of up to nine lots of three suppliers, at any stage, with any fate, as they stand on `lastMadeDay`. */
export const anyPieces = fc
  .array(
    fc.record({
      lot: fc.integer({min: 0, max: 8}),
      waits: fc.array(fc.integer({min: 1, max: 60}), {minLength: 4, maxLength: 4}),
      stages: fc.integer({min: 0, max: 4}),
      out: fc.constantFrom("knot", "warp", "diverted"),
      density: fc.integer({min: 600, max: 800})
    }),
    {minLength: 1, maxLength: 40}
  )
  .map((rows) => rows.map((row, i) => fromWaits(row, `S${i}`)));

function fromWaits(
  {lot, waits, stages, out, density}: {lot: number; waits: number[]; stages: number; out: string; density: number},
  square: string
): Piece {
  const boughtOn = lot * 20;
  const days = waits.map((_, i) => waits.slice(0, i + 1).reduce((sum, wait) => sum + wait, boughtOn));
  const seen = days.filter((day) => day <= lastMadeDay);
  const end = days[stages];
  const named = {square, lot: `L${lot}`, supplier: `Yard ${lot % 3}`, species: lot % 2 ? "maple" : "ash", density};
  if (end === undefined || end > lastMadeDay) return makePiece({...named, boughtOn, turned: seen.slice(0, stages)});
  const gone = out === "diverted" ? {diverted: end} : {discarded: end, defect: out};
  return makePiece({...named, boughtOn, turned: days.slice(0, stages), ...gone});
}

/** The same value, frozen all through: whoever changes it throws. */
export function frozen<T>(value: T): T {
  if (typeof value === "object" && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) frozen(part);
  }
  return value;
}
