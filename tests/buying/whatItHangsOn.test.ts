import {expect, test} from "vitest";
import {changedNeed} from "../../lib/buying/changedNeed.ts";
import {purchasePlan} from "../../lib/buying/purchasePlan.ts";
import {whatItHangsOn} from "../../lib/buying/whatItHangsOn.ts";
import {purchaseProfit} from "./purchaseProfit.ts";

const need = {
  finished: 3,
  pipeline: [],
  demand: {mean: 30, size: 6},
  offers: [{supplier: "Only Yard", alpha: 6, beta: 5, unitCost: 28, available: 120}],
  money: {price: 140, shortageCost: 20, leftoverValue: 10}
};
const {best} = purchasePlan(need);
const rows = whatItHangsOn({need}, best);

test("whatItHangsOn: more demand, a dearer shaft and a cheaper square ask for more squares, and the other way round", () => {
  const change = (name: string, which: string) =>
    rows.find((row) => row.input === name && row.change === which)!.difference;
  expect(change("demand", "a tenth more")).toBeGreaterThan(0);
  expect(change("demand", "a tenth less")).toBeLessThan(0);
  expect(change("price of a shaft", "a tenth more")).toBeGreaterThanOrEqual(0);
  expect(change("cost of a square", "a tenth less")).toBeGreaterThan(0);
  expect(change("cost of a square", "a tenth more")).toBeLessThan(0);
});

test("whatItHangsOn: each row is the plan made anew with that input, and nothing is gained by keeping the old one", () => {
  const anew = purchasePlan({...need, demand: {mean: 33, size: 6}}).best;
  const row = rows.find(({input: name, change}) => name === "demand" && change === "a tenth more")!;
  expect(row.squares).toBe(anew.squares);
  expect(row.profit).toBeCloseTo(anew.profit, 8);
  for (const {regret} of rows) expect(regret).toBeGreaterThanOrEqual(0);
});

test("whatItHangsOn: a change that makes a leftover worth more than it costs is left out, the others stay", () => {
  // A usable shaft costs 28 · 11/6 = 51.33: a leftover of 48 may be a tenth less, not a tenth more, and squares not a tenth cheaper.
  const near = {...need, money: {...need.money, leftoverValue: 48}};
  const rows = whatItHangsOn({need: near}, purchasePlan(near).best);
  const changes = (name: string) => rows.filter((row) => row.input === name).map(({change}) => change);
  expect(changes("value of a leftover")).toEqual(["a tenth less"]);
  expect(changes("cost of a square")).toEqual(["a tenth more"]);
  expect(changes("demand")).toEqual(["a tenth less", "a tenth more"]);
});

test("whatItHangsOn: what sticking to the purchase misses, its trip paid where nobody else pays for it", () => {
  const tripCosts = {"Only Yard": 100};
  for (const visitedAnyway of [[], ["Only Yard"]]) {
    const limits = {tripCosts, visitedAnyway};
    const changed = {...limits, need: changedNeed(need, {shaftPrice: 0.9})};
    const row = whatItHangsOn({...limits, need}, best).find(
      ({input: name, change}) => name === "price of a shaft" && change === "a tenth less"
    )!;
    const missed = row.profit - purchaseProfit(changed, best);
    expect(missed).toBeGreaterThan(1e-6);
    expect(row.regret).toBeCloseTo(missed, 8);
    expect(purchaseProfit(changed, best)).toBeCloseTo(
      purchaseProfit({need: changed.need}, best) - (visitedAnyway.length > 0 ? 0 : 100),
      8
    );
  }
});
