import type {Given, ShaftAssignment} from "./assignShafts.ts";
import type {OrderShafts} from "./rankShafts.ts";

/** A shaft that goes to one order and that another would have needed, or liked better than what it gets. */
export interface CompetingOrder {
  square: string;
  goesTo: string;
  /** How well it fits the order it goes to, from 0 to 1. */
  fit: number;
  /** The other order, and how well the shaft would have fitted it. */
  order: string;
  wantedBy?: string;
  fitOther: number;
  /** What the other gets, and how well that fits it; absent where it goes without, or has one to look at. */
  gets?: string;
  fitGets?: number;
}

/** From this difference of fits on it matters; ours. */
const matters = 0.05;

/**
 * Orders that compete for one shaft where it matters: the one that does not get it goes without, or gets one that fits worse by 0.05 or more. Of
 * an order of several shafts the one that comes off worst counts. Those that go without first, then the earliest promised.
 *
 * Checked: tests/rack/competingOrders.test.ts, by hand
 *
 * @param ranked the result of `rankShafts`
 * @param assignment the result of `assignShafts` for it
 */
export function competingOrders(
  ranked: readonly OrderShafts[],
  {given}: Pick<ShaftAssignment, "given">
): CompetingOrder[] {
  const holders = new Map(given.flatMap((one) => (one.square === undefined ? [] : [[one.square, one] as const])));
  const level = (one: Given) => (one.square === undefined || one.look ? -1 : one.fit!);
  const rows = ranked.flatMap(({order, shafts}) => {
    const own = given.filter((one) => one.order === order.order);
    const worst = own.toSorted((a, b) => level(a) - level(b))[0];
    if (!worst) return [];
    return shafts.flatMap(({square, state, fit}): CompetingOrder[] => {
      const holder = holders.get(square);
      if (state !== "fits" || !holder || holder.order === order.order || fit - level(worst) < matters) return [];
      return [
        {
          square,
          goesTo: holder.order,
          fit: holder.fit!,
          order: order.order,
          ...(order.wantedBy !== undefined && {wantedBy: order.wantedBy}),
          fitOther: fit,
          ...(level(worst) >= 0 && {gets: worst.square!, fitGets: worst.fit!})
        }
      ];
    });
  });
  // A sort keeps the order of equals: that of the promises, and of each order its best first.
  return rows.toSorted((a, b) => Number(a.gets !== undefined) - Number(b.gets !== undefined));
}
