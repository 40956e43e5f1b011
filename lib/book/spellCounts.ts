import type {Spell} from "../stats/eventTable.ts";
import {dayNumber} from "./day.ts";
import type {Piece, Stay} from "./histories.ts";
import type {Lot} from "./records.ts";
import {addSpell, discardCause, groupBy} from "./spells.ts";

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
 * The spells of some pieces, one row a piece and stage, alike ones not yet added up.
 *
 * Checked: tests/book/spellCounts.test.ts
 */
export function spellCounts(pieces: Iterable<Piece>): SpellCount[] {
  const rows: SpellCount[] = [];
  for (const piece of pieces) for (const stay of piece.stays) rows.push(spellCount(piece, stay));
  return rows;
}

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

/** Whether what became of squares is a cause by which they left: passing, being diverted or thrown out; not that a shaft was sold. */
const isCause = (outcome: string | undefined) =>
  outcome !== undefined && outcome !== "allotted" && outcome !== "delivered";

/** The counts of each lot by stage, lots in the order in which they first come. */
export class LotSpells {
  readonly lot: string;
  readonly #stages: ReadonlyMap<string, readonly SpellCount[]>;
  readonly #asOf: number;

  constructor(lot: string, rows: Iterable<SpellCount>, asOf: number) {
    this.lot = lot;
    this.#stages = groupBy(rows, ({stage}) => stage);
    this.#asOf = asOf;
  }

  /** The counts at one stage. */
  rows(stage: string): readonly SpellCount[] {
    return this.#stages.get(stage) ?? [];
  }

  /**
   * The time that the squares spent at a stage, days, and how they left; squares still there, and shafts that were sold, have no cause. With `since`
   * (a day number) only what happened from that day on: squares that were there already enter late, those that had left before are out.
   */
  spells(stage: string, since = Number.NEGATIVE_INFINITY): Spell[] {
    return this.spellsOf(this.rows(stage), since);
  }

  /** The same of some of its counts only. */
  spellsOf(rows: readonly SpellCount[], since = Number.NEGATIVE_INFINITY): Spell[] {
    const spells: Spell[] = [];
    for (const {from, to, outcome, squares} of rows)
      addSpell(spells, from, to ?? this.#asOf, isCause(outcome) ? outcome : undefined, since, squares);
    return spells;
  }

  /** Squares that were at any of these stages, which follow each other from the first on or are one, from a day on. */
  seen(stages: readonly string[], since = Number.NEGATIVE_INFINITY): number {
    let seen = 0;
    for (const [index, stage] of stages.entries())
      for (const {from, to = this.#asOf, outcome, squares} of this.rows(stage)) {
        const isThere = from < since && to > since;
        // On the day itself a square may have passed through several stages: it counts at the last of them.
        const comes = from === since && !(to === since && outcome === "passed" && index < stages.length - 1);
        if (isThere || comes || (index === 0 && from > since)) seen += squares;
      }
    return seen;
  }
}

/** The counts lot by lot. */
export function byLotSpells(rows: Iterable<SpellCount>, asOf: number): LotSpells[] {
  return [...groupBy(rows, ({lot}) => lot)].map(([lot, own]) => new LotSpells(lot, own, asOf));
}

/** The time from purchase to the end of squares, days: finished, diverted, thrown out for a defect, or still in stock; as `purchaseSpells`. */
export function countedPurchaseSpells(
  rows: Iterable<SpellCount>,
  lots: readonly Lot[],
  {asOf, last, since = Number.NEGATIVE_INFINITY}: {asOf: number; last: string; since?: number}
): Spell[] {
  const bought = new Map(lots.map(({lot, boughtOn}) => [lot, dayNumber(boughtOn)]));
  const spells: Spell[] = [];
  for (const {lot, stage, from, to, outcome, squares} of rows) {
    if (outcome === "passed") continue;
    const isOut = isCause(outcome);
    const cause = isOut ? outcome : stage === last ? "finished" : undefined;
    const end = isOut ? to! : stage === last ? from : asOf;
    addSpell(spells, bought.get(lot)!, end, cause, since, squares);
  }
  return spells;
}

/** Squares of which it is known what became, or at a stage whether they passed; with `since` what became known after that day number. */
export function decidedSquares(
  rows: Iterable<SpellCount>,
  {last, stage: asked, since}: {last: string; stage?: string | undefined; since?: number | undefined}
): number {
  let decided = 0;
  for (const {stage, from, to, outcome, squares} of rows) {
    if (asked === undefined ? outcome === "passed" : stage !== asked) continue;
    const day = isCause(outcome) ? to : asked === undefined && stage === last ? from : undefined;
    if (day !== undefined && (since === undefined || day > since)) decided += squares;
  }
  return decided;
}

/** How many pieces some spells stand for. */
export function piecesIn(
  spells: readonly Spell[],
  isCounted: (cause: string | undefined) => boolean = () => true
): number {
  let pieces = 0;
  for (const {cause, count = 1} of spells) if (isCounted(cause)) pieces += count;
  return pieces;
}
