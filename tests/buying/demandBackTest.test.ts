import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import {demandBackTest} from "../../lib/buying/demandBackTest.ts";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {orderBook} from "./orderBook.ts";

const counts = [
  4, 3, 6, 2, 2, 3, 4, 6, 9, 9, 8, 5, 5, 2, 4, 3, 1, 4, 3, 8, 11, 7, 9, 4, 6, 5, 2, 4, 3, 2, 6, 7, 12, 9, 10, 6
];
const book = orderBook("2023-01", counts, "2025-12-31");

// Season from 1 June: quarters begin in March, June, September and December. Six whole months are known first on 2023-08-31 (of the
// quarters), and the last twelve months begin on 2025-01-01, so the last quarter is that of December 2024.
test("demandBackTest(36 months) forecasts at each quarter with six months before it and twelve months after", () => {
  const {forecasts, apart, inside} = demandBackTest(book, "ash")!;
  expect(forecasts.map(({from}) => from)).toEqual([
    "2023-09-01",
    "2023-12-01",
    "2024-03-01",
    "2024-06-01",
    "2024-09-01",
    "2024-12-01"
  ]);
  expect(forecasts.filter(({isSeason}) => isSeason).map(({from, to}) => [from, to])).toEqual([
    ["2024-06-01", "2025-05-31"]
  ]);
  expect(apart).toBe(2);
  expect(inside).toBe(forecasts.filter(({ordered, low, high}) => low <= ordered && ordered <= high).length);
});

test("demandBackTest: each forecast is the one of a book that ends the day before, and what came is counted by hand", () => {
  for (const row of demandBackTest(book, "ash")!.forecasts) {
    const months = (Number(row.from.slice(0, 4)) - 2023) * 12 + Number(row.from.slice(5, 7)) - 1;
    const then = demandForecast(orderBook("2023-01", counts.slice(0, months), row.madeOn), "ash", row.to)!;
    expect([row.mean, row.low, row.high, row.monthsKnown]).toEqual([then.mean, then.low, then.high, months]);
    const came = counts.slice(months, months + 12).reduce((a, b) => a + b, 0);
    expect(row.ordered).toBe(came);
    expect(row.errorFraction).toBeCloseTo(came / then.mean - 1, 12);
    if (months >= 12) expect(row.before).toBe(counts.slice(months - 12, months).reduce((a, b) => a + b, 0));
    else expect(row.before).toBeUndefined();
  }
});

test("demandBackTest: what came later does not change a forecast", () => {
  const changed = orderBook(
    "2023-01",
    counts.map((x, i) => (i < 24 ? x : 5 * x)),
    "2025-12-31"
  );
  const [one, other] = [book, changed].map((of) => demandBackTest(of, "ash")!.forecasts);
  expect(other!.map(({mean, low, high}) => [mean, low, high])).toEqual(
    one!.map(({mean, low, high}) => [mean, low, high])
  );
  expect(other!.at(-1)!.ordered).toBeGreaterThan(one!.at(-1)!.ordered);
});

// Eight months of 5, so 60 expected; 70 came. SciPy 1.17: with n = 8, x̄ = 5 the months scatter less than chance, so the variance beyond Poisson is
// (12² · 5/8)(t/z)², t(7) = 2.364624, z = 1.959964; nbinom(60²/130.9998, …): cdf(69) + pmf(70)/2.
test("demandBackTest: the chance of fewer is SciPy's", () => {
  const flat = orderBook("2025-01", [...Array(8).fill(5), 15, ...Array(11).fill(5)], "2026-08-31");
  const [row] = demandBackTest(flat, "ash")!.forecasts.filter(({from}) => from === "2025-09-01");
  expect([row!.mean, row!.ordered]).toEqual([expect.closeTo(60, 6), 70]);
  expect(row!.chanceBelow).toBeCloseTo(0.7751113816723083, 5);
});

test("demandBackTest: a selling year from the 15th is forecast on the 14th", () => {
  const from15 = orderBook("2023-01", counts, "2025-12-31", {season: {startsOn: "06-15"}});
  const {forecasts} = demandBackTest(from15, "ash", {everyMonths: 12})!;
  expect(forecasts.map(({madeOn, from, to, isSeason}) => [madeOn, from, to, isSeason])).toEqual([
    ["2024-06-14", "2024-06-15", "2025-06-14", true]
  ]);
});

test("demandBackTest(a book of a year, or another species) has nothing to say", () => {
  expect(demandBackTest(orderBook("2025-01", counts.slice(0, 12), "2025-12-31"), "ash")).toBeUndefined();
  expect(demandBackTest(book, "maple")).toBeUndefined();
  expect(demandBackTest({...book, asOf: dayNumber("2024-08-30")}, "ash")).toBeUndefined();
});

test.each([
  [{everyMonths: 5}, "demandBackTest: everyMonths must be 1, 2, 3, 4, 6 or 12"],
  [{monthsAhead: 0}, "demandBackTest: monthsAhead must be 1 or more"]
])("demandBackTest refuses %o", (options, sentence) => {
  expect(() => demandBackTest(book, "ash", options)).toThrow(sentence);
});
