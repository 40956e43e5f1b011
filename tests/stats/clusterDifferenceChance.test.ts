import {expect, test} from "vitest";
import {clusterDifferenceChance} from "../../lib/stats/clusterDifferenceChance.ts";

const of = (estimate: number, variance: number, clusters: number) => ({estimate, variance, clusters});

// Printed tables of Student's law, two-sided 5 % and 1 %: 2.228139 and 3.169273 with 10 degrees of freedom, 2.570582 with 5.
test("clusterDifferenceChance is two-sided Student's, with the sum of freedoms where both scatter alike", () => {
  const apart = (t: number) => clusterDifferenceChance(of(0, 2, 6), of(2 * t, 2, 6));
  expect(apart(2.228139)).toBeCloseTo(0.05, 6);
  expect(apart(3.169273)).toBeCloseTo(0.01, 6);
  expect(apart(-2.228139)).toBeCloseTo(0.05, 6);
});

test("clusterDifferenceChance has the freedom of the one that scatters, where the other does not", () => {
  expect(clusterDifferenceChance(of(0, 1, 6), of(2.570582, 0, 100))).toBeCloseTo(0.05, 6);
});

test("clusterDifferenceChance where nothing scatters", () => {
  expect(clusterDifferenceChance(of(1, 0, 6), of(1, 0, 6))).toBe(1);
  expect(clusterDifferenceChance(of(1, 0, 6), of(2, 0, 6))).toBe(0);
  expect(clusterDifferenceChance(of(1, 1, 6), of(1, 1, 6))).toBe(1);
});
