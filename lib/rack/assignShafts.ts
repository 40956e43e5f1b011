import {textOrder} from "../book/textOrder.ts";
import {assign} from "../stats/assign.ts";
import {sum} from "../stats/numbers.ts";
import {byPromise, type OpenOrder} from "./openOrders.ts";
import type {OrderShafts} from "./rankShafts.ts";
import type {ShaftFit} from "./shaftFit.ts";

/** What the assignment needs to know of an order and of its shafts. */
export interface OrderFits {
  order: Pick<OpenOrder, "order" | "orderedOn" | "wantedBy" | "lacking"> & Partial<OpenOrder>;
  shafts: readonly FitOf[];
}
export type FitOf = Pick<ShaftFit, "square" | "state" | "fit" | "finishedOn">;

/** One shaft owed, and what it gets. */
export interface Given {
  order: string;
  wantedBy?: string;
  /** The first, second … of the shafts that the order lacks. */
  unit: number;
  /** The shaft; undefined where it gets none. */
  square?: string;
  /** How well it fits, from 0 to 1. */
  fit?: number;
  /** True of a shaft of which something asked for is not known: look at it first. */
  look?: boolean;
}

/** Who gets which shaft. */
export interface ShaftAssignment {
  /** One row for each shaft owed, earliest promised first. */
  given: Given[];
  owed: number;
  /** Owed and served by a shaft known to fit; and by one that must be looked at first. */
  served: number;
  toLookAt: number;
  /** Fits of the shafts known to fit, added up. */
  totalFit: number;
}

/** Of shafts that fit alike the one finished first is taken: a part of the score so small that it decides nothing else. */
const older = 1e-10;

/**
 * Which shaft goes to which order: of all ways, those that serve most of the shafts owed; of these, those that serve the earliest promised; of
 * these, one of the best total fit.
 *
 *   1. the shafts owed, earliest promised first, are taken in one by one, each when all taken in so far can be served together with it: when
 *      there is an augmenting path
 *   2. the shafts owed that were taken in are assigned to shafts by `assign`, cost −fit
 *
 * The sets of shafts owed that can be served together are the independent sets of a transversal matroid, so step 1, which is greedy, yields a
 * largest set and, of the largest, the one earliest in the order of promise: exactly. Only shafts known to fit take part. What is left over on both
 * sides is then assigned in the same way to shafts of which something is not known (`look`).
 *
 * The trap: a shaft is as good for an order with a year to wait as for one due tomorrow; who wants the best fit for one customer overrules it by allotting.
 * Source: Edmonds and Fulkerson (1965), J. Res. Nat. Bur. Standards 69B:147–153; the greedy rule: Edmonds (1971), Math. Programming 1:127–136
 * (both from memory); step 2 as `assign`.
 * Checked: tests/rack/assignShafts.test.ts, against all ways gone through up to 7 × 7, and against the bound of König, Hall and Ore
 *
 * @param ranked the result of `rankShafts`, in any order
 */
export function assignShafts(ranked: readonly (OrderFits | OrderShafts)[]): ShaftAssignment {
  const orders = ranked.toSorted((a, b) => byPromise(a.order as OpenOrder, b.order as OpenOrder));
  const units = orders.flatMap(({order, shafts}) =>
    Array.from({length: order.lacking}, (_, i) => ({order, shafts, unit: i + 1}))
  );
  const sure = round(units, "fits", new Set());
  const open = units.filter((_, i) => !sure[i]);
  const taken = new Set(sure.flatMap((fit) => fit?.square ?? []));
  const maybe = round(open, "not known", taken);
  const given = units.map(({order, unit}, i): Given => {
    const look = sure[i] ? undefined : maybe[open.indexOf(units[i]!)];
    const got = sure[i] ?? look;
    return {
      order: order.order,
      ...(order.wantedBy !== undefined && {wantedBy: order.wantedBy}),
      unit,
      ...(got && {square: got.square, fit: got.fit, ...(look && {look: true})})
    };
  });
  const served = sure.filter((fit) => fit !== undefined);
  return {
    given,
    owed: units.length,
    served: served.length,
    toLookAt: maybe.filter((fit) => fit !== undefined).length,
    totalFit: sum(served.map(({fit}) => fit))
  };
}

/** For each unit the shaft it gets, of those in one state and not taken. */
function round(
  units: readonly {shafts: readonly FitOf[]}[],
  state: FitOf["state"],
  taken: ReadonlySet<string>
): (FitOf | undefined)[] {
  const fits = new Map<readonly FitOf[], readonly FitOf[]>();
  const fitting = units.map(({shafts}) => {
    if (!fits.has(shafts))
      fits.set(
        shafts,
        shafts.filter((one) => one.state === state && !taken.has(one.square))
      );
    return fits.get(shafts)!;
  });
  // In an order of their own, so that the rows' order decides nothing: oldest first.
  const bySquare = new Map<string, FitOf>();
  for (const some of fitting) for (const fit of some) bySquare.set(fit.square, fit);
  const shafts = [...bySquare.values()].sort(
    (a, b) => (a.finishedOn ?? 0) - (b.finishedOn ?? 0) || textOrder(a.square, b.square)
  );
  const column = new Map(shafts.map(({square}, i) => [square, i]));
  const adjacent = fitting.map((some) => some.map(({square}) => column.get(square)!));
  const holder: (number | undefined)[] = shafts.map(() => undefined);
  const rows = units.flatMap((_, i) => (augment(i, adjacent, holder) ? [i] : []));
  const {columns} = assign(
    rows.map((i) => {
      const costs: (number | undefined)[] = shafts.map(() => undefined);
      for (const [k, at] of adjacent[i]!.entries()) costs[at] = older * at - fitting[i]![k]!.fit;
      return costs;
    })
  );
  const got: (FitOf | undefined)[] = units.map(() => undefined);
  for (const [k, i] of rows.entries()) got[i] = fitting[i]!.find(({square}) => square === shafts[columns[k]!]!.square);
  return got;
}

/**
 * Takes in one more row of a matching, if it can be served together with those taken in, others being given another column where need be.
 *
 * Source: augmenting paths, Berge (1957), Proc. Nat. Acad. Sci. 43:842–844 (from memory). Checked: tests/rack/assignShafts.test.ts
 *
 * @param adjacent for each row the columns it may have
 * @param holder for each column the row that has it; changed when the row is taken in
 * @returns whether it was
 */
export function augment(
  row: number,
  adjacent: readonly (readonly number[])[],
  holder: (number | undefined)[]
): boolean {
  const from = new Map<number, number>();
  const queue = [row];
  for (const one of queue)
    for (const column of adjacent[one]!) {
      if (from.has(column)) continue;
      from.set(column, one);
      const next = holder[column];
      if (next !== undefined) {
        queue.push(next);
        continue;
      }
      // Back along the path: each row gets the column found for it, and gives up the one it had.
      let [free, taker] = [column, one];
      while (true) {
        const had = holder.indexOf(taker);
        holder[free] = taker;
        if (taker === row) return true;
        free = had;
        taker = from.get(had)!;
      }
    }
  return false;
}
