import {expect, test} from "vitest";
import {checkCounts, checkLevel, normalFactor} from "../../lib/stats/interval.ts";

// Published (memory): the normal table, 1.6449, 1.9600, 2.5758 for 90, 95 and 99 %. Tolerance: four decimals.
test("normalFactor(level) is the printed factor", () => {
  expect(normalFactor(0.9, "here")).toBeCloseTo(1.6449, 4);
  expect(normalFactor(0.95, "here")).toBeCloseTo(1.96, 4);
  expect(normalFactor(0.99, "here")).toBeCloseTo(2.5758, 4);
});

test("checkLevel refuses percents and the ends", () => {
  for (const level of [95, 0, 1, -0.1, Number.NaN]) {
    expect(() => checkLevel(level, "wilson")).toThrow(`wilson: level must be between 0 and 1, got ${level}.`);
  }
  expect(() => checkLevel(0.5, "wilson")).not.toThrow();
});

test("checkCounts names what is wrong", () => {
  expect(() => checkCounts(3, 2, "wilson")).toThrow("wilson: successes must be at most trials (2), got 3.");
  expect(() => checkCounts(1.5, 2, "wilson")).toThrow("wilson: successes must be a count, got 1.5.");
  expect(() => checkCounts(0, -1, "wilson")).toThrow("wilson: trials must be a count, got -1.");
  expect(() => checkCounts(0, Number.NaN, "wilson")).toThrow("wilson: trials must be a count, got NaN.");
  expect(() => checkCounts(0, 0, "wilson")).not.toThrow();
});
