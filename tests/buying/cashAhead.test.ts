import {expect, test} from "vitest";
import {cashAhead, workDone} from "../../lib/buying/cashAhead.ts";
import type {StockMonth} from "../../lib/buying/stockAhead.ts";
import {endingTimes} from "../../lib/stats/endingTimes.ts";

const stock = (sold: readonly number[]) => ({
  months: ["2026-11-30", "2026-12-31", "2027-01-31", "2027-02-28"].map(
    (endsOn, i) => ({month: endsOn.slice(0, 7), endsOn, sold: sold[i]!}) as StockMonth
  )
});
const input = {
  boughtOn: "2026-12-10",
  squaresCost: 1000,
  workCost: 600,
  workBy: (days: number) => Math.min(1, days / 42), // half by the end of the year, all by 21 January
  price: 140
};

test("cashAhead by hand: paid on its day, worked on, paid back by what could not have been sold without it", () => {
  const {months, most, paidBack} = cashAhead(input, stock([5, 9, 14, 30]), stock([5, 9, 10, 12]));
  expect(months.map(({squares, work, earned, tied}) => [squares, work, earned, tied])).toEqual([
    [0, 0, 0, 0],
    [1000, 300, 0, 1300],
    [1000, 600, 560, 1040],
    [1000, 600, 2520, -920]
  ]);
  expect(most.month).toBe("2026-12");
  expect(paidBack!.month).toBe("2027-02");
});

test("cashAhead: never paid back, no month; unlike months are refused", () => {
  const cash = cashAhead(input, stock([5, 9, 10, 11]), stock([5, 9, 10, 10]));
  expect(cash.paidBack).toBeUndefined();
  expect(cash.most.tied).toBe(1600);
  const short = {months: stock([5, 9, 10, 10]).months.slice(1)};
  expect(() => cashAhead(input, stock([5, 9, 10, 11]), short)).toThrow("cashAhead: without");
  expect(() => cashAhead({...input, workCost: -1}, stock([1, 1, 1, 1]), stock([1, 1, 1, 1]))).toThrow("workCost");
});

test("workDone: each turning counts the same, so early ones of which more are done weigh more", () => {
  const times = (days: readonly number[]) => endingTimes([days.map((exit) => ({exit, cause: "turned"}))], "turned")!;
  const done = workDone([
    {stage: "round", reachFraction: 0.8, times: times([60, 80])},
    {stage: "finished", reachFraction: 0.4, times: times([100, 200])}
  ]);
  // 0.8 + 0.4 turnings a square: 0.4 by day 60, 0.8 by 80, 1.0 by 100, 1.2 by 200.
  expect([0, 60, 80, 100, 200].map(done)).toEqual([0, 1 / 3, 2 / 3, 5 / 6, 1].map((x) => expect.closeTo(x, 12)));
  expect(workDone([])(0)).toBe(1);
});
