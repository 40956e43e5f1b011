import {expect, test} from "vitest";
import {demandRange} from "../../lib/buying/demandRange.ts";

// SciPy 1.17: nbinom(r, r/(r + m)).ppf([.025, .975]), poisson(120).ppf(…)
test.each([
  [60, 8, 24, 111],
  [120, undefined, 99, 142],
  [3, 0.5, 0, 16],
  [0.2, 2, 0, 1],
  [0, undefined, 0, 0]
])("demandRange(%d, %s) is SciPy's %d to %d", (mean, size, low, high) => {
  expect(demandRange(mean, size)).toEqual({low, high});
});

test("demandRange(a negative mean) is refused", () => {
  expect(() => demandRange(-1)).toThrow(RangeError);
});
