import {groups} from "./groups.ts";
import type {Lot} from "./lots.ts";
import type {Piece} from "./pieces.ts";
import {fate, standing} from "./realised.ts";
import type {Workshop} from "./simulate.ts";
import {restStages} from "./truthStages.ts";
import {inside} from "./truthSuppliers.ts";

/** How many of each there are on the last day of the book, before any fault. */
export function counts({pieces, tables, sales, orders}: Workshop) {
  const events = (name: string) => tables["events.csv"].filter(({event}) => event === name).length;
  return {
    all: balance(pieces),
    bySpecies: {ash: balance(ofSpecies(pieces, "ash")), maple: balance(ofSpecies(pieces, "maple"))},
    bySupplier: Object.fromEntries(
      [...groups(pieces, ({lot}) => lot.supplier.name)].map(([supplier, own]) => [supplier, balance(own)])
    ),
    shafts: {
      allotted: events("allotted"),
      delivered: events("delivered"),
      onRack: sales.onRack.length,
      onRackInWindow: sales.onRack.filter(({inWindow}) => inWindow).length
    },
    orders: {
      orders: orders.length,
      shaftsOrdered: sum(orders.map(({quantity}) => quantity)),
      shaftsOwed: sum(sales.owed.map(({shafts}) => shafts)) - sum([...sales.lost.values()]),
      shaftsLost: sum([...sales.lost.values()])
    },
    rows: Object.fromEntries(Object.entries(tables).map(([file, rows]) => [file, rows.length]))
  };
}

function ofSpecies(pieces: readonly Piece[], species: string): Piece[] {
  return pieces.filter(({lot}) => lot.species === species);
}

function balance(pieces: readonly Piece[]) {
  const all = pieces.map(standing);
  const inStock = all.filter((one) => typeof one === "object");
  const count = (name: string) => all.filter((one) => one === name).length;
  return {
    squares: pieces.length,
    finished: count("finished"),
    discarded: count("discarded"),
    diverted: count("diverted"),
    inStock: inStock.length,
    inStockByStage: Object.fromEntries(
      restStages.map((stage) => [stage, inStock.filter((one) => one.stage === stage).length])
    )
  };
}

/** What will become of the pieces still in stock, lot by lot: what a forecast of the last day can be held against. */
export function fates(lots: readonly Lot[], pieces: readonly Piece[]) {
  return lots.flatMap((lot) => {
    const waiting = pieces.filter((piece) => piece.lot === lot && typeof standing(piece) === "object");
    if (waiting.length === 0) return [];
    const will = (end: string) => waiting.filter((piece) => fate(piece) === end);
    const finish = will("finished");
    return [
      {
        lot: lot.lot,
        supplier: lot.supplier.name,
        species: lot.species,
        ...balance(waiting),
        willFinish: finish.length,
        willFinishInWindow: finish.filter((piece) => inside(piece.densityAt12, lot.species)).length,
        willBeDiscarded: will("discarded").length,
        willBeDiverted: will("diverted").length
      }
    ].map(({squares: _, finished: _f, discarded: _d, diverted: _v, ...kept}) => kept);
  });
}

export function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
