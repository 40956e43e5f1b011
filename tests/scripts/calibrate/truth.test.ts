import {expect, test} from "vitest";
import {scenarios} from "../../../scripts/calibrate/scenarios.ts";
import {meanOrders, overLuck, stageChances, type Truth, trueShares} from "../../../scripts/calibrate/truth.ts";

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

test("overLuck integrates a normal law: mean 0, variance and fourth moment as they must be, E exp(u) = exp(s²/2)", () => {
  expect(overLuck(0.4, (u) => u)).toBeCloseTo(0, 12);
  expect(overLuck(0.4, (u) => u ** 2)).toBeCloseTo(0.16, 6);
  expect(overLuck(0.4, (u) => u ** 4)).toBeCloseTo(3 * 0.4 ** 4, 6);
  expect(overLuck(0.4, Math.exp)).toBeCloseTo(Math.exp(0.08), 6);
  expect(overLuck(0, (u) => 5 + u)).toBe(5);
});

// Odds of 1/9 times e is e/9: a chance of e/(9 + e).
test("stageChances moves the odds of a discard by shift and luck together", () => {
  const truth = scenarios["lots differ"]!;
  const supplier = {...truth.suppliers[0]!, shift: 0.4};
  const {discarded, diverted, passed} = stageChances(truth, supplier, 0, {u: 0.6, month: 0});
  expect(discarded).toBeCloseTo(Math.E / (9 + Math.E), 12);
  expect(discarded + diverted + passed).toBeCloseTo(1, 12);
});

// By hand: one supplier, lots alike, half discarded and a tenth of the rest diverted at each of two stages: 0.45 pass each, 0.2025 in all.
test("trueShares of two plain stages, worked by hand", () => {
  const stage = {days: 10, discarded: 0.5, diverted: 0.1, defects: {knot: 0.75, warp: 0.25}};
  const one = {...scenarios["lots alike"]!.suppliers[0]!, shift: 0};
  const truth: Truth = {...scenarios["lots alike"]!, stages: [stage, stage], suppliers: [one]};
  const {reached, discarded, diverted} = trueShares(truth);
  expect(reached).toEqual([1, 0.45, 0.45 * 0.45]);
  expect(discarded[1]!.knot).toBeCloseTo(0.45 * 0.5 * 0.75, 12);
  expect(diverted[0]).toBeCloseTo(0.05, 12);
});

test.each(Object.entries(scenarios))(
  "trueShares of %s: finished, discarded and diverted are all there is",
  (_name, truth) => {
    const {reached, discarded, diverted} = trueShares(truth, {month: truth.months});
    const out = sum(discarded.flatMap((stage) => Object.values(stage))) + sum(diverted);
    expect(reached.at(-1)! + out).toBeCloseTo(1, 9);
    for (const {defects} of truth.stages) expect(sum(Object.values(defects))).toBeCloseTo(1, 12);
    expect(sum(truth.suppliers.map(({share}) => share))).toBeCloseTo(1, 12);
  }
);

test("meanOrders swings about the mean of the year and grows by the rate", () => {
  const truth = {...scenarios.small!, demand: {perMonth: 10, growth: 0.2, season: 0.25, size: 9}};
  expect(meanOrders(truth, 0)).toBe(12.5);
  expect(meanOrders(truth, 12)).toBeCloseTo(15, 12);
  expect(meanOrders({...truth, demand: {...truth.demand, growth: 0}}, 6)).toBeCloseTo(7.5, 12);
});
