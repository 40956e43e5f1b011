import {usableShare} from "../../lib/buying/usableShare.ts";
import {planSeason} from "../season/planSeason.ts";
import type {AdviceGiven} from "./keepAdvice.ts";
import type {BookAsOf} from "./readBook.ts";

/** What the plan of each species says on the day of the book; a species for which no number can be given is left out. */
export function adviceOfDay(read: BookAsOf): AdviceGiven[] {
  return planSeason(read).species.map(({species, stock, need, demand, plan: {best, band}}) => {
    const bought = stock.offers.map((offer) => ({
      ...offer,
      squares: best.orders.find(({supplier}) => supplier === offer.supplier)?.squares ?? 0
    }));
    return {
      species,
      squares: best.squares,
      bandLow: band.from,
      bandHigh: band.to,
      orders: best.orders,
      demand: {mean: need.demand.mean, low: demand.low, high: demand.high},
      usable: usableShare(bought),
      profit: best.profit,
      expectedShort: best.expectedShort,
      expectedLeftover: best.expectedLeftover,
      service: best.service
    };
  });
}
