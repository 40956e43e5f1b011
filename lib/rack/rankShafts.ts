import type {Histories, Piece} from "../book/histories.ts";
import {isFreeShaft} from "../book/shafts.ts";
import {textOrder} from "../book/textOrder.ts";
import {type OpenOrder, openOrders} from "./openOrders.ts";
import {type FitState, type ShaftFit, type ShaftKnown, shaftFit, shaftKnown} from "./shaftFit.ts";

/** An open order with every free shaft of its species, best first. */
export interface OrderShafts {
  order: OpenOrder;
  shafts: ShaftFit[];
  /** Free shafts of another species: none fits. */
  otherSpecies: number;
}

/**
 * The shafts that may be given away: finished, neither allotted nor delivered nor thrown out since.
 *
 * Checked: tests/rack/rankShafts.test.ts
 */
export function freeShafts({pieces}: Pick<Histories, "pieces">): Piece[] {
  return pieces.filter(isFreeShaft);
}

const rank: Record<FitState, number> = {fits: 0, "not known": 1, "does not fit": 2};

/**
 * Every open order, earliest promised first, against every free shaft of its species: those known to fit, then those of which something the order asks for is
 * not known, then those that do not fit; each best first, of equals the one finished first.
 *
 * Checked: tests/rack/rankShafts.test.ts
 *
 * @param known of `shaftKnown`; worked out here without weights of stages unless given
 */
export function rankShafts(
  histories: Pick<Histories, "settings" | "pieces" | "orders">,
  known: ShaftKnown = shaftKnown(histories)
): OrderShafts[] {
  const free = freeShafts(histories);
  return openOrders(histories).map((order) => {
    const own = free.filter(({species}) => species === order.species);
    const shafts = own.map((piece) => shaftFit(order, piece, known)).sort(bestFirst);
    return {order, shafts, otherSpecies: free.length - own.length};
  });
}

function bestFirst(a: ShaftFit, b: ShaftFit): number {
  return (
    rank[a.state] - rank[b.state] ||
    b.fit - a.fit ||
    (a.finishedOn ?? 0) - (b.finishedOn ?? 0) ||
    textOrder(a.square, b.square)
  );
}
