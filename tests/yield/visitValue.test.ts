import {expect, test} from "vitest";
import {expectedGain} from "../../lib/stats/expectedGain.ts";
import type {CostRank} from "../../lib/yield/costRank.ts";
import {visitValue} from "../../lib/yield/visitValue.ts";

const row = (supplier: string, inWindowCost: number, sd: number, lots = 8): CostRank => ({
  species: "ash",
  supplier,
  lots,
  inWindowCost,
  costError: inWindowCost * sd,
  chanceCheapest: 0.5,
  against: "another",
  worthEach: 10,
  worthLow: 9,
  worthHigh: 11,
  priceEach: 10
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
  expect(unsure.value).toBeCloseTo(300 * expectedGain(1, 5 / 3, 7), 8);
});

test("visitValue of a species with one known supplier, or of none, is nothing to compare", () => {
  expect(visitValue([row("Alone", 24, 0.1)], {ash: 300})).toEqual([]);
  expect(visitValue([row("A", 24, 0.1), row("B", 25, 0.1)], {}).map(({value}) => value)).toEqual([0, 0]);
  expect(() => visitValue([row("A", 24, 0.1)], {ash: -1})).toThrow("visitValue: shafts of ash must be 0 or more");
});
