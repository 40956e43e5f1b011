import {expect, test} from "vitest";
import {differenceInterval} from "../../lib/stats/differenceInterval.ts";
import {wilson} from "../../lib/stats/wilson.ts";

const of = (successes: number, trials: number) => ({value: successes / trials, ...wilson(successes, trials)!});

// Newcombe (1998), Statist. Med. 17:873–890, table II, method 10, to four digits (from memory); the further digits R only, the formula written
// out for Wilson's limits in R 4.2.2.
test.each([
  [56, 70, 48, 80, 0.0524314724024, 0.3338726540369],
  [9, 10, 3, 10, 0.170522723935, 0.809017973535],
  [5, 56, 0, 29, -0.0381371479035, 0.1925600138551],
  [10, 10, 0, 20, 0.679086037142, 1]
])("differenceInterval of %i/%i and %i/%i", (a, m, b, n, low, high) => {
  const got = differenceInterval(of(a, m), of(b, n));
  expect(got.low).toBeCloseTo(low, 9);
  expect(got.high).toBeCloseTo(high, 9);
});
