import {type ClusterTable, clusterTable} from "../stats/clusterTable.ts";
import type {Spell} from "../stats/eventTable.ts";
import type {Piece, Stay} from "./histories.ts";
import {addSpell, discardCause} from "./spells.ts";

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

/** Whether what became of squares is a cause by which they left: passing, being diverted or thrown out; not that a shaft was sold. */
const isCause = (outcome: string | undefined) =>
  outcome !== undefined && outcome !== "allotted" && outcome !== "delivered";

/** Counts of squares lot by lot, made ready for the estimators stage by stage: each table is made once, whoever asks for it. */
export class LotCounts {
  /** In the order in which they first come, unless given. */
  readonly lots: readonly string[];
  readonly asOf: number;
  readonly #rows: ReadonlyMap<string, readonly (readonly SpellCount[])[]>;
  readonly #tables = new Map<string, ClusterTable>();
  readonly #whole: {counts: LotCounts; places: readonly number[]} | undefined;

  /** @param lots those to be counted, also where they have no square */
  constructor(
    rows: readonly SpellCount[],
    asOf: number,
    lots: readonly string[] = [...new Set(rows.map(({lot}) => lot))],
    whole?: {counts: LotCounts; places: readonly number[]}
  ) {
    this.lots = lots;
    this.asOf = asOf;
    this.#whole = whole;
    const placeOf = new Map(lots.map((lot, place) => [lot, place]));
    const stages = new Map<string, SpellCount[][]>();
    for (const row of rows) {
      const place = placeOf.get(row.lot);
      if (place === undefined) continue;
      let ofStage = stages.get(row.stage);
      if (!ofStage) {
        ofStage = lots.map(() => []);
        stages.set(row.stage, ofStage);
      }
      ofStage[place]!.push(row);
    }
    this.#rows = stages;
  }

  /** The same of some of the lots; tables that are there already are made use of. */
  only(isWanted: (lot: string) => boolean): LotCounts {
    const places = this.lots.flatMap((lot, place) => (isWanted(lot) ? [place] : []));
    return this.#part(places);
  }

  #part(places: readonly number[]): LotCounts {
    const part = new LotCounts(
      [],
      this.asOf,
      places.map((place) => this.lots[place]!),
      {counts: this, places}
    );
    for (const [stage, rows] of this.#rows)
      (part.#rows as Map<string, readonly (readonly SpellCount[])[]>).set(
        stage,
        places.map((place) => rows[place]!)
      );
    return part;
  }

  /** Those of the lots of which any square has a spell at one of these stages. */
  withSpellsAt(stages: readonly string[], since?: number): LotCounts {
    const tables = stages.map((stage) => this.at(stage, since).pieces);
    return this.#part(this.lots.flatMap((_, place) => (tables.some((pieces) => pieces[place]! > 0) ? [place] : [])));
  }

  /** The counts of each lot, whatever their stage. */
  all(): SpellCount[][] {
    return this.lots.map((_, place) => [...this.#rows.values()].flatMap((rows) => rows[place]!));
  }

  /** The counts of each lot at one stage. */
  rows(stage: string): readonly (readonly SpellCount[])[] {
    return this.#rows.get(stage) ?? this.lots.map(() => []);
  }

  /**
   * The spells at one stage by lot: the time that the squares spent there, days, and how they left; squares still there, and shafts that were
   * sold, have no cause. With `since` (a day number) only what happened from that day on: squares that were there already enter late, those that had
   * left before are out.
   */
  at(stage: string, since?: number): ClusterTable {
    const key = `${stage} ${since ?? ""}`;
    const before = this.#tables.get(key);
    if (before) return before;
    const table = this.#whole
      ? this.#whole.counts.at(stage, since).of(this.#whole.places)
      : clusterTable(this.rows(stage).map((own) => this.spellsOf(own, since)));
    this.#tables.set(key, table);
    return table;
  }

  /** Counts of any of the lots as spells. */
  spellsOf(rows: readonly SpellCount[], since = Number.NEGATIVE_INFINITY): Spell[] {
    const spells: Spell[] = [];
    for (const {from, to, outcome, squares} of rows)
      addSpell(spells, from, to ?? this.asOf, isCause(outcome) ? outcome : undefined, since, squares);
    return spells;
  }

  /** Squares of which it is known what became, or at a stage whether they passed; with `since` what became known after that day number. */
  decided({last, stage: asked, since}: {last: string; stage?: string | undefined; since?: number | undefined}): number {
    let decided = 0;
    for (const stage of asked === undefined ? this.#rows.keys() : [asked])
      for (const own of this.rows(stage))
        for (const {from, to, outcome, squares} of own) {
          if (asked === undefined && outcome === "passed") continue;
          const day = isCause(outcome) ? to : asked === undefined && stage === last ? from : undefined;
          if (day !== undefined && (since === undefined || day > since)) decided += squares;
        }
    return decided;
  }

  /** Squares that were at any of these stages, which follow each other from the first on or are one, from a day on. */
  seen(stages: readonly string[], since = Number.NEGATIVE_INFINITY): number {
    let seen = 0;
    for (const [index, stage] of stages.entries())
      for (const own of this.rows(stage))
        for (const {from, to = this.asOf, outcome, squares} of own) {
          const isThere = from < since && to > since;
          // On the day itself a square may have passed through several stages: it counts at the last of them.
          const comes = from === since && !(to === since && outcome === "passed" && index < stages.length - 1);
          if (isThere || comes || (index === 0 && from > since)) seen += squares;
        }
    return seen;
  }
}

/** The counts made ready; of the same list once only, however often it is asked for. */
export function lotCounts(counts: readonly SpellCount[] | LotCounts, asOf: number): LotCounts {
  if (counts instanceof LotCounts) return counts;
  const before = ready.get(counts);
  if (before?.asOf === asOf) return before;
  const made = new LotCounts(counts, asOf);
  ready.set(counts, made);
  return made;
}

const ready = new WeakMap<readonly SpellCount[], LotCounts>();

/** The time from purchase (a day number by lot) to the end of squares, days: finished, diverted, thrown out for a defect, or still in stock; as `purchaseSpells`. */
export function countedPurchaseSpells(
  rows: Iterable<SpellCount>,
  boughtOn: (lot: string) => number,
  {asOf, last, since = Number.NEGATIVE_INFINITY}: {asOf: number; last: string; since?: number}
): Spell[] {
  const spells: Spell[] = [];
  for (const {lot, stage, from, to, outcome, squares} of rows) {
    if (outcome === "passed") continue;
    const isOut = isCause(outcome);
    const cause = isOut ? outcome : stage === last ? "finished" : undefined;
    const end = isOut ? to! : stage === last ? from : asOf;
    addSpell(spells, boughtOn(lot), end, cause, since, squares);
  }
  return spells;
}
