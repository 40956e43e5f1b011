import fc from "fast-check";
import {expect, test} from "vitest";
import {mantelHaenszel, mantelHaenszelEstimates} from "../../lib/stats/mantelHaenszel.ts";

const table = fc
  .tuple(fc.nat(12), fc.nat(12), fc.double({min: 0, max: 1, noNaN: true}), fc.double({min: 0, max: 1, noNaN: true}))
  .map(([n, otherN, p, q]) => ({n, otherN, events: Math.round(p * n), otherEvents: Math.round(q * otherN)}));
const tables = fc.array(table, {minLength: 1, maxLength: 8});

// By hand: 3 of 10 against 1 of 10. Sato's P = (100·1 − 100·3 + 0)/400 = −0.5, Q = (3·9 + 1·7)/40 = 0.85; (0.2·−0.5 + 0.85)/25 = 0.03.
// Greenland & Robins: (100·4 − 3·20)/400 ÷ (1.5·0.5) = 0.85/0.75, which is 1/3 − 1/10 + 1/1 − 1/10 = 1.1333.
test("mantelHaenszel of one table is the plain difference and ratio, variances by hand", () => {
  const got = mantelHaenszel([{events: 3, n: 10, otherEvents: 1, otherN: 10}])!;
  expect(got.difference).toBeCloseTo(0.2, 12);
  expect(got.ratio).toBeCloseTo(3, 12);
  expect(got.odds).toBeCloseTo((3 * 9) / (1 * 7), 12);
  expect(got.differenceVariance).toBeCloseTo(0.03, 12);
  expect(got.logRatioVariance).toBeCloseTo(1 / 3 - 1 / 10 + 1 - 1 / 10, 12);
  // Woolf's 1/a + 1/b + 1/c + 1/d, to which Robins, Breslow & Greenland comes down in one table.
  expect(got.logOddsVariance).toBeCloseTo(1 / 3 + 1 / 7 + 1 / 1 + 1 / 9, 12);
});

test("mantelHaenszel: the order of the strata does not matter, and those with one group change nothing", () => {
  fc.assert(
    fc.property(tables, fc.nat(9), (strata, n) => {
      const got = mantelHaenszel(strata);
      const lone = {events: n, n, otherEvents: 0, otherN: 0};
      const again = mantelHaenszel([lone, ...strata.toReversed()]);
      expect(Object.keys(again ?? {})).toEqual(Object.keys(got ?? {}));
      for (const [key, value] of Object.entries(got ?? {})) expect(again![key as "strata"]).toBeCloseTo(value, 9);
    })
  );
});

test("mantelHaenszel: groups exchanged, the difference turns its sign and ratios are turned over; no variance is negative", () => {
  fc.assert(
    fc.property(tables, (strata) => {
      const got = mantelHaenszel(strata);
      const turned = mantelHaenszel(
        strata.map(({events, n, otherEvents, otherN}) => ({
          events: otherEvents,
          n: otherN,
          otherEvents: events,
          otherN: n
        }))
      );
      if (!got || !turned) {
        expect(turned).toEqual(got);
        return;
      }
      expect(turned.difference).toBeCloseTo(-got.difference, 12);
      expect(turned.differenceVariance).toBeCloseTo(got.differenceVariance, 12);
      expect(got.differenceVariance).toBeGreaterThanOrEqual(-1e-12);
      for (const key of ["ratio", "odds"] as const)
        if (got[key] && turned[key]) expect(turned[key] * got[key]).toBeCloseTo(1, 9);
      for (const key of ["logRatioVariance", "logOddsVariance"] as const)
        expect(turned[key] ?? 0).toBeCloseTo(got[key] ?? 0, 9);
    })
  );
});

test("mantelHaenszel: what is common to a stratum falls out", () => {
  // Twice as often in each of two strata of unlike rates and unlike mixes: taken together 22 of 30 against 15 of 110 would be five times.
  const strata = [
    {events: 20, n: 20, otherEvents: 5, otherN: 10},
    {events: 2, n: 10, otherEvents: 10, otherN: 100}
  ];
  expect(mantelHaenszel(strata)!.ratio).toBeCloseTo(2, 12);
});

test("mantelHaenszel without a stratum of both groups, without events, and of what are no counts", () => {
  expect(mantelHaenszel([])).toBeUndefined();
  expect(mantelHaenszel([{events: 1, n: 3, otherEvents: 0, otherN: 0}])).toBeUndefined();
  const none = mantelHaenszel([{events: 0, n: 3, otherEvents: 0, otherN: 4}])!;
  expect(none).toEqual({strata: 1, difference: 0, differenceVariance: 0});
  expect(() => mantelHaenszel([{events: 4, n: 3, otherEvents: 0, otherN: 1}])).toThrow(
    "mantelHaenszel: events must be at most n (3), got 4."
  );
  expect(() => mantelHaenszel([{events: 0, n: 1.5, otherEvents: 0, otherN: 1}])).toThrow(RangeError);
});

test("mantelHaenszelEstimates are those of mantelHaenszel; none without a stratum that has both groups", () => {
  fc.assert(
    fc.property(tables, (strata) => {
      const {difference, ratio} = mantelHaenszel(strata) ?? {};
      const got = mantelHaenszelEstimates(strata);
      expect([got?.difference, got?.ratio]).toEqual([difference, ratio]);
    })
  );
  expect(mantelHaenszelEstimates([{events: 1, n: 2, otherEvents: 0, otherN: 0}])).toBeUndefined();
});
