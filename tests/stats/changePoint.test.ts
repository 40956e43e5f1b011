import {expect, test} from "vitest";
import {changePoint} from "../../lib/stats/changePoint.ts";

/** Every order of some values. */
function* allOrders(values: readonly number[]): Generator<number[]> {
  if (values.length === 0) yield [];
  for (const [i, value] of values.entries())
    for (const rest of allOrders(values.toSpliced(i, 1))) yield [value, ...rest];
}

/** Pettitt's K from its definition, pair by pair. */
function statistic(values: readonly number[]): number {
  const at = (t: number) => {
    let u = 0;
    for (let i = 0; i < t; i++) for (let j = t; j < values.length; j++) u += Math.sign(values[j]! - values[i]!);
    return Math.abs(u);
  };
  return Math.max(...values.map((_, t) => at(t)));
}

// By hand: of 1, 2, 3 before 7, 8, 9 every one of 9 pairs across the middle rises.
test("changePoint of three low and three high values is between them, with K = 9", () => {
  const change = changePoint([2, 1, 3, 8, 9, 7])!;
  expect(change).toMatchObject({before: 3, statistic: 9});
  const orders = [...allOrders([1, 2, 3, 7, 8, 9])];
  const exact = orders.filter((order) => statistic(order) >= 9).length / orders.length;
  expect(orders).toHaveLength(720);
  expect(change.chance).toBeCloseTo(exact, 1);
  expect(Math.abs(change.chance - exact)).toBeLessThan(0.02);
});

test.each([[[5, 3, 4, 1, 6, 2]], [[1, 2, 3, 4, 5, 6]], [[3, 3, 1, 1, 2, 2]]])(
  "changePoint(%j) has the K of the definition and near the chance of all 720 orders",
  (values) => {
    const change = changePoint(values)!;
    expect(change.statistic).toBe(statistic(values));
    const orders = [...allOrders(values)];
    const exact = orders.filter((order) => statistic(order) >= change.statistic).length / orders.length;
    expect(Math.abs(change.chance - exact)).toBeLessThan(0.03);
  }
);

test("changePoint gives the same chance again, and says nothing of few values", () => {
  expect(changePoint([1, 2, 3, 9, 8])).toEqual(changePoint([1, 2, 3, 9, 8]));
  expect(changePoint([1, 2, 9, 8])).toBeUndefined();
  expect(() => changePoint([1, 2, Number.NaN, 4, 5])).toThrow("changePoint: values must be finite");
});
