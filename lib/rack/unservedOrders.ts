import {augment, type Given, type ShaftAssignment} from "./assignShafts.ts";
import type {OrderShafts} from "./rankShafts.ts";
import type {ShaftFit, ShaftWish} from "./shaftFit.ts";

/** An order that goes without for one of its shafts or more, and why. */
export interface UnservedOrder {
  order: string;
  wantedBy?: string;
  /** Shafts it lacks for which there is none, not even one to look at. */
  without: number;
  cause:
    | "no free shaft of the species"
    | "no shaft fits"
    | "those that may fit are to be looked at for others"
    | "too few fit"
    | "all that fit go to others";
  /** Free shafts of its species; those known to fit it. */
  shafts: number;
  fitting: number;
  /** The wishes that stand in the way, with the number of shafts that do not meet them, most first. */
  inTheWay: {wish: ShaftWish; shafts: number}[];
  /** Each wish that, given up alone, would serve one more shaft of it, and the shaft that it would get then. */
  giveUp: {wish: ShaftWish; square: string}[];
  /** The orders that get the shafts that fit it. */
  goTo: string[];
}

/**
 * Why orders cannot be served, and what would help.
 *
 * A wish given up helps when a shaft that fails in nothing else is free, or comes free by giving those who hold one another that fits them too:
 * an augmenting path, as in `assignShafts`. No order served now would go without.
 *
 * Checked: tests/rack/unservedOrders.test.ts, by hand, and each wish given up against a new assignment of all
 *
 * @param ranked the result of `rankShafts`
 * @param assignment the result of `assignShafts` for it
 */
export function unservedOrders(
  ranked: readonly OrderShafts[],
  {given}: Pick<ShaftAssignment, "given">
): UnservedOrder[] {
  const holders = new Map(given.flatMap((one) => (one.square === undefined ? [] : [[one.square, one] as const])));
  return ranked.flatMap(({order, shafts}): UnservedOrder[] => {
    const without = given.filter((one) => one.order === order.order && one.square === undefined).length;
    if (without === 0) return [];
    const fitting = shafts.filter(({state}) => state === "fits");
    const counts = new Map<ShaftWish, number>();
    for (const {wishes} of shafts)
      for (const {wish, state} of wishes) if (state === "does not fit") counts.set(wish, (counts.get(wish) ?? 0) + 1);
    const goTo = fitting.map(({square}) => holders.get(square)?.order).filter((one) => one !== undefined);
    const others = [...new Set(goTo)].filter((one) => one !== order.order);
    return [
      {
        order: order.order,
        ...(order.wantedBy !== undefined && {wantedBy: order.wantedBy}),
        without,
        cause:
          shafts.length === 0
            ? "no free shaft of the species"
            : fitting.length === 0
              ? shafts.some(({state}) => state === "not known")
                ? "those that may fit are to be looked at for others"
                : "no shaft fits"
              : others.length === 0
                ? "too few fit"
                : "all that fit go to others",
        shafts: shafts.length,
        fitting: fitting.length,
        inTheWay: [...counts].map(([wish, n]) => ({wish, shafts: n})).sort((a, b) => b.shafts - a.shafts),
        giveUp: [...counts.keys()].flatMap((wish) => {
          const square = shaftWithout(wish, shafts, {ranked, given, holders});
          return square === undefined ? [] : [{wish, square}];
        }),
        goTo: others
      }
    ];
  });
}

/** The shaft that an order gets once it gives up a wish, if that serves it. */
function shaftWithout(
  wish: ShaftWish,
  shafts: readonly ShaftFit[],
  {ranked, given, holders}: {ranked: readonly OrderShafts[]; given: readonly Given[]; holders: Map<string, Given>}
): string | undefined {
  const relaxed = shafts.filter(({wishes}) =>
    wishes.every((one) => (one.wish === wish ? one.state === "does not fit" : one.state === "fits"))
  );
  const free = relaxed.find(({square}) => !holders.has(square));
  if (free) return free.square;
  // All are held: who holds them may take another. A shaft that is to be looked at stays where it is.
  const held = given.filter((one) => one.square !== undefined && !one.look);
  const looked = new Set(given.flatMap(({square, look}) => (look ? [square!] : [])));
  const squares = [...new Set(ranked.flatMap((one) => one.shafts.map(({square}) => square)))].filter(
    (square) => !looked.has(square)
  );
  const column = new Map(squares.map((square, i) => [square, i]));
  const columnsOf = (some: readonly ShaftFit[]) => some.flatMap(({square}) => column.get(square) ?? []);
  const fitting = new Map(
    ranked.map((one) => [one.order.order, columnsOf(one.shafts.filter(({state}) => state === "fits"))])
  );
  const adjacent = [...held.map((one) => fitting.get(one.order)!), columnsOf(relaxed)];
  const holder: (number | undefined)[] = squares.map(() => undefined);
  for (const [row, one] of held.entries()) holder[column.get(one.square!)!] = row;
  if (!augment(held.length, adjacent, holder)) return undefined;
  return squares[holder.indexOf(held.length)];
}
