import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import {stockAhead as numbers, type StockInput} from "../../lib/buying/stockAhead.ts";
import {stockAhead} from "../../lib/figures/stockAhead.ts";
import {expectSound} from "./sound.ts";

const today = "2026-10-31";
const input: StockInput = {
  today,
  until: "2027-12-31",
  finished: 20,
  pipeline: [{n: 30, alpha: 12, beta: 6, readyWithin: (days) => Math.min(1, days / 150)}],
  demandBy: (day) => ({mean: (dayNumber(day) - dayNumber(today)) / 5, size: 10}),
  offers: [{supplier: "Low Fold Sawmill", alpha: 14, beta: 6, unitCost: 25}],
  readyOf: (_, days) => Math.min(1, Math.max(0, (days - 180) / 60)),
  timing: 0.3
};
const boughtOn = "2026-11-10";
const bought = {
  stock: numbers(input, {boughtOn, orders: [{supplier: "Low Fold Sawmill", squares: 80}]}),
  boughtOn,
  squares: 80
};

test("stockAhead(numbers) is sound with and without a purchase; its table holds the months", () => {
  const without = numbers(input);
  const alone = stockAhead(without, {species: "ash", today});
  const both = stockAhead(without, {species: "ash", today, bought});
  expectSound(alone);
  const {wide} = expectSound(both);
  expect(both.table.rows).toHaveLength(14);
  expect(both.table.rows[3]).toMatchObject({
    endsOn: "2027-02-28",
    netMean: without.months[3]!.netMean,
    boughtNet: bought.stock.months[3]!.netMean
  });
  expect(both.title).toBe(`Ash runs dry in ${without.short!.month} if nothing is bought`);
  expect(both.note).toContain(`below 90\u00a0% first in ${without.dry!.month}`);
  expect(wide.match(/nothing bought:/g)).toHaveLength(14);
  expect(wide.match(/with the purchase:/g)).toHaveLength(14);
  expect(wide).toContain(`dry: ${without.short!.month}`);
});

test("stockAhead says so when nothing runs dry", () => {
  const rich = numbers({...input, finished: 900});
  const figure = stockAhead(rich, {species: "ash", today});
  expectSound(figure);
  expect(figure.title).toBe("Ash lasts to the season's end without buying");
  expect(figure.note).toContain("stays at 90\u00a0% or more without buying");
});
