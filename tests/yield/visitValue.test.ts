import {expect, test} from "vitest";
import {expectedGain} from "../../lib/stats/expectedGain.ts";
import type {ShaftCost} from "../../lib/yield/shaftCost.ts";
import {visitValue} from "../../lib/yield/visitValue.ts";

const row = (supplier: string, cost: number, sd: number, lots = 8): ShaftCost => ({
  species: "ash",
  supplier,
  lots,
  squares: 200,
  squareCost: cost / 2,
  carriageEach: 0,
  undecidedFraction: 0,
  inWindowFraction: 0.5,
  inWindowCost: cost,
  inWindowLog: {estimate: Math.log(cost), variance: sd ** 2, clusters: lots}
});

test("visitValue: most is learned where a cost is little known and near the cheapest; nothing where nothing is unknown", () => {
  const rows = visitValue(
    [row("Cheap", 24, 0.05), row("Near, unsure", 25, 0.2), row("Far, unsure", 40, 0.2), row("Near, known", 25, 0)],
    {ash: 300}
  );
  expect(rows[0]!.supplier).toBe("Near, unsure");
  expect(rows.find(({supplier}) => supplier === "Near, known")!.value).toBe(0);
  const unsure = rows[0]!;
  expect(unsure.costError).toBeCloseTo(25 * 0.2, 10);
  expect(unsure.moves).toBeCloseTo(5 / Math.sqrt(9), 10);
  expect(unsure.value).toBeCloseTo(300 * expectedGain(1, 5 / 3), 8);
});

test("visitValue of a species with one known supplier, or of none, is nothing to compare", () => {
  expect(visitValue([row("Alone", 24, 0.1)], {ash: 300})).toEqual([]);
  expect(visitValue([row("A", 24, 0.1), row("B", 25, 0.1)], {}).map(({value}) => value)).toEqual([0, 0]);
  expect(() => visitValue([row("A", 24, 0.1)], {ash: -1})).toThrow("visitValue: shafts of ash must be 0 or more");
});
