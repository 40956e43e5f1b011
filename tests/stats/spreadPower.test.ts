import {expect, test} from "vitest";
import {deviation} from "../../lib/stats/deviation.ts";
import {normalQuantile} from "../../lib/stats/normalQuantile.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {spreadPower, spreadSampleSize} from "../../lib/stats/spreadPower.ts";

test("spreadPower of like spreads is the chance of a false alarm, whichever way round the ratio is given", () => {
  for (const n of [2, 5, 30, 200]) expect(spreadPower({n, ratio: 1})).toBeCloseTo(0.05, 9);
  expect(spreadPower({n: 20, ratio: 1, level: 0.9})).toBeCloseTo(0.1, 9);
  expect(spreadPower({n: 20, ratio: 0.5})).toBeCloseTo(spreadPower({n: 20, ratio: 2}), 9);
});

// ln s² of n values of a bell curve has a variance near 2/(n − 1): n − 1 ≈ (z₁ + z₂)²/(ln q)² with z 1.959964 and 0.841621, any textbook.
test("spreadSampleSize nears the large-sample rule", () => {
  for (const ratio of [0.9, 0.95, 1.1]) {
    const rule = 1 + (1.959964 + 0.841621) ** 2 / Math.log(ratio) ** 2;
    expect(spreadSampleSize({ratio})! / rule).toBeCloseTo(1, 1);
  }
});

test("spreadSampleSize is the first that is enough", () => {
  for (const ratio of [0.5, 0.8, 1.5, 3]) {
    const n = spreadSampleSize({ratio})!;
    expect(spreadPower({n, ratio})).toBeGreaterThanOrEqual(0.8);
    if (n > 2) expect(spreadPower({n: n - 1, ratio})).toBeLessThan(0.8);
  }
  expect(spreadSampleSize({ratio: 1})).toBeUndefined();
});

// Simulation: 4000 pairs of 16 values with ratio 2; the standard error of the share is 0.007. The limits are printed table values of F(15, 15) at 2.5 %: 2.86.
test("spreadPower is the share of simulated pairs that the F test tells apart", () => {
  const random = randomStream(7);
  const draw = (sd: number) => Array.from({length: 16}, () => sd * normalQuantile(random()));
  let told = 0;
  for (let i = 0; i < 4000; i++) {
    const f = (deviation(draw(2))! / deviation(draw(1))!) ** 2;
    if (f > 2.862 || f < 1 / 2.862) told++;
  }
  expect(Math.abs(told / 4000 - spreadPower({n: 16, ratio: 2}))).toBeLessThan(0.028);
});

test("spreadPower refuses what is no sample", () => {
  expect(() => spreadPower({n: 1, ratio: 2})).toThrow("spreadPower: n must be a whole number, 2 or more");
  expect(() => spreadPower({n: 5, ratio: 0})).toThrow("spreadPower: ratio must be positive");
});
