import {expect, test} from "vitest";
import {randomStream} from "../../lib/stats/random.ts";
import {howeFactor, natrellaFactor, toleranceFactor} from "../../lib/stats/toleranceFactor.ts";

test("toleranceFactor falls with n towards the normal quantile, and rises with coverage and level", () => {
  const factor = (n: number, coverage = 0.9, level = 0.95) => toleranceFactor({n, coverage, level});
  expect(factor(5)).toBeGreaterThan(factor(20));
  expect(factor(20)).toBeGreaterThan(factor(500));
  expect(factor(500)).toBeGreaterThan(1.645); // Φ⁻¹(0.95), from memory
  expect(factor(20, 0.99)).toBeGreaterThan(factor(20));
  expect(factor(20, 0.9, 0.99)).toBeGreaterThan(factor(20));
});

test("howeFactor is within 1 % of toleranceFactor from 10 pieces on, within 0.2 % from 60", () => {
  for (const coverage of [0.8, 0.9, 0.99]) {
    const off = (n: number) => Math.abs(howeFactor({n, coverage}) / toleranceFactor({n, coverage}) - 1);
    expect(Math.max(off(10), off(15), off(30))).toBeLessThan(0.01);
    expect(Math.max(off(60), off(200))).toBeLessThan(0.002);
  }
});

test("natrellaFactor is within 1 % of the one-sided toleranceFactor from 40 pieces on, and has none for two", () => {
  for (const coverage of [0.8, 0.9, 0.99]) {
    for (const n of [40, 100, 1000]) {
      const exact = toleranceFactor({n, coverage, sides: 1});
      expect(Math.abs(natrellaFactor({n, coverage})! / exact - 1)).toBeLessThan(0.01);
    }
  }
  expect(natrellaFactor({n: 2, coverage: 0.9})).toBeUndefined();
  expect(() => natrellaFactor({n: 1, coverage: 0.9})).toThrow("natrellaFactor: n must be a count of 2 or more, got 1.");
});

// What the words say, tried: 4000 samples of 8 normal values; in 90 % of them at least 80 % of the population lies
// inside. Four standard errors of a share of 4000: 0.019.
test("toleranceFactor keeps its promise in simulated samples, on two sides and on one", () => {
  const random = randomStream(31);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const inside = (z: number) => {
    const t = 1 / (1 + 0.2316419 * Math.abs(z)); // Abramowitz and Stegun 26.2.17, from memory: 7.5e-8
    const tail = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
    const below = (tail * Math.exp(-(z ** 2) / 2)) / Math.sqrt(2 * Math.PI);
    return z < 0 ? below : 1 - below;
  };
  const two = toleranceFactor({n: 8, coverage: 0.8, level: 0.9});
  const one = toleranceFactor({n: 8, coverage: 0.8, level: 0.9, sides: 1});
  let [kept, keptAbove] = [0, 0];
  for (let i = 0; i < 4000; i++) {
    const x = Array.from({length: 8}, normal);
    const mean = x.reduce((a, b) => a + b) / 8;
    const s = Math.sqrt(x.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 7);
    if (inside(mean + two * s) - inside(mean - two * s) >= 0.8) kept++;
    if (inside(mean + one * s) >= 0.8) keptAbove++;
  }
  expect(Math.abs(kept / 4000 - 0.9)).toBeLessThan(0.019);
  expect(Math.abs(keptAbove / 4000 - 0.9)).toBeLessThan(0.019);
});

test("toleranceFactor works for two pieces and for very many", () => {
  expect(toleranceFactor({n: 2, coverage: 0.9})).toBeCloseTo(31.09, 0); // Published (memory)
  expect(toleranceFactor({n: 2000, coverage: 0.9})).toBeLessThan(1.71);
});

test("toleranceFactor refuses one piece, and percents", () => {
  expect(() => toleranceFactor({n: 1, coverage: 0.9})).toThrow(
    "toleranceFactor: n must be a count of 2 or more, got 1."
  );
  expect(() => toleranceFactor({n: 9, coverage: 90})).toThrow(
    "toleranceFactor: coverage must be between 0 and 1, got 90."
  );
  expect(() => howeFactor({n: 9, coverage: 0.9, level: 95})).toThrow(
    "howeFactor: level must be between 0 and 1, got 95."
  );
});
