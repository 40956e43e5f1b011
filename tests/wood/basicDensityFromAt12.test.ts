import fc from "fast-check";
import {expect, test} from "vitest";
import {basicDensityFromAt12} from "../../lib/wood/basicDensityFromAt12.ts";

test("basicDensityFromAt12({densityAt12KgM3: 700}) is 579.6", () => {
  expect(basicDensityFromAt12({densityAt12KgM3: 700})).toBeCloseTo(579.6, 10);
});

test("basicDensityFromAt12 is in proportion, and below the density it is made from", () => {
  fc.assert(
    fc.property(fc.double({min: 100, max: 650, noNaN: true}), (densityAt12KgM3) => {
      const basic = basicDensityFromAt12({densityAt12KgM3});
      expect(basic).toBeLessThan(densityAt12KgM3);
      expect(basicDensityFromAt12({densityAt12KgM3: 2 * densityAt12KgM3})).toBeCloseTo(2 * basic, 10);
    })
  );
});

const at = (densityAt12KgM3: number) => () => basicDensityFromAt12({densityAt12KgM3});
test.each<[string, () => unknown, string]>([
  ["g/cm³", at(0.7), "basicDensityFromAt12: densityAt12KgM3 must be from 100 to 1300, got 0.7."],
  ["no number", at(Number.NaN), "basicDensityFromAt12: densityAt12KgM3 must be from 100 to 1300, got NaN."]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
