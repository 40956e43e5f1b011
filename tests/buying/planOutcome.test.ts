import fc from "fast-check";
import {expect, test} from "vitest";
import {demandCurve, planOutcome} from "../../lib/buying/planOutcome.ts";

const money = {price: 100, shortageCost: 20, leftoverValue: 10};

test("planOutcome(two shafts, demand 1 or 3 with even chance) is worked by hand", () => {
  // D = 1: sell 1, one left over, 100 + 10; D = 3: sell 2, one short, 200 − 20. Mean of both less the cost of 30.
  const demand = demandCurve([0, 0.5, 0, 0.5, 0], 2);
  const {profit, service, fillRate, expectedShort, expectedLeftover} = planOutcome([0, 0, 1], demand, money, 30);
  expect(profit).toBeCloseTo((110 + 180) / 2 - 30, 10);
  expect(service).toBeCloseTo(0.5, 12);
  expect(fillRate).toBeCloseTo(1.5 / 2, 12);
  expect(expectedShort).toBeCloseTo(0.5, 12);
  expect(expectedLeftover).toBeCloseTo(0.5, 12);
});

test("planOutcome: sold + short = demand and sold + left over = supply, on average", () => {
  const pmf = fc
    .array(fc.integer({min: 0, max: 9}), {minLength: 1, maxLength: 12})
    .filter((list) => list.some((n) => n > 0));
  fc.assert(
    fc.property(pmf, pmf, (a, b) => {
      const normal = (list: number[]) => list.map((n) => n / list.reduce((x, y) => x + y, 0));
      const mean = (list: number[]) => list.reduce((sum, p, k) => sum + p * k, 0);
      const [supply, wanted] = [normal(a), normal(b)];
      const padded = [...wanted, ...Array<number>(12).fill(0)];
      const out = planOutcome(supply, demandCurve(padded, mean(wanted)), money, 0);
      const sold = mean(wanted) - out.expectedShort;
      const enumerated = supply.reduce(
        (sum, p, s) => sum + wanted.reduce((part, q, d) => part + p * q * Math.min(s, d), 0),
        0
      );
      expect(sold).toBeCloseTo(enumerated, 10);
      expect(out.expectedLeftover).toBeCloseTo(mean(supply) - enumerated, 10);
    })
  );
});

test("planOutcome(supply longer than the demand curve) is refused", () => {
  expect(() => planOutcome([0, 0, 0, 1], demandCurve([1], 0), money, 0)).toThrow(
    "planOutcome: supply must be no longer than the demand curve (1), got 4."
  );
});
