import type {Histories} from "../book/histories.ts";
import type {Numbered} from "../book/readRecords.ts";
import type {Order} from "../book/records.ts";
import {shaftsGiven} from "../book/shafts.ts";
import {textOrder} from "../book/textOrder.ts";

/** An order that still lacks shafts. */
export interface OpenOrder extends Numbered<Order> {
  /** Shafts still to be found for it. */
  lacking: number;
  /** Shafts that are allotted to it, those delivered among them. */
  given: number;
}

/**
 * The orders that still lack shafts, earliest promised first; those promised for no day last. Of one day, by the day they came in, then by
 * number.
 *
 *   lacking = ordered − lost − allotted or delivered
 *
 * Checked: tests/rack/openOrders.test.ts
 */
export function openOrders({orders, pieces}: Pick<Histories, "orders" | "pieces">): OpenOrder[] {
  const given = shaftsGiven(pieces);
  return orders
    .map((order) => {
      const own = given.get(order.order) ?? 0;
      return {...order, given: own, lacking: order.quantity - (order.lost ?? 0) - own};
    })
    .filter(({lacking}) => lacking > 0)
    .sort(byPromise);
}

/** Earliest promised first; the order of two orders never hangs on that of their rows. */
export function byPromise(a: Order, b: Order): number {
  return textOrder(promise(a), promise(b)) || textOrder(a.orderedOn, b.orderedOn) || textOrder(a.order, b.order);
}

/** Sorts behind every day. */
const promise = ({wantedBy = "~"}: Order) => wantedBy;
