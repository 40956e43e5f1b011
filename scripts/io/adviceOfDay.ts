import type {PlannedDemand} from "../../lib/buying/demandOverride.ts";
import {demandRange} from "../../lib/buying/demandRange.ts";
import {usableShare} from "../../lib/buying/usableShare.ts";
import {planSeason} from "../season/planSeason.ts";
import type {AdviceGiven} from "./keepAdvice.ts";
import type {BookAsOf} from "./readBook.ts";

/** What the plan of each species says on the day of the book; a species for which no number can be given is left out. */
export function adviceOfDay(read: BookAsOf): AdviceGiven[] {
  const {book} = read;
  return planSeason(read).species.map(({species, stock, demand, plan: {best, band}}) => {
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
      demand: recorded(demand, book.settings.demand[species]?.lostPct),
      usable: usableShare(bought),
      profit: best.profit,
      expectedShort: best.expectedShort,
      expectedLeftover: best.expectedLeftover,
      service: best.service
    };
  });
}

/** The orders to come that will stand in the book, whatever window they want: without those it never hears of, with the owner's big order. */
function recorded({mean, size, bigOrder, overridden}: PlannedDemand, lostPct = 0): AdviceGiven["demand"] {
  const heard = overridden.includes("lostPct") ? mean * (1 - lostPct / 100) : mean;
  const {low, high} = demandRange(heard, size);
  return {mean: heard + bigOrder, low: low + bigOrder, high: high + bigOrder};
}
