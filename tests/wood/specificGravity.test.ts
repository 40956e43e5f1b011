import fc from "fast-check";
import {expect, test} from "vitest";
import {density} from "../../lib/wood/density.ts";
import {ovenDryMass} from "../../lib/wood/moisture.ts";
import {specificGravity} from "../../lib/wood/specificGravity.ts";

test("specificGravity of 672 kg/m³ at 12 % is 0.60, not 0.67", () => {
  expect(specificGravity({densityKgM3: 672, moisturePct: 12})).toBeCloseTo(0.6, 12);
});

test("specificGravity is oven-dry mass over the volume as it is", () => {
  const moisture = fc.double({min: 0, max: 150, noNaN: true});
  fc.assert(
    fc.property(moisture, fc.double({min: 10, max: 5000, noNaN: true}), (moisturePct, massG) => {
      const volumeMm3 = 1_500_000;
      const dry = density({massG: ovenDryMass({massG, moisturePct}), volumeMm3});
      const actual = specificGravity({densityKgM3: density({massG, volumeMm3}), moisturePct});
      expect(actual).toBeCloseTo(dry / 1000, 10);
    })
  );
});

const at = (densityKgM3: number, moisturePct: number) => () => specificGravity({densityKgM3, moisturePct});
test.each<[string, () => unknown, string]>([
  ["no density", at(0, 12), "specificGravity: densityKgM3 must be positive, got 0."],
  ["less than dry", at(700, -1), "specificGravity: moisturePct must be from 0 to 200, got -1."]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
