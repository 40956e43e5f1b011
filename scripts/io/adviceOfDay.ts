import {dayNumber, dayText} from "../../lib/book/day.ts";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {nextSeason} from "../../lib/buying/leadTime.ts";
import {purchasePlan} from "../../lib/buying/purchasePlan.ts";
import {supply} from "../../lib/buying/supply.ts";
import {usableShare} from "../../lib/buying/usableShare.ts";
import {quantile} from "../../lib/stats/quantile.ts";
import {finishChance} from "../../lib/yield/finishChance.ts";
import type {AdviceGiven} from "./keepAdvice.ts";
import type {BookAsOf} from "./readBook.ts";

/** What the plan of each species says on the day of the book; a species for which no number can be given is left out. */
export function adviceOfDay(read: BookAsOf): AdviceGiven[] {
  return Object.keys(read.book.settings.species).flatMap((species) => adviceOn(read, species) ?? []);
}

function adviceOn({histories: now, book}: BookAsOf, species: string): AdviceGiven | undefined {
  const {endsOn} = nextSeason(now);
  const pieces = now.pieces.filter((piece) => piece.species === species);
  if (!pieces.some(({fate}) => fate === "finished")) return undefined;
  const withinDays = dayNumber(endsOn) - now.asOf;
  const stock = supply(now, species, finishChance(now, pieces), {
    inTime: finishChance(now, pieces, {withinDays})
  });
  const forecast = demandForecast(now, species, endsOn);
  const {shaftPrice, shortageCost, leftoverValue} = book.settings.money;
  if (!forecast || stock.offers.length === 0) return undefined;
  if (stock.offers.some(({usableCost}) => leftoverValue >= usableCost)) return undefined;
  const year = dayText(now.asOf - 365);
  const prices = now.orders
    .filter((order) => order.species === species && order.orderedOn > year)
    .flatMap(({priceEach}) => priceEach ?? []);
  const {best, band} = purchasePlan({
    finished: stock.rack,
    pipeline: stock.pipeline,
    demand: {mean: forecast.mean, known: forecast.open, ...(forecast.size !== undefined && {size: forecast.size})},
    offers: stock.offers,
    money: {price: quantile(prices, 0.5) ?? shaftPrice, shortageCost, leftoverValue}
  });
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
    demand: {mean: forecast.mean, low: forecast.low, high: forecast.high},
    usable: usableShare(bought),
    profit: best.profit,
    expectedShort: best.expectedShort,
    expectedLeftover: best.expectedLeftover,
    service: best.service
  };
}
