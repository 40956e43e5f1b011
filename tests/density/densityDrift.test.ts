import {expect, test} from "vitest";
import {densityDrift} from "../../lib/density/densityDrift.ts";

const lots = (supplier: string, means: readonly number[], species = "ash") =>
  means.map((meanKgM3, i) => ({
    species,
    supplier,
    lot: `${supplier}${i}`,
    boughtOn: `2025-${String(i + 1).padStart(2, "0")}-01`,
    squares: 30,
    meanKgM3,
    quarterKgM3: meanKgM3 - 10,
    threeQuarterKgM3: meanKgM3 + 10
  }));

test("densityDrift names the lot at which a supplier changed, and its level before and after", () => {
  const [row] = densityDrift(lots("Turned", [700, 702, 698, 701, 699, 660, 662, 658, 661, 659]));
  expect(row).toMatchObject({supplier: "Turned", lots: 10, fromLot: "Turned5", fromDay: "2025-06-01"});
  expect(row!.beforeKgM3).toBeCloseTo(700, 9);
  expect(row!.afterKgM3).toBeCloseTo(660, 9);
  // K is the greatest possible, 25: two blocks of five in either order, 2 · 5! · 5!/10! = 0.0079 of all orders.
  expect(row!.chance).toBeLessThan(0.016);
});

test("densityDrift adjusts for the suppliers looked at, and leaves out those of few lots", () => {
  const turned = lots("Turned", [700, 702, 698, 701, 699, 660, 662, 658, 661, 659]);
  const steady = lots("Steady", [700, 690, 705, 695, 701, 693, 699, 697, 702, 694]);
  const rows = densityDrift([...turned, ...steady, ...lots("Young", [700, 600, 700, 600])]);
  expect(rows.map(({supplier}) => supplier)).toEqual(["Turned", "Steady"]);
  expect(rows[0]!.chance).toBeCloseTo(2 * densityDrift(turned)[0]!.chance, 9);
  expect(rows[1]!.chance).toBeGreaterThan(0.2);
});
