import fc from "fast-check";
import {expect, test} from "vitest";
import {normalFactor} from "../../lib/stats/interval.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {trialSize} from "../../lib/stats/trialSize.ts";

const share = fc.double({min: 0.02, max: 0.98, noNaN: true});

test("trialSize: either share first gives the same where the groups are alike; with k times as many of the other, the other group needs n k", () => {
  fc.assert(
    fc.property(share, share, fc.double({min: 0.2, max: 5, noNaN: true}), (from, to, times) => {
      fc.pre(Math.abs(from - to) > 0.01);
      expect(trialSize(from, to) / trialSize(to, from)).toBeCloseTo(1, 9);
      expect((times * trialSize(from, to, {times})) / trialSize(to, from, {times: 1 / times})).toBeCloseTo(1, 9);
      expect(trialSize(from, to, {power: 0.9})).toBeGreaterThan(trialSize(from, to));
    })
  );
});

// Simulation: 3000 trials; the standard error of the share is 0.007.
test("trialSize: so many hurried pieces, with ten served ones to each, tell 10 from 5 of 100 in 8 of 10 trials", () => {
  const random = randomStream(11);
  const n = Math.round(trialSize(0.1, 0.05, {times: 10}));
  const count = (pieces: number, p: number) => {
    let events = 0;
    for (let i = 0; i < pieces; i++) if (random() < p) events++;
    return events;
  };
  let told = 0;
  for (let i = 0; i < 3000; i++) {
    const [a, b] = [count(n, 0.1), count(10 * n, 0.05)];
    const pooled = (a + b) / (11 * n);
    const z = (a / n - b / (10 * n)) / Math.sqrt(pooled * (1 - pooled) * (1 / n + 1 / (10 * n)));
    if (Math.abs(z) > normalFactor(0.95, "test")) told++;
  }
  expect(Math.abs(told / 3000 - 0.8)).toBeLessThan(0.03);
});

test("trialSize refuses like shares, shares in percent, and no chance at all", () => {
  expect(() => trialSize(0.1, 0.1)).toThrow("trialSize: to must be another share than 0.1, got 0.1.");
  expect(() => trialSize(10, 5)).toThrow("trialSize: share must be between 0 and 1, got 10.");
  expect(() => trialSize(0.1, 0.2, {power: 1})).toThrow(RangeError);
  expect(() => trialSize(0.1, 0.2, {times: 0})).toThrow(RangeError);
});
