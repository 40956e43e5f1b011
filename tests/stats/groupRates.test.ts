import fc from "fast-check";
import {expect, test} from "vitest";
import {groupRates} from "../../lib/stats/groupRates.ts";

test("groupRates of fewer than two groups with trials has no answer", () => {
  expect(groupRates([])).toBeUndefined();
  expect(groupRates([{successes: 3, trials: 9}])).toBeUndefined();
  expect(
    groupRates([
      {successes: 3, trials: 9},
      {successes: 0, trials: 0}
    ])
  ).toBeUndefined();
});

test("groupRates of groups that are all or none has no answer, of such beside a mixed one it has", () => {
  const none = {successes: 0, trials: 20};
  expect(groupRates([none, {successes: 0, trials: 30}])).toBeUndefined();
  expect(groupRates([none, {successes: 9, trials: 9}])).toBeUndefined();
  expect(groupRates([none, {successes: 3, trials: 30}])![0]!.high).toBeLessThan(0.2);
});

test("groupRates gives a group without trials the rate of the others, with a wide interval", () => {
  const rates = groupRates([
    {successes: 20, trials: 100},
    {successes: 24, trials: 110},
    {successes: 0, trials: 0}
  ])!;
  expect(rates[2]!.mean).toBeGreaterThan(0.15);
  expect(rates[2]!.mean).toBeLessThan(0.35);
  expect(rates[2]!.high - rates[2]!.low).toBeGreaterThan(2 * (rates[0]!.high - rates[0]!.low));
});

const anyRows = fc.array(
  fc
    .record({trials: fc.integer({min: 1, max: 120}), share: fc.double({min: 0, max: 1, noNaN: true})})
    .map(({trials, share}) => ({trials, successes: Math.round(trials * share)})),
  {minLength: 2, maxLength: 5}
);

test("groupRates: means lie in their limits, limits widen with the level, order does not matter", () => {
  fc.assert(
    fc.property(anyRows, (rows) => {
      const rates = groupRates(rows);
      if (rates === undefined) {
        expect(rows.every(({successes, trials}) => successes === 0 || successes === trials)).toBe(true);
        return;
      }
      const wider = groupRates(rows, {level: 0.99})!;
      const turned = groupRates(rows.toReversed())!.toReversed();
      rates.forEach(({mean, low, high}, i) => {
        expect(low).toBeLessThanOrEqual(mean);
        expect(high).toBeGreaterThanOrEqual(mean);
        expect(wider[i]!.low).toBeLessThanOrEqual(low);
        expect(wider[i]!.high).toBeGreaterThanOrEqual(high);
        expect(turned[i]!.mean).toBeCloseTo(mean, 10);
      });
    }),
    {numRuns: 15}
  );
});

test("groupRates refuses more successes than trials and a level of 95", () => {
  const two = {successes: 1, trials: 2};
  expect(() => groupRates([two, {successes: 3, trials: 2}])).toThrow(
    new RangeError("groupRates: successes must be between 0 and trials (2), got 3.")
  );
  expect(() => groupRates([two, {successes: 0, trials: -1}])).toThrow(
    new RangeError("groupRates: trials must be 0 or more, got -1.")
  );
  expect(() => groupRates([two, two], {level: 95})).toThrow(RangeError);
});
