import {JSDOM} from "jsdom";
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
  expect(figure.title).toBe(`Profit is flat from ${band.from} to ${band.to} squares`);
  expect(figure.alt).toContain(`with ${best.squares}, `);
  expect(figure.alt).toContain(`from ${band.from} to ${band.to} squares`);
  const row = figure.table.rows.find(({squares}) => squares === best.squares)!;
  expect(row.profit).toBe(best.profit);
});

test("profitCurve(plan) tells the profit of each row of its table at a mark of its own", () => {
  const figure = profitCurve(plan, {species: "ash", currency: "£", season: "until 2028-05-31"});
  const {document} = new JSDOM(expectSound(figure).wide).window;
  const told = [...document.querySelectorAll("title")].map(({textContent}) => Number(/^\d+/.exec(textContent!)![0]));
  expect(told.toSorted((a, b) => a - b)).toEqual(figure.table.rows.map(({squares}) => squares));
  expect(told).toContain(plan.forService);
});

test("profitCurve(a plan to buy none) says so; one in which one number is best, which", () => {
  const one = {species: "ash", currency: "£", season: "until 2028-05-31"};
  const none = purchasePlan({...input, finished: 60});
  expect(profitCurve(none, one).title).toBe("Buying no ash serves best");
  const sharp = {...plan, band: {from: plan.best.squares, to: plan.best.squares}};
  expect(profitCurve(sharp, one).title).toBe(`Profit is highest with ${plan.best.squares} squares`);
});
