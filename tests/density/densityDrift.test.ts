import {expect, test} from "vitest";
import {densityDrift, tooYoungForDrift} from "../../lib/density/densityDrift.ts";

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
  const all = [...turned, ...steady, ...lots("Young", [700, 600, 700, 600])];
  const rows = densityDrift(all);
  expect(rows.map(({supplier}) => supplier)).toEqual(["Turned", "Steady"]);
  expect(rows[0]!.chance).toBeCloseTo(2 * densityDrift(turned)[0]!.chance, 9);
  expect(rows[1]!.chance).toBeGreaterThan(0.2);
  expect(tooYoungForDrift(all)).toEqual([{species: "ash", supplier: "Young", lots: 4}]);
});

// By hand, as all orders: two halves of four, either way up: 2 · 4! · 4!/8! = 1/35. Alone it can be called (0.029); of two such suppliers neither
// can (2/35 = 0.057), however clear. With one of ten (2 · 5! · 5!/10! = 1/126) beside it, it would still be one of two.
const clear = [700, 701, 702, 703, 650, 651, 652, 653];
const clearer = [700, 701, 702, 703, 704, 650, 651, 652, 653, 654];
test("densityDrift calls the clearest change of eight lots alone, and leaves two such suppliers out as too young", () => {
  expect(densityDrift(lots("A", clear))[0]!.chance).toBeCloseTo(1 / 35, 12);
  expect(tooYoungForDrift(lots("A", clear))).toEqual([]);
  const two = [...lots("A", clear), ...lots("B", clear)];
  expect(densityDrift(two)).toEqual([]);
  expect(tooYoungForDrift(two)).toEqual([
    {species: "ash", supplier: "A", lots: 8},
    {species: "ash", supplier: "B", lots: 8}
  ]);
  const mixed = [...lots("A", clear), ...lots("Old", clearer)];
  expect(densityDrift(mixed).map(({supplier, chance}) => [supplier, chance.toFixed(6)])).toEqual([
    ["Old", (1 / 126).toFixed(6)]
  ]);
});

/** The share of all orders of 1 to k that split it as clearly as one half above the other: the greatest |Σ sgn| over all places. */
function countedShare(k: number): number {
  const most = Math.floor(k ** 2 / 4);
  let [all, clearest] = [0, 0];
  const place = (order: number[]): void => {
    if (order.length === k) {
      all++;
      const isClear = order.some((_, t) => {
        const u = order
          .slice(0, t)
          .reduce((sum, a) => sum + order.slice(t).reduce((s, b) => s + Math.sign(b - a), 0), 0);
        return Math.abs(u) === most;
      });
      if (isClear) clearest++;
      return;
    }
    for (let next = 1; next <= k; next++) if (!order.includes(next)) place([...order, next]);
  };
  place([]);
  return clearest / all;
}

test("the least chance of seven and of eight lots is that counted from all their orders", () => {
  // Seven lots can never be called alone; 0.1 is too much.
  expect(countedShare(7)).toBeCloseTo(0.1, 12);
  expect(tooYoungForDrift(lots("A", clear.slice(0, 7)))).toHaveLength(1);
  expect(densityDrift(lots("A", clear))[0]!.chance).toBeCloseTo(countedShare(8), 12);
  // Nine, an odd number: 4 · 4! · 5! − 2 · 4! · 4! of 9! orders.
  expect(densityDrift(lots("A", [...clear, 649]))[0]!.chance).toBeCloseTo(10368 / 362880, 12);
});
