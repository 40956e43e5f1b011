import type {Piece, Stay} from "./histories.ts";
import {discardCause} from "./spells.ts";

/** How the density at 12 % of a square lies to the window of its species. */
export type WindowSide = "below" | "inside" | "above";

/**
 * Squares of one lot that were at one stage over the same days and left it in the same way: all that yields, discards and the shares of a plan
 * need to know of a book. A book's squares are counted once for each stage that they reached.
 */
export interface SpellCount {
  lot: string;
  stage: string;
  /** Day numbers: when they got there and when they left; `to` is absent while they are there. */
  from: number;
  to?: number;
  /**
   * How they left: "passed" (turned to the next stage), "diverted", "discarded: " and the defect, or of finished shafts "delivered". "allotted" is a
   * finished shaft still there but promised to an order. Absent while they are there and free.
   */
  outcome?: string;
  /** Absent where nobody asks for densities. */
  side?: WindowSide;
  squares: number;
}

/** On which side of a density window a density lies, both ends of the window belonging to it. */
export function windowSide(densityKgM3: number, window: {low: number; high: number}): WindowSide {
  return densityKgM3 < window.low ? "below" : densityKgM3 > window.high ? "above" : "inside";
}

/**
 * The spells of some pieces, one row a piece and stage, alike ones not yet added up; of the same list counted once only, so that all who ask
 * share what `lotCounts` makes ready.
 *
 * Checked: tests/book/spellCounts.test.ts
 */
export function spellCounts(pieces: readonly Piece[]): readonly SpellCount[] {
  const before = counted.get(pieces);
  if (before) return before;
  const rows: SpellCount[] = [];
  for (const piece of pieces) for (const stay of piece.stays) rows.push(spellCount(piece, stay));
  counted.set(pieces, rows);
  return rows;
}

const counted = new WeakMap<readonly Piece[], readonly SpellCount[]>();

/** One stay of a piece as a count of 1. */
export function spellCount({lot, stays, defect, allottedTo, deliveredOn}: Piece, stay: Stay): SpellCount {
  const {stage, from, to, left} = stay;
  if (left === "turned") return {lot, stage, from, to: to!, outcome: "passed", squares: 1};
  if (left === "discarded") return {lot, stage, from, to: to!, outcome: discardCause(defect!), squares: 1};
  if (left === "diverted") return {lot, stage, from, to: to!, outcome: left, squares: 1};
  if (stay !== stays.at(-1)) return {lot, stage, from, squares: 1};
  if (deliveredOn !== undefined) return {lot, stage, from, to: deliveredOn, outcome: "delivered", squares: 1};
  return {lot, stage, from, ...(allottedTo !== undefined && {outcome: "allotted"}), squares: 1};
}
