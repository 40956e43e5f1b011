import fc from "fast-check";
import {expect, test} from "vitest";
import {rolledYield} from "../../lib/stats/rolledYield.ts";
import {shuffled} from "./arbitrary.ts";

const stage = fc
  .integer({min: 1, max: 60})
  .chain((decided) => fc.integer({min: 0, max: decided}).map((passed) => ({passed, decided})));
const stages = fc.array(stage, {minLength: 1, maxLength: 5});

/** 2·(ln L at the estimates − ln L at p) of one stage. */
function deviance(passed: number, decided: number, p: number): number {
  const term = (count: number, share: number, other: number) => (count === 0 ? 0 : 2 * count * Math.log(share / other));
  return term(passed, passed / decided, p) + term(decided - passed, 1 - passed / decided, 1 - p);
}

test("rolledYield([11 of 14, 9 of 11]) is the product, 99/154", () => {
  expect(
    rolledYield([
      {passed: 11, decided: 14},
      {passed: 9, decided: 11}
    ])!.fraction
  ).toBeCloseTo(99 / 154, 12);
});

// Looked for, not solved: of all pairs (p, R/p) the one of least deviance; at a limit it is 3.8415, the 95 % point of
// χ² with 1 df (table, from memory).
test("rolledYield's limits of two stages are where the least deviance reaches 3.84", () => {
  const two = [
    {passed: 11, decided: 14},
    {passed: 9, decided: 11}
  ] as const;
  const {low, high} = rolledYield(two)!;
  for (const limit of [low, high]) {
    let least = Infinity;
    for (let p = limit + 1e-4; p < 1; p += 1e-4) {
      least = Math.min(least, deviance(11, 14, p) + deviance(9, 11, limit / p));
    }
    expect(least).toBeCloseTo(3.8415, 3);
  }
});

test("rolledYield holds the product, widens with the level, stays in [0, 1], in any order of stages", () => {
  fc.assert(
    fc.property(stages, fc.nat(), (own, seed) => {
      const [narrow, wide] = [rolledYield(own, {level: 0.8})!, rolledYield(own, {level: 0.99})!];
      expect(narrow.fraction).toBeCloseTo(
        own.reduce((product, {passed, decided}) => (product * passed) / decided, 1),
        12
      );
      expect(wide.low).toBeGreaterThanOrEqual(0);
      expect(wide.low).toBeLessThanOrEqual(narrow.low + 1e-12);
      expect(narrow.low).toBeLessThanOrEqual(narrow.fraction + 1e-12);
      expect(narrow.high).toBeGreaterThanOrEqual(narrow.fraction - 1e-12);
      expect(wide.high).toBeGreaterThanOrEqual(narrow.high - 1e-12);
      expect(wide.high).toBeLessThanOrEqual(1);
      const again = rolledYield(shuffled(own, seed), {level: 0.8})!;
      expect(again.low).toBeCloseTo(narrow.low, 9);
      expect(again.high).toBeCloseTo(narrow.high, 9);
    })
  );
});

test("a stage where all passed moves the lower limit, not the product", () => {
  const without = rolledYield([{passed: 9, decided: 11}])!;
  const having = rolledYield([
    {passed: 9, decided: 11},
    {passed: 4, decided: 4}
  ])!;
  expect(having.fraction).toBe(without.fraction);
  expect(having.low).toBeLessThan(without.low - 0.01);
  expect(having.high).toBeCloseTo(without.high, 9);
});

test("rolledYield has no answer without stages or where nothing was decided", () => {
  expect(rolledYield([])).toBeUndefined();
  expect(
    rolledYield([
      {passed: 3, decided: 4},
      {passed: 0, decided: 0}
    ])
  ).toBeUndefined();
});

test("rolledYield refuses more passed than decided", () => {
  expect(() => rolledYield([{passed: 5, decided: 4}])).toThrow(
    "rolledYield: passed must be at most decided (4), got 5."
  );
});
