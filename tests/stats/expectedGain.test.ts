import {expect, test} from "vitest";
import {expectedGain} from "../../lib/stats/expectedGain.ts";

/** E[min(m, c)] for c a bell curve, by the midpoint rule over ±8 standard deviations: what is paid when the better is taken afterwards. */
function paidAfterwards(other: number, mean: number, sd: number): number {
  const steps = 40_000;
  let total = 0;
  for (let i = 0; i < steps; i++) {
    const z = -8 + (16 * (i + 0.5)) / steps;
    total += Math.min(other, mean + sd * z) * Math.exp((-z * z) / 2);
  }
  return ((total / Math.sqrt(2 * Math.PI)) * 16) / steps;
}

test("expectedGain is the fall of the expected least cost, by numerical integration", () => {
  for (const [other, mean, sd] of [
    [24, 24, 2],
    [24, 26, 2],
    [24, 21, 3],
    [24, 40, 1]
  ] as const) {
    const before = Math.min(other, mean);
    expect(expectedGain(Math.abs(other - mean), sd)).toBeCloseTo(before - paidAfterwards(other, mean, sd), 5);
  }
  expect(expectedGain(3, 0)).toBe(0);
});

test("expectedGain of two that are level is s · φ(0), and refuses what is no distance", () => {
  expect(expectedGain(0, 2)).toBeCloseTo(2 * 0.39894228, 8); // φ(0) = 1/√(2π)
  expect(() => expectedGain(-1, 1)).toThrow("expectedGain: gap must be 0 or more");
});

/** The same of Student's law with 3 degrees of freedom, whose density is 2/(π √3 (1 + x²/3)²), by the midpoint rule in x = √3 tan u. */
function gainOfStudent3(gap: number, scale: number): number {
  const steps = 200_000;
  let total = 0;
  for (let i = 0; i < steps; i++) {
    const u = -Math.PI / 2 + (Math.PI * (i + 0.5)) / steps;
    const x = Math.sqrt(3) * Math.tan(u);
    total += Math.max(0, scale * x - gap) * (2 / Math.PI) * Math.cos(u) ** 2;
  }
  return (total * Math.PI) / steps;
}

test("expectedGain by Student's law: by numerical integration; more than the normal far off, the normal with many degrees of freedom", () => {
  for (const [gap, scale] of [
    [0, 2],
    [2, 2],
    [9, 1.5]
  ] as const)
    expect(expectedGain(gap, scale, 3)).toBeCloseTo(gainOfStudent3(gap, scale), 6);
  expect(expectedGain(9, 1.5, 3)).toBeGreaterThan(1000 * expectedGain(9, 1.5));
  expect(expectedGain(1, 2, 1e6)).toBeCloseTo(expectedGain(1, 2), 5);
  expect(() => expectedGain(1, 1, 1)).toThrow("expectedGain: freedom must be above 1");
});
