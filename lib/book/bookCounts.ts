import type {Day} from "./day.ts";
import type {Histories, Piece} from "./histories.ts";
import {type LotCounts, LotCountsMaker} from "./lotCounts.ts";
import type {Numbered} from "./readRecords.ts";
import type {Lot, Order} from "./records.ts";
import type {Settings} from "./settings.ts";
import {sortedBy} from "./sortedBy.ts";
import {type SpellCount, spellCount, type WindowSide, windowSide} from "./spellCounts.ts";
import {groupBy} from "./spells.ts";

/** Squares of one lot with the same density at 12 %, to the nearest tenth of a kg/m³: finer than any scale and calliper tell. */
export interface DensityCount {
  lot: string;
  densityKgM3: number;
  squares: number;
}

/** An order with the shafts it has been given, those delivered among them. */
export interface OrderCount extends Order {
  given: number;
}

/** Rows of one file of a book that was counted: those set aside for a fault are in no count. */
export interface FileCounted {
  file: string;
  /** Rows with data. */
  rows: number;
  setAside: number;
}

/** What is known of a book that was counted, beside its counts. */
export interface BookCounted {
  /** Whose, where the counts of several are added up. */
  workshop?: string;
  /** The last day, no later than that of the counts, on which anything was bought, done or ordered. */
  entered: Day;
  files: FileCounted[];
}

/**
 * What the estimators of yields, discards, densities, rests and the season's plan need to know of a book on a day: counts of squares, no single
 * one of them. Made from a book by `bookCounts`, or by scripts/sql/ from tables in any engine that speaks SQL.
 */
export interface BookCounts {
  settings: Settings;
  /** Day number of the question. */
  asOf: number;
  lots: Lot[];
  orders: OrderCount[];
  spells: SpellCount[];
  densities: DensityCount[];
  /** One for each workshop, where they told: tables in an engine do not. */
  books?: BookCounted[];
}

/** Counts of a book, as rows or made ready. */
export interface CountsOf extends Omit<BookCounts, "spells" | "densities"> {
  spells: readonly SpellCount[] | LotCounts;
  densities: Iterable<DensityCount>;
}

/** A density in tenths of a kg/m³, to the nearest, halves up: counts tell none finer. */
export function densityTenths(densityKgM3: number): number {
  return Math.floor(densityKgM3 * 10 + 0.5);
}

/**
 * The counts of a book: spells by lot, stage, days, outcome and side of the density window; densities by lot. Rows stand by lot in the order of the
 * lots, and within it by stage, days, outcome and side, so that the same book gives the same rows whoever made them.
 *
 * Checked: tests/book/bookCounts.test.ts
 */
export function bookCounts({settings, asOf, lots, orders, pieces}: Histories): BookCounts {
  const counter = new BookCounter(settings, lots);
  for (const piece of pieces) counter.add(piece);
  return countRows(counter.counts(asOf, orders));
}

/** Adds up pieces one by one, so that no more than one need be there at a time. */
export class BookCounter {
  readonly #settings: Settings;
  readonly #lots: readonly Numbered<Lot>[];
  readonly #placeOf: ReadonlyMap<string, number>;
  readonly #spells: LotCountsMaker;
  /** Of each square the place of its lot, and its density in tenths of a kg/m³. */
  readonly #lotOf: number[] = [];
  readonly #tenths: number[] = [];
  readonly #given = new Map<string, number>();

  constructor(settings: Settings, lots: readonly Numbered<Lot>[]) {
    const names = lots.map(({lot}) => lot);
    this.#settings = settings;
    this.#lots = lots;
    this.#placeOf = new Map(names.map((lot, place) => [lot, place]));
    this.#spells = new LotCountsMaker(names);
  }

  add(piece: Piece): void {
    const {lot, species, stays, allottedTo, densityAt12KgM3} = piece;
    const place = this.#placeOf.get(lot)!;
    const side = windowSide(densityAt12KgM3, this.#settings.species[species]!.windowKgM3);
    for (const stay of stays) {
      const {stage, from, to, outcome} = spellCount(piece, stay);
      this.addStay(place, stage, from, to, outcome, side);
    }
    this.addSquare(place, densityAt12KgM3, allottedTo);
  }

  /** A stay of a square, of a lot given by its place, at a stage; see `SpellCount`. */
  addStay(
    lot: number,
    stage: string,
    from: number,
    to: number | undefined,
    outcome: string | undefined,
    side: WindowSide
  ): void {
    this.#spells.add(lot, stage, from, to, outcome, 1, side);
  }

  /** A square apart from its stays. */
  addSquare(lot: number, densityAt12KgM3: number, allottedTo: string | undefined): void {
    this.#lotOf.push(lot);
    this.#tenths.push(densityTenths(densityAt12KgM3));
    if (allottedTo !== undefined) addOne(this.#given, allottedTo);
  }

  counts(asOf: number, orders: readonly Numbered<Order>[]): CountsOf {
    return {
      settings: this.#settings,
      asOf,
      lots: this.#lots.map(({row: _, ...lot}) => lot),
      orders: orders.map(({row: _, ...order}) => Object.assign(order, {given: this.#given.get(order.order) ?? 0})),
      spells: this.#spells.made(asOf),
      densities: this.#densities()
    };
  }

  /** The densities lot by lot, from the lightest on. */
  #densities(): DensityCount[] {
    const [lotOf, tenths] = [Int32Array.from(this.#lotOf), Int32Array.from(this.#tenths)];
    const order = sortedBy(sortedBy(Int32Array.from(lotOf.keys()), tenths), lotOf);
    const densities: DensityCount[] = [];
    for (let i = 0; i < order.length; i++) {
      const [before, square] = [order[Math.max(0, i - 1)]!, order[i]!];
      const isAlike = i > 0 && lotOf[square] === lotOf[before] && tenths[square] === tenths[before];
      if (isAlike) densities.at(-1)!.squares++;
      else densities.push({lot: this.#lots[lotOf[square]!]!.lot, densityKgM3: tenths[square]! / 10, squares: 1});
    }
    return densities;
  }
}

function addOne(counts: Map<string, number>, key: string): void {
  counts.set(key, (counts.get(key) ?? 0) + 1);
}

/** Counts as rows, however they were given. */
export function countRows({spells, densities, ...counts}: CountsOf): BookCounts {
  return countsInOrder({
    ...counts,
    spells: "rows" in spells ? [...spells.rows()] : [...spells],
    densities: [...densities]
  });
}

/** The same counts with their rows where `bookCounts` puts them; lots and orders stay in their order. */
export function countsInOrder(counts: BookCounts): BookCounts {
  const stageAt = new Map(counts.settings.stages.map(({name}, index) => [name, index]));
  const spells = groupBy(counts.spells, ({lot}) => lot);
  const densities = groupBy(counts.densities, ({lot}) => lot);
  const inOrder = (a: SpellCount, b: SpellCount) =>
    stageAt.get(a.stage)! - stageAt.get(b.stage)! ||
    a.from - b.from ||
    (a.to ?? Number.MAX_VALUE) - (b.to ?? Number.MAX_VALUE) ||
    inText(a.outcome ?? "", b.outcome ?? "") ||
    inText(a.side ?? "", b.side ?? "");
  return {
    ...counts,
    spells: counts.lots.flatMap(({lot}) => (spells.get(lot) ?? []).sort(inOrder)),
    densities: counts.lots.flatMap(({lot}) => (densities.get(lot) ?? []).sort((a, b) => a.densityKgM3 - b.densityKgM3))
  };
}

function inText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
