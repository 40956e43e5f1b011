import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import fc from "fast-check";
import {expect, test} from "vitest";
import {chanceLowest} from "../../lib/stats/chanceLowest.ts";

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

// Closed form: the difference of two independent bell curves is one, P(X < Y) = Φ((μy − μx)/√(σx² + σy²)); any textbook.
test("chanceLowest of two bell curves is the closed form", () => {
  fc.assert(
    fc.property(
      fc.double({min: -3, max: 3, noNaN: true}),
      fc.double({min: 0.2, max: 3, noNaN: true}),
      fc.double({min: 0.2, max: 3, noNaN: true}),
      (gap, a, b) => {
        const [first] = chanceLowest([
          {estimate: 0, sd: a},
          {estimate: gap, sd: b}
        ]);
        expect(first).toBeCloseTo(normalCdf(gap / Math.hypot(a, b), 0, 1), 3);
      }
    )
  );
});

// Python 3.11, statistics.NormalDist, Simpson's rule on 400001 points from −14 to 14 of pdf · product of (1 − cdf): N(0, 1), N(0.5, 2), N(−0.3, 0.5).
test("chanceLowest of three bell curves agrees with Simpson's rule in Python", () => {
  const chances = chanceLowest([
    {estimate: 0, sd: 1},
    {estimate: 0.5, sd: 2},
    {estimate: -0.3, sd: 0.5}
  ]);
  [0.292573976, 0.297501026, 0.409924998].forEach((value, i) => {
    expect(chances[i]).toBeCloseTo(value, 3);
  });
});

test("chanceLowest of like numbers is shared, of few degrees of freedom too", () => {
  for (const freedom of [undefined, 3]) {
    const like = {estimate: 5, sd: 2, ...(freedom !== undefined && {freedom})};
    for (const chance of chanceLowest([like, like, like, like])) expect(chance).toBeCloseTo(1 / 4, 9);
  }
  expect(
    chanceLowest([
      {estimate: 1, sd: 0},
      {estimate: 1, sd: 0},
      {estimate: 2, sd: 0}
    ])
  ).toEqual([0.5, 0.5, 0]);
});

test("chanceLowest adds up to 1, and fewer degrees of freedom leave more to the others", () => {
  const values = [
    {estimate: 0, sd: 1},
    {estimate: 2, sd: 1}
  ];
  expect(sum(chanceLowest(values))).toBeCloseTo(1, 12);
  const [, sure] = chanceLowest(values);
  const [, loose] = chanceLowest(values.map((value) => ({...value, freedom: 3})));
  expect(loose!).toBeGreaterThan(sure!);
  expect(chanceLowest([{estimate: 3, sd: 1}])).toEqual([1]);
});

test("chanceLowest refuses what is no estimate", () => {
  expect(() => chanceLowest([{estimate: Number.NaN, sd: 1}])).toThrow("chanceLowest: estimate must be finite");
  expect(() => chanceLowest([{estimate: 1, sd: -1}])).toThrow("chanceLowest: sd must be 0 or more");
});
