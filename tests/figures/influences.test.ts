import {expect, test} from "vitest";
import {purchasePlan} from "../../lib/buying/purchasePlan.ts";
import {whatItHangsOn} from "../../lib/buying/whatItHangsOn.ts";
import {influences} from "../../lib/figures/influences.ts";
import {expectSound} from "./sound.ts";

const input = {
  finished: 2,
  pipeline: [{n: 5, alpha: 14, beta: 6}],
  demand: {mean: 20, size: 8},
  offers: [{supplier: "Low Fold Sawmill", alpha: 14, beta: 6, unitCost: 25, available: 60}],
  money: {price: 140, shortageCost: 20, leftoverValue: 10}
};
const plan = purchasePlan(input);

test("influences(rows) is sound; its table holds every row, widest input first", () => {
  const rows = whatItHangsOn({need: input}, plan.best);
  const figure = influences(rows, {species: "ash", planned: plan.best.squares});
  expectSound(figure);
  expect(figure.table.rows.length).toBe(rows.length);
  const widest = Math.max(...rows.map(({difference}) => Math.abs(difference)));
  const first = figure.table.rows.slice(0, 2).map(({difference}) => Math.abs(difference as number));
  expect(Math.max(...first)).toBe(widest);
});
