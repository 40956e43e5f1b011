import type {Histories, Piece} from "./histories.ts";
import type {LotCounts} from "./lotCounts.ts";
import type {Numbered} from "./readRecords.ts";
import type {Lot, Order} from "./records.ts";
import type {Settings} from "./settings.ts";
import {type SpellCount, spellCount, windowSide} from "./spellCounts.ts";
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
}

/** Counts of a book, as rows or made ready. */
export interface CountsOf extends Omit<BookCounts, "spells" | "densities"> {
  spells: readonly SpellCount[] | LotCounts;
  densities: Iterable<DensityCount>;
}

/** A density as `DensityCount` has it: to the nearest tenth of a kg/m³, halves up. */
export function densityStep(densityKgM3: number): number {
  return Math.floor(densityKgM3 * 10 + 0.5) / 10;
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
  return counter.counts(asOf, orders);
}

/** Adds up pieces one by one, so that no more than one need be there at a time. */
export class BookCounter {
  readonly #settings: Settings;
  readonly #lots: readonly Lot[];
  readonly #ofLot = new Map<string, {spells: Map<string, SpellCount>; densities: Map<number, number>}>();
  readonly #given = new Map<string, number>();

  constructor(settings: Settings, lots: readonly Numbered<Lot>[]) {
    this.#settings = settings;
    this.#lots = lots.map(({row: _, ...lot}) => lot);
    for (const {lot} of lots) this.#ofLot.set(lot, {spells: new Map(), densities: new Map()});
  }

  add(piece: Piece): void {
    const {lot, species, stays, allottedTo} = piece;
    const own = this.#ofLot.get(lot)!;
    const density = densityStep(piece.densityAt12KgM3);
    own.densities.set(density, (own.densities.get(density) ?? 0) + 1);
    const side = windowSide(piece.densityAt12KgM3, this.#settings.species[species]!.windowKgM3);
    for (const stay of stays) {
      const one = spellCount(piece, stay);
      const key = `${one.stage}\n${one.from}\n${one.to ?? ""}\n${one.outcome ?? ""}\n${side}`;
      const before = own.spells.get(key);
      if (before) before.squares++;
      else own.spells.set(key, {...one, side});
    }
    if (allottedTo !== undefined) this.#given.set(allottedTo, (this.#given.get(allottedTo) ?? 0) + 1);
  }

  counts(asOf: number, orders: readonly Numbered<Order>[]): BookCounts {
    const own = [...this.#ofLot];
    return countsInOrder({
      settings: this.#settings,
      asOf,
      lots: [...this.#lots],
      orders: orders.map(({row: _, ...order}) => ({...order, given: this.#given.get(order.order) ?? 0})),
      spells: own.flatMap(([, {spells}]) => [...spells.values()]),
      densities: own.flatMap(([lot, {densities}]) =>
        [...densities].map(([densityKgM3, squares]) => ({lot, densityKgM3, squares}))
      )
    });
  }
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
