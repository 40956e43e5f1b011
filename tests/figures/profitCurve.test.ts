import {expect, test} from "vitest";
import {purchasePlan} from "../../lib/buying/purchasePlan.ts";
import {profitCurve} from "../../lib/figures/profitCurve.ts";
import {expectSound} from "./sound.ts";

const input = {
  finished: 2,
  pipeline: [{n: 5, alpha: 14, beta: 6}],
  demand: {mean: 20, size: 8},
  offers: [{supplier: "Low Fold Sawmill", alpha: 14, beta: 6, unitCost: 25, available: 60}],
  money: {price: 140, shortageCost: 20, leftoverValue: 10}
};
const plan = purchasePlan(input);

test("profitCurve(plan) is sound; best number and band stand in title, alt and table", () => {
  const figure = profitCurve(plan, {species: "ash", currency: "£", season: "until 2028-05-31"});
  expectSound(figure);
  const {best, band} = plan;
  expect(figure.title).toContain(String(best.squares));
  expect(figure.alt).toContain(`from ${band.from} to ${band.to} squares`);
  const row = figure.table.rows.find(({squares}) => squares === best.squares)!;
  expect(row.profit).toBe(best.profit);
});
