import {expect, test} from "vitest";
import {checkCounts, checkLevel, normalFactor, studentFactor} from "../../lib/stats/interval.ts";

// Published (memory): the normal table, 1.6449, 1.9600, 2.5758 for 90, 95 and 99 %. Tolerance: four decimals.
test("normalFactor(level) is the printed factor", () => {
  expect(normalFactor(0.9, "here")).toBeCloseTo(1.6449, 4);
  expect(normalFactor(0.95, "here")).toBeCloseTo(1.96, 4);
  expect(normalFactor(0.99, "here")).toBeCloseTo(2.5758, 4);
});

// Published (memory): the table of Student's t, two-sided 95 %: 12.706, 3.182, 2.571, 2.228, 2.042 for 1, 3, 5, 10 and 30; 99 %: 3.169 for 10.
// R only: qt(.975, 3.76298233829761) is 2.846792 for a number that is not whole.
test("studentFactor(level, freedom) is the printed factor", () => {
  const printed = [
    [0.95, 1, 12.706],
    [0.95, 3, 3.182],
    [0.95, 5, 2.571],
    [0.95, 10, 2.228],
    [0.95, 30, 2.042],
    [0.99, 10, 3.169]
  ] as const;
  for (const [level, freedom, want] of printed) expect(studentFactor(level, freedom, "here")).toBeCloseTo(want, 3);
  expect(studentFactor(0.95, 3.76298233829761, "here")).toBeCloseTo(2.846792693, 5);
  expect(() => studentFactor(0.95, 0, "here")).toThrow(
    new RangeError("here: degrees of freedom must be positive, got 0.")
  );
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
