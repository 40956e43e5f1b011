import fc from "fast-check";
import {expect, test} from "vitest";
import {pChart} from "../../lib/stats/pChart.ts";

const period = fc
  .integer({min: 1, max: 80})
  .chain((inspected) => fc.integer({min: 0, max: inspected}).map((defective) => ({defective, inspected})));

// By hand: 10 of 100 in all, σ = √(0.1·0.9/50) = 0.0424; limits 0.1 ∓ 0.1273, cut at 0; z = ∓4/(50σ), one range of
// 8/(50σ).
test("pChart of two periods, worked by hand", () => {
  const chart = pChart([
    {defective: 1, inspected: 50},
    {defective: 9, inspected: 50}
  ]);
  const sigma = Math.sqrt(0.09 / 50);
  expect(chart.pBar).toBe(0.1);
  expect(chart.points[0]).toEqual({fraction: 0.02, low: 0, high: expect.closeTo(0.1 + 3 * sigma, 12), outside: false});
  expect(chart.sigmaZ).toBeCloseTo(8 / 50 / sigma / 1.128, 12);
  expect(chart.dispersion!.chiSquare).toBeCloseTo(2 * (0.08 / sigma) ** 2, 12);
});

test("pChart: no period of equal shares is outside, one far off is, below as above", () => {
  const even = Array.from({length: 9}, () => ({defective: 40, inspected: 100}));
  expect(pChart(even).points.some((point) => point.outside)).toBe(false);
  expect(pChart([...even, {defective: 80, inspected: 100}]).points.at(-1)!.outside).toBe(true);
  expect(pChart([...even, {defective: 0, inspected: 100}]).points.at(-1)!.outside).toBe(true);
});

test("pChart with laney is never narrower than without, and reports a sigmaZ below 1 without using it", () => {
  fc.assert(
    fc.property(fc.array(period, {minLength: 1, maxLength: 15}), (rows) => {
      const [plain, laney] = [pChart(rows), pChart(rows, {laney: true})];
      expect(laney.sigmaZ).toBe(plain.sigmaZ);
      laney.points.forEach((point, i) => {
        expect(point.low).toBeLessThanOrEqual(plain.points[i]!.low);
        expect(point.high).toBeGreaterThanOrEqual(plain.points[i]!.high);
        expect(point.low).toBeLessThanOrEqual(laney.pBar + 1e-12);
        expect(point.high).toBeGreaterThanOrEqual(laney.pBar - 1e-12);
      });
    })
  );
  const calm = [10, 10, 11, 10].map((defective) => ({defective, inspected: 100}));
  expect(pChart(calm, {laney: true}).sigmaZ).toBeLessThan(1);
  expect(pChart(calm, {laney: true}).points).toEqual(pChart(calm).points);
});

test("pChart of all good, all bad or a single period has no sigmaZ", () => {
  for (const rows of [
    [
      {defective: 0, inspected: 5},
      {defective: 0, inspected: 9}
    ],
    [
      {defective: 5, inspected: 5},
      {defective: 9, inspected: 9}
    ],
    [{defective: 1, inspected: 5}]
  ]) {
    const chart = pChart(rows, {laney: true});
    expect(chart.sigmaZ).toBeUndefined();
    expect(chart.points.some((point) => point.outside)).toBe(false);
  }
});

test("pChart refuses no periods, an empty one, and more bad than seen", () => {
  expect(() => pChart([])).toThrow("pChart: rows must be at least one period, got 0.");
  expect(() => pChart([{defective: 0, inspected: 0}])).toThrow("pChart: inspected must be 1 or more, got 0.");
  expect(() => pChart([{defective: 3, inspected: 2}])).toThrow(
    "pChart: defective must be at most inspected (2), got 3."
  );
});
