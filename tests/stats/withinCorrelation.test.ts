import fc from "fast-check";
import {expect, test} from "vitest";
import type {Rate} from "../../lib/stats/betaBinomial.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {withinCorrelation} from "../../lib/stats/withinCorrelation.ts";

const lots = (...rates: [number, number][]): Rate[] => rates.map(([successes, trials]) => ({successes, trials}));

// By hand: 4 and 16 of 20, p = ½: 2·36/(20·¼·(1 + 19ρ)) = 1 gives 1 + 19ρ = 14.4.
test("withinCorrelation of two lots, worked by hand", () => {
  expect(withinCorrelation([lots([4, 20], [16, 20])])).toBeCloseTo(13.4 / 19, 10);
});

// The same twice, about other rates of their own: the suppliers' difference adds nothing. 2 and 8 of 10 about ½, and 1 and 3 of 10 about 0.2:
// [2·9/2.5 + 2·1/1.6]/(1 + 9ρ) = 2.
test("withinCorrelation takes each group about its own rate", () => {
  const apart = withinCorrelation([lots([2, 10], [8, 10]), lots([1, 10], [3, 10])])!;
  expect(apart).toBeCloseTo(((7.2 + 1.25) / 2 - 1) / 9, 10);
  expect(withinCorrelation([lots([2, 10], [2, 10]), lots([9, 10], [9, 10])])).toBe(0);
});

test("withinCorrelation is 1 where lots are all or none, undefined where there is nothing to see", () => {
  expect(withinCorrelation([lots([0, 10], [10, 10], [10, 10], [0, 10])])).toBe(1);
  expect(withinCorrelation([])).toBeUndefined();
  expect(withinCorrelation([lots([3, 10]), lots([10, 10], [10, 10]), lots([0, 5], [0, 0])])).toBeUndefined();
});

// 4000 lots of 20 with chances from Beta(8, 2) (ρ = 1/11) or Beta(2, 2) (ρ = 1/5): the SE of the estimate is below ρ·√(2/4000) + 1/(19·√2000) < 0.005.
test.each([
  [8, 2],
  [2, 2]
])("withinCorrelation finds the correlation that lots were drawn with, Beta(%i, %i)", (a, b) => {
  const random = randomStream(5);
  const gammaOf = (shape: number) => Array.from({length: shape}, () => -Math.log(1 - random())).reduce((x, y) => x + y);
  const drawn = Array.from({length: 4000}, (): Rate => {
    const [x, y] = [gammaOf(a), gammaOf(b)];
    const successes = Array.from({length: 20}, () => random() < x / (x + y)).filter(Boolean).length;
    return {successes, trials: 20};
  });
  expect(Math.abs(withinCorrelation([drawn])! - 1 / (a + b + 1))).toBeLessThan(0.02);
});

test("withinCorrelation lies between 0 and 1, whatever the order", () => {
  const anyLots = fc.array(
    fc
      .tuple(fc.integer({min: 0, max: 12}), fc.integer({min: 12, max: 30}))
      .map(([successes, trials]) => ({successes, trials})),
    {maxLength: 6}
  );
  fc.assert(
    fc.property(fc.array(anyLots, {maxLength: 4}), (groups) => {
      const rho = withinCorrelation(groups);
      if (rho === undefined) return;
      expect(rho).toBeGreaterThanOrEqual(0);
      expect(rho).toBeLessThanOrEqual(1);
      expect(withinCorrelation(groups.toReversed().map((group) => group.toReversed()))).toBeCloseTo(rho, 9);
    })
  );
});

test("withinCorrelation refuses more successes than trials", () => {
  expect(() => withinCorrelation([lots([3, 2])])).toThrow(
    new RangeError("withinCorrelation: successes must be between 0 and trials (2), got 3.")
  );
});
