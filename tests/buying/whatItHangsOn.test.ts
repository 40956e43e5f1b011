import {expect, test} from "vitest";
import {purchasePlan} from "../../lib/buying/purchasePlan.ts";
import {purchaseProfit, whatItHangsOn} from "../../lib/buying/whatItHangsOn.ts";

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

// The rule by hand: a trip of 100 for any purchase from the one supplier.
test("purchaseProfit is the outcome less the trip, and none for a purchase of nothing", () => {
  const at = (squares: number, tripCosts = {}) =>
    purchaseProfit({need, tripCosts}, {orders: [{supplier: "Only Yard", squares}]});
  expect(at(20, {"Only Yard": 100})).toBeCloseTo(at(20) - 100, 9);
  expect(at(0, {"Only Yard": 100})).toBeCloseTo(at(0), 9);
  expect(at(best.squares)).toBeCloseTo(best.profit, 9);
});
