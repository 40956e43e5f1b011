import {expect, test} from "vitest";
import {middleOf, unitJumps} from "../../lib/book/unitJumps.ts";

const lengths = (...sizes: (number | undefined)[]) => sizes.map((lengthMm, index) => ({index, lengthMm}));
const found = (rows: ReturnType<typeof lengths>) =>
  [...unitJumps(rows, ["lengthMm"])].map(([{index}, {mend}]) => [index, /it would be (\S+) mm/.exec(mend)?.[1]]);

// 59 in · 25.4 = 1498.6 mm; 150 cm, 1.5 m and 4.92 ft are all 1500 mm (4.92 · 304.8 = 1499.6): exact inch and foot.
test.each([
  [59, "inches", "1499"],
  [150, "centimetres", "1500"],
  [1.5, "metres", "1500"],
  [4.92, "feet", "1500"]
])("unitJumps finds %s among lengths around 1500 mm, meant as %s", (size, unit, mm) => {
  const rows = lengths(1502, 1498, size, 1500, 1503);
  expect(found(rows)).toEqual([[2, mm]]);
  expect([...unitJumps(rows, ["lengthMm"]).values()][0]).toMatchObject({
    key: "lengthMm",
    wanted: "in the unit of the others, which lie around 1500 mm",
    mend: expect.stringContaining(`Taken for ${unit}`)
  });
});

test.each([
  ["sizes that only differ", [1502, 900, 400, 1500]],
  ["a size far off that no unit explains", [1502, 1498, 300, 1500]],
  ["two sizes, which have no middle", [1500, 59]],
  ["sizes that are not known", [undefined, 1500, undefined, 1502, 1503]],
  ["no size at all", []]
])("unitJumps leaves %s alone", (_, sizes) => expect(found(lengths(...sizes))).toEqual([]));

// 10.6 oz · 28.349523125 = 300.5 g; 0.66 lb · 453.59237 = 299.4 g; 0.3 kg: exact ounce and pound.
test.each([10.6, 0.66, 0.3])("unitJumps finds a mass of %d among those around 300 g", (massG) => {
  const rows = [300, 310, massG, 295].map((mass) => ({massG: mass}));
  expect([...unitJumps(rows, ["massG"], "g").keys()]).toEqual([{massG}]);
});

test("middleOf: the middle of the known sizes, of an even number halfway between two; none of fewer than three", () => {
  expect(middleOf([40, undefined, 20, 30])).toBe(30);
  expect(middleOf(Float64Array.of(40, Number.NaN, 20, 35, 25))).toBe(30);
  expect(middleOf([40, 30])).toBeUndefined();
});
