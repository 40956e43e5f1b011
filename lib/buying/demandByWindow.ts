import type {Order} from "../book/records.ts";
import type {Settings} from "../book/settings.ts";
import {clusterShareInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {sum} from "../stats/numbers.ts";
import {taperVolume} from "../wood/taper.ts";
import {givenByOrder, type OrdersKnown, openShafts} from "./demandForecast.ts";

/** How an order's wish for mass lies to its species' density window. "unclear": the size of the shaft is not known, or cannot be. */
export type Wish = "inside" | "below" | "above" | "none" | "unclear";

/** Shafts wanted of one species by how the mass wished for lies to the density window. */
export interface DemandByWindow {
  species: string;
  orders: number;
  /** Shafts ordered, by wish; "inside" is where the wish and the window overlap. */
  shafts: Record<Wish, number>;
  /** Of them open: ordered, not lost, and not yet served. */
  open: Record<Wish, number>;
  /** Share of the shafts ordered that one in the window can serve, with its 95 % interval from four orders on. */
  servedFraction: number;
  servedLow?: number;
  servedHigh?: number;
  /** How much of the window a wish inside it takes, mean over those shafts, fraction; undefined without one. */
  takenFraction?: number;
}

/**
 * Whether the density that an order needs can be had inside the species' window.
 *
 *   ρ = 10⁶ · m / V        V = π·L/12·(D² + D·d + d²)
 *   m wished for, g; D large end of the last stage, d the order's tip, L its length, mm, or those of the last stage where it names none
 *
 * An order is inside where [ρ(mass_min), ρ(mass_max)] and the window overlap, an end not named being open; below or above where they do not;
 * with no mass named, any shaft in the window serves it. served = (inside + none + unclear)/all shafts: an order whose shaft cannot be
 * worked out is not turned away.
 *
 * Assumed: the mass is that of the bare wood at 12 % moisture. Fittings, and a finish, are not in it: where the orders' masses hold them, take
 * them off before. A shaft turned to that size at 10 % moisture weighs 1 % less (2 % less water, in wood shrunk by 1 %).
 * Overlap is the most that can be said of orders: within it, one shaft of the window may suit and another not.
 *
 * Source: mass over volume; common practice, no source.
 * Checked: tests/buying/demandByWindow.test.ts, by hand
 *
 * @returns undefined without an order
 */
export function demandByWindow(histories: OrdersKnown, species: string): DemandByWindow | undefined {
  const {settings} = histories;
  const orders = histories.orders.filter((order) => order.species === species);
  if (orders.length === 0) return undefined;
  const window = settings.species[species]!.windowKgM3;
  const wishes = orders.map((order) => ({order, quantity: order.quantity, ...wishOf(order, window, settings)}));
  const total = sum(wishes.map(({quantity}) => quantity));
  const count = (of: (orders: Order[]) => number) => {
    const by = (wish: Wish) => of(wishes.filter((one) => one.wish === wish).map(({order}) => order));
    return {inside: by("inside"), below: by("below"), above: by("above"), none: by("none"), unclear: by("unclear")};
  };
  const isServed = wishes.map(({wish}) => wish !== "below" && wish !== "above");
  const totalServed = sum(wishes.map(({quantity}, i) => (isServed[i] ? quantity : 0)));
  /** Of all shafts but those of some orders. */
  const shareWithout = (out: readonly number[]) => {
    let [served, all] = [totalServed, total];
    for (const i of out) {
      all -= wishes[i]!.quantity;
      if (isServed[i]) served -= wishes[i]!.quantity;
    }
    return all > 0 ? served / all : undefined;
  };
  const [estimate] = clusterJackknife(orders.length, (_, out = []) => [shareWithout(out)]);
  const limits = estimate && clusterShareInterval(estimate, total);
  const given = givenByOrder(histories);
  const taken = wishes.filter(({wish}) => wish === "inside");
  return {
    species,
    orders: orders.length,
    shafts: count((some) => sum(some.map(({quantity}) => quantity))),
    open: count((some) => openShafts({given}, some)),
    servedFraction: shareWithout([])!,
    ...(limits && {servedLow: limits.low, servedHigh: limits.high}),
    ...(taken.length > 0 && {
      takenFraction: sum(taken.map(({quantity, taken}) => quantity * taken)) / sum(taken.map(({quantity}) => quantity))
    })
  };
}

/**
 * The part of a demand that a shaft in the window can serve, as a plan takes it: {mean, size, known}. The mean is thinned by the share served,
 * which leaves the size as it was (see `demandOverride`); open orders are counted, and the owner's big order is taken to be served.
 *
 *   mean′ = mean · served        known = open orders inside, without a wish or unclear + bigOrder
 *
 * Checked: tests/buying/demandByWindow.test.ts
 */
export function demandInWindow(
  {mean, size, bigOrder}: {mean: number; size?: number; bigOrder: number},
  {servedFraction, open}: DemandByWindow
): {mean: number; size?: number; known: number} {
  const known = open.inside + open.none + open.unclear + bigOrder;
  return {mean: mean * servedFraction, ...(size !== undefined && {size}), known};
}

/** The wish of one order, and how much of the window it takes. */
function wishOf(
  {massMinG, massMaxG, lengthMm, tipMm}: Order,
  window: {low: number; high: number},
  {stages}: Settings
): {wish: Wish; taken: number} {
  if (massMinG === undefined && massMaxG === undefined) return {wish: "none", taken: 1};
  const last = stages.at(-1)!;
  const {largeMm} = last;
  const smallMm = tipMm ?? last.smallMm;
  const length = lengthMm ?? last.lengthMm;
  if (largeMm === undefined || smallMm === undefined || length === undefined || smallMm > largeMm)
    return {wish: "unclear", taken: 1};
  const volumeMm3 = taperVolume({largeMm, smallMm, lengthMm: length});
  const low = (1e6 * (massMinG ?? 0)) / volumeMm3;
  const high = (1e6 * (massMaxG ?? Number.POSITIVE_INFINITY)) / volumeMm3;
  if (high < window.low) return {wish: "below", taken: 0};
  if (low > window.high) return {wish: "above", taken: 0};
  const overlap = Math.min(high, window.high) - Math.max(low, window.low);
  return {wish: "inside", taken: overlap / (window.high - window.low)};
}
