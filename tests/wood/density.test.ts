import fc from "fast-check";
import {expect, test} from "vitest";
import {barVolume, density} from "../../lib/wood/density.ts";

test("barVolume({lengthMm: 1500, widthMm: 40, thicknessMm: 40}) is 2.4 litres", () => {
  expect(barVolume({lengthMm: 1500, widthMm: 40, thicknessMm: 40})).toBe(2_400_000);
});

test("density of 1680 g in 2.4 litres is 700 kg/m³", () => {
  expect(density({massG: 1680, volumeMm3: 2_400_000})).toBe(700);
});

const size = fc.double({min: 1, max: 5000, noNaN: true});
test("a bar has one volume whichever face is called its width", () => {
  fc.assert(
    fc.property(size, size, size, (a, b, c) => {
      const volume = barVolume({lengthMm: a, widthMm: b, thicknessMm: c});
      expect(barVolume({lengthMm: a, widthMm: c, thicknessMm: b}) / volume).toBeCloseTo(1, 12);
    })
  );
});

test("density grows with mass and shrinks with volume, in proportion", () => {
  fc.assert(
    fc.property(size, size, (massG, volumeMm3) => {
      const once = density({massG, volumeMm3});
      expect(density({massG: 2 * massG, volumeMm3})).toBe(2 * once);
      expect(density({massG, volumeMm3: 2 * volumeMm3})).toBe(once / 2);
    })
  );
});

const bar = {lengthMm: 1500, widthMm: 40, thicknessMm: 40};
test.each<[string, () => unknown, string]>([
  ["no length", () => barVolume({...bar, lengthMm: 0}), "barVolume: lengthMm must be positive, got 0."],
  ["a negative width", () => barVolume({...bar, widthMm: -40}), "barVolume: widthMm must be positive, got -40."],
  [
    "no number",
    () => barVolume({...bar, thicknessMm: Number.NaN}),
    "barVolume: thicknessMm must be positive, got NaN."
  ],
  ["no mass", () => density({massG: 0, volumeMm3: 1}), "density: massG must be positive, got 0."],
  ["no volume", () => density({massG: 1, volumeMm3: 0}), "density: volumeMm3 must be positive, got 0."],
  ["no end", () => density({massG: Infinity, volumeMm3: 1}), "density: massG must be positive, got Infinity."]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
