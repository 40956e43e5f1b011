import fc from "fast-check";
import {expect, test} from "vitest";
import {kernelDensity, silvermanBandwidth} from "../../lib/stats/kernelDensity.ts";
import {frozen, shuffled, values} from "./arbitrary.ts";

test("kernelDensity of one value is the normal curve", () => {
  expect(kernelDensity([5], {bandwidth: 2, at: [5, 7]})).toEqual([
    expect.closeTo(1 / (2 * Math.sqrt(2 * Math.PI)), 12),
    expect.closeTo(Math.exp(-0.5) / (2 * Math.sqrt(2 * Math.PI)), 12)
  ]);
});

test("the area under kernelDensity is 1, whatever the order of values", () => {
  fc.assert(
    fc.property(values, fc.nat(), (x, seed) => {
      const bandwidth = silvermanBandwidth(x) ?? 1;
      const [low, high] = [Math.min(...x) - 6 * bandwidth, Math.max(...x) + 6 * bandwidth];
      const step = bandwidth / 4;
      const at = Array.from({length: Math.ceil((high - low) / step) + 1}, (_, i) => low + i * step);
      const height = kernelDensity(shuffled(x, seed), {bandwidth, at});
      expect(step * height.reduce((a, b) => a + b)).toBeCloseTo(1, 6);
    })
  );
});

test("silvermanBandwidth falls back on the deviation when the quartiles are equal", () => {
  const x = frozen([5, 5, 5, 5, 5, 5, 9]);
  expect(silvermanBandwidth(x)).toBeCloseTo((0.9 * Math.sqrt(96 / 7 / 6)) / 7 ** 0.2, 12);
});

test("silvermanBandwidth has no answer for one value or equal ones", () => {
  expect(silvermanBandwidth([5])).toBeUndefined();
  expect(silvermanBandwidth([5, 5])).toBeUndefined();
});

test("silvermanBandwidth stretches with the values", () => {
  fc.assert(
    fc.property(values, (x) => {
      const h = silvermanBandwidth(x);
      if (h !== undefined) expect(silvermanBandwidth(x.map((value) => 10 * value))).toBeCloseTo(10 * h, 8);
    })
  );
});

test("silvermanBandwidth refuses NaN", () => {
  expect(() => silvermanBandwidth([1, Number.NaN])).toThrow(
    "silvermanBandwidth: values must be finite numbers, got NaN."
  );
});

test("kernelDensity refuses a bandwidth of 0 and no values", () => {
  expect(() => kernelDensity([1], {bandwidth: 0, at: [1]})).toThrow(
    "kernelDensity: bandwidth must be positive, got 0."
  );
  expect(() => kernelDensity([], {bandwidth: 1, at: [1]})).toThrow(
    "kernelDensity: values must be at least one number, got 0."
  );
});
