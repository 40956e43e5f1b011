import {type Day, dayNumber} from "../book/day.ts";
import {check} from "../check.ts";
import {sum} from "../stats/numbers.ts";
import type {PassTime} from "./stageTimes.ts";
import type {StockAhead} from "./stockAhead.ts";

/** Money in a purchase at a month's end, all from its day on, expected values in the book's currency. */
export interface CashMonth {
  month: string;
  endsOn: Day;
  /** Paid for squares and carriage. */
  squares: number;
  /** Spent on the work done on them. */
  work: number;
  /** Come in from shafts that could not have been sold without them. */
  earned: number;
  /** Squares and work less what came in; negative once the purchase has paid itself back. */
  tied: number;
}

export interface CashAhead {
  months: CashMonth[];
  /** The month's end at which most is tied up. */
  most: CashMonth;
  /** The first month from whose end on nothing is tied up any more; absent while it does not pay itself back in the months looked at. */
  paidBack?: CashMonth;
}

/** What a purchase costs and brings in. */
export interface CashInput {
  boughtOn: Day;
  /** Price of all squares and carriage, paid on that day. */
  squaresCost: number;
  /** Work and material on all of them, whatever becomes of them. */
  workCost: number;
  /** Part of that work done within so many days of the purchase, from 0 to 1: `workDone`. */
  workBy: (days: number) => number;
  /** Price of a shaft sold. */
  price: number;
}

/**
 * Money tied up in a purchase at each month's end: expected values, no range.
 *
 *   tied(t) = squares + work · w(t) − price · (E sold with the purchase by t − E sold without it by t)
 *
 * A shaft that the stock would have given anyway pays nothing back. Nothing is counted for shafts left at the end of the months, nor for
 * shortages that the purchase avoids. Money on the day itself: interest, taxes and days of grace are left out.
 * Source: common practice, no source. Checked: tests/buying/cashAhead.test.ts, by hand
 *
 * @param bought,without results of `stockAhead` with and without the purchase, over the same months
 * @throws RangeError on unlike months or costs below 0
 */
export function cashAhead(
  {boughtOn, squaresCost, workCost, workBy, price}: CashInput,
  bought: Pick<StockAhead, "months">,
  without: Pick<StockAhead, "months">
): CashAhead {
  const ends = ({months}: Pick<StockAhead, "months">) => months.map(({endsOn}) => endsOn).join(", ");
  check(ends(bought) === ends(without) && bought.months.length > 0, "cashAhead: without", ends(bought), ends(without));
  check(squaresCost >= 0, "cashAhead: squaresCost", "0 or more", squaresCost);
  check(workCost >= 0, "cashAhead: workCost", "0 or more", workCost);
  const months = bought.months.map(({month, endsOn, sold}, i): CashMonth => {
    const days = dayNumber(endsOn) - dayNumber(boughtOn);
    const squares = days < 0 ? 0 : squaresCost;
    const work = days < 0 ? 0 : workCost * workBy(days);
    const earned = price * Math.max(0, sold - without.months[i]!.sold);
    return {month, endsOn, squares, work, earned, tied: squares + work - earned};
  });
  const most = months.reduce((a, b) => (b.tied > a.tied ? b : a));
  const lastTied = months.findLastIndex(({tied, endsOn}) => tied > 0 || endsOn < boughtOn);
  const paidBack = months[lastTied + 1];
  return {months, most, ...(paidBack && {paidBack})};
}

/**
 * The part of the work on a purchase that is done within so many days of it: each turning of a square to the next stage counts the same.
 *
 *   w(d) = Σ over stages of r_k G_k(d) / Σ r_k    r_k share of squares that are turned to stage k, G_k(d) the part of them turned by day d
 *
 * That turnings cost alike is taken, not known: the book has one cost of work for a square. Common practice, no source.
 * Checked: tests/buying/cashAhead.test.ts
 *
 * @returns without any pass known, all of it on the first day
 */
export function workDone(passes: readonly PassTime[]): (days: number) => number {
  const all = sum(passes.map(({reachFraction}) => reachFraction));
  return (days) =>
    all > 0 ? sum(passes.map(({reachFraction, times}) => reachFraction * times.shareBy(days))) / all : 1;
}
