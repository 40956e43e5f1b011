import {expect, test} from "vitest";
import {seasonPlan} from "../../../lib/buying/seasonPlan.ts";
import {type BookAsOf, bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {planSeason} from "../../../scripts/season/planSeason.ts";
import {texts} from "../../book/smallBook.ts";
import {purchaseProfit} from "../../buying/purchaseProfit.ts";
import {folderOf} from "../run.ts";

function bookOf(folder: string): BookAsOf {
  const found = readBook(folder);
  return bookAsOf({...found, book: found.book!});
}

const sample = bookOf("sample-data");
const season = planSeason(sample);
const plan = season.plan!;

test("planSeason(sample book): species share one purchase, whose profit is theirs less each trip once", () => {
  expect(season.species.map(({species}) => species)).toEqual(["ash", "maple"]);
  const profits = plan.purchases.map(({profit}) => profit).reduce((a, b) => a + b, 0);
  expect(plan.profit).toBeCloseTo(profits - plan.tripCost, 6);
  const visited = new Set(season.species.flatMap((one) => one.plan.best.orders.map(({supplier}) => supplier)));
  expect([...visited].sort()).toEqual(plan.visits);
});

test("planSeason(sample book): alone, a species pays only the trips that the other does not pay for", () => {
  for (const one of season.species) {
    const others = season.species.filter((other) => other !== one).flatMap((other) => other.plan.best.orders);
    expect(one.alone.visitedAnyway!.toSorted()).toEqual([...new Set(others.map(({supplier}) => supplier))].sort());
    expect(purchaseProfit(one.alone, one.plan.best)).toBeCloseTo(one.plan.best.profit, 6);
    expect(Math.max(...one.plan.curve.map(({profit}) => profit))).toBeLessThanOrEqual(one.plan.best.profit + 1e-6);
  }
});

// The sample's truth.json: Tolverby Saws lost twice as much at two stages from May 2026 on.
test("planSeason(sample book): the supplier that got worse is rated by what passes now, and no other", () => {
  for (const {stock} of season.species)
    for (const {supplier, latelyFactor} of stock.offers)
      if (supplier === "Tolverby Saws") expect(latelyFactor).toBeLessThan(1);
      else expect(latelyFactor).toBe(1);
});

test("planSeason keeps to budget and trips of workshop.json, and then earns less", () => {
  const settings = {...sample.book.settings, buying: {serviceGoal: 0.9, budget: 9000, trips: 1}};
  const bound = planSeason({histories: {...sample.histories, settings}});
  expect(bound.plan!.cost).toBeLessThanOrEqual(9000);
  expect(bound.plan!.visits).toHaveLength(1);
  expect(bound.plan!.profit).toBeLessThan(plan.profit);
  expect(seasonPlan(bound.input!).profit).toBeCloseTo(bound.plan!.profit, 9);
});

test("planSeason(a book just begun) says why there is no number, species by species", () => {
  const young = planSeason(bookOf(folderOf(texts({events: []}))));
  expect(young.species).toEqual([]);
  expect(young.plan).toBeUndefined();
  expect(young.missing[0]!.why).toContain("has become a finished shaft yet");
});
