import fc from "fast-check";
import {expect, test} from "vitest";
import {densityAt12En384} from "../../lib/wood/densityAt12En384.ts";

test("densityAt12En384 takes half a percent for each percent above 12", () => {
  expect(densityAt12En384({densityKgM3: 700, moisturePct: 12})).toBe(700);
  expect(densityAt12En384({densityKgM3: 700, moisturePct: 16})).toBeCloseTo(686, 10);
  expect(densityAt12En384({densityKgM3: 700, moisturePct: 8})).toBeCloseTo(714, 10);
});

test("the wetter the reading, the lighter at 12 %, in proportion to the density", () => {
  fc.assert(
    fc.property(fc.double({min: 8, max: 17, noNaN: true}), fc.double({min: 300, max: 1000, noNaN: true}), (m, kgM3) => {
      const at12 = densityAt12En384({densityKgM3: kgM3, moisturePct: m});
      expect(densityAt12En384({densityKgM3: kgM3, moisturePct: m + 1})).toBeLessThan(at12);
      expect(densityAt12En384({densityKgM3: 2 * kgM3, moisturePct: m})).toBeCloseTo(2 * at12, 9);
    })
  );
});

test.each<[string, () => unknown, string]>([
  [
    "no density",
    () => densityAt12En384({densityKgM3: 0, moisturePct: 12}),
    "densityAt12En384: densityKgM3 must be positive, got 0."
  ],
  [
    "drier than 8",
    () => densityAt12En384({densityKgM3: 700, moisturePct: 7.9}),
    "densityAt12En384: moisturePct must be from 8 to 18, got 7.9."
  ],
  [
    "wetter than 18",
    () => densityAt12En384({densityKgM3: 700, moisturePct: 18.1}),
    "densityAt12En384: moisturePct must be from 8 to 18, got 18.1."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
