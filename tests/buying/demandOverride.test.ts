import {expect, test} from "vitest";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {demandOverride} from "../../lib/buying/demandOverride.ts";
import {demandRange} from "../../lib/buying/demandRange.ts";
import {negativeBinomialPmf} from "../../lib/stats/negativeBinomial.ts";
import {thin} from "../../lib/stats/thin.ts";
import {orderBook} from "./orderBook.ts";

const until = "2026-12-31";
const season = [4, 3, 3, 2, 2, 3, 4, 6, 9, 9, 8, 5];
const book = (said?: object, first = "2024-01", shafts: readonly number[] = [...season, ...season]) =>
  orderBook(first, shafts, "2025-12-31", said && {demand: {ash: said}});

test("demandOverride(nothing said) is the book's own forecast", () => {
  const own = demandForecast(book(), "ash", until)!;
  const {mean, size, known, sd, low, high, overridden, idle, book: says} = demandOverride(book(), "ash", until)!;
  expect({mean, size, sd, low, high}).toEqual({
    mean: own.mean,
    size: own.size,
    sd: own.sd,
    low: own.low,
    high: own.high
  });
  expect([known, overridden, idle]).toEqual([own.open, [], []]);
  expect(says).toEqual(own);
});

test("demandOverride(shafts with sd, with a range, alone) has that mean and scatter", () => {
  const own = demandForecast(book(), "ash", until)!;
  const withSd = demandOverride(book({shafts: 90, sd: 15}), "ash", until)!;
  expect([withSd.mean, withSd.sd, withSd.overridden]).toEqual([90, expect.closeTo(15, 9), ["shafts"]]);
  expect(withSd.book!.mean).toBe(own.mean);
  const wide = demandOverride(book({shafts: 200, low: 140, high: 260}), "ash", until)!;
  expect(wide.sd).toBeCloseTo(120 / 3.919928, 5);
  expect(Math.abs(wide.low - 140) + Math.abs(wide.high - 260)).toBeLessThan(12);
  const alone = demandOverride(book({shafts: 90}), "ash", until)!;
  expect([alone.mean, alone.size]).toEqual([90, own.size]);
});

test("demandOverride(shafts surer than chance) is Poisson: no number of orders is surer than that", () => {
  const {size, sd} = demandOverride(book({shafts: 100, sd: 4}), "ash", until)!;
  expect([size, sd]).toEqual([undefined, 10]);
});

test("demandOverride(shafts, in a book too young to say) is the owner's number, Poisson; without it nothing", () => {
  const young = (said?: object) => demandOverride(book(said, "2025-11", [5, 6]), "ash", until);
  expect(young()).toBeUndefined();
  expect(young({growthPct: 5})).toBeUndefined();
  expect(young({shafts: 60, bigOrder: 7})).toMatchObject({
    mean: 60,
    known: 18,
    open: 11,
    overridden: ["shafts", "bigOrder"]
  });
  expect(young({shafts: 60})!.book).toBeUndefined();
  expect(young({shafts: 0})).toMatchObject({mean: 0, low: 0, high: 0});
});

test("demandOverride(growthPct) carries the level of the last month on with that growth, month by month", () => {
  const flat = Array(18).fill(10);
  const histories = orderBook("2024-07", flat, "2025-12-31", {demand: {ash: {growthPct: 20}}});
  const want = Array.from({length: 12}, (_, i) => 10 * 1.2 ** ((i + 1) / 12)).reduce((a, b) => a + b, 0);
  const {mean, overridden, book: says} = demandOverride(histories, "ash", until)!;
  expect(mean).toBeCloseTo(want, 6);
  expect(says!.mean).toBeCloseTo(120, 6);
  expect(overridden).toEqual(["growthPct"]);
});

test("demandOverride(growthPct 0 after years that grew by a fifth) stays at the last month's level, not at the mean of years", () => {
  const grew = Array.from({length: 48}, (_, i) => Math.round(40 * 1.2 ** (i / 12)));
  const histories = orderBook("2022-01", grew, "2025-12-31", {demand: {ash: {growthPct: 0}}});
  const level = 40 * 1.2 ** (47 / 12);
  const {mean, book: says} = demandOverride(histories, "ash", until)!;
  expect(Math.abs(mean / (12 * level) - 1)).toBeLessThan(0.03);
  expect(says!.mean).toBeGreaterThan(1.07 * mean);
  expect(says!.growthFraction).toBeCloseTo(0.2, 1);
});

test("demandOverride(the growth that the past has) is the same as saying nothing, where the past is sure of it", () => {
  const grew = Array.from({length: 48}, (_, i) => Math.round(400 * 1.2 ** (i / 12)));
  const histories = orderBook("2022-01", grew, "2025-12-31", {demand: {ash: {growthPct: 20}}});
  const {mean, book: says} = demandOverride(histories, "ash", until)!;
  expect(Math.abs(mean / says!.mean - 1)).toBeLessThan(0.005);
});

// If a quarter of the demand is not written down, thinning the demand by 3/4 must give the book's own distribution back.
test("demandOverride(lostPct 25) is the demand that, a quarter of it not written down, gives the book's", () => {
  const own = demandForecast(book(), "ash", until)!;
  const {mean, size, overridden} = demandOverride(book({lostPct: 25}), "ash", until)!;
  expect(overridden).toEqual(["lostPct"]);
  const written = thin(negativeBinomialPmf(size!, mean, 400), 0.75);
  const wanted = negativeBinomialPmf(own.size!, own.mean, 400);
  for (let k = 0; k <= 200; k++) expect(written[k]).toBeCloseTo(wanted[k]!, 10);
});

test("demandOverride(bigOrder) is certain, beside the rest", () => {
  const own = demandForecast(book(), "ash", until)!;
  const {known, mean, low, high, bigOrder} = demandOverride(book({bigOrder: 40}), "ash", until)!;
  expect([known, bigOrder, mean]).toEqual([own.open + 40, 40, own.mean]);
  expect({low, high}).toEqual(demandRange(own.mean, own.size));
});

test("demandOverride(shafts beside growth and losses) says which words had no effect", () => {
  const {mean, overridden, idle} = demandOverride(book({shafts: 80, growthPct: 9, lostPct: 5}), "ash", until)!;
  expect([mean, overridden, idle]).toEqual([80, ["shafts"], ["growthPct", "lostPct"]]);
});

test("shafts lost for want of one were wanted, and are no longer owed", () => {
  const histories = book();
  const lost = {...histories, orders: histories.orders.map((order, i) => (i === 3 ? {...order, lost: 2} : order))};
  const [before, after] = [histories, lost].map((one) => demandOverride(one, "ash", until)!);
  expect(after!.mean).toBe(before!.mean);
  expect([before!.lost, after!.lost, before!.known - after!.known]).toEqual([0, 2, 2]);
});
