import {expect, test} from "vitest";
import {stageDoubts} from "../../lib/buying/stageDoubts.ts";

// A logarithm with standard error s has the 95 % interval ± 1.96 s.
test("stageDoubts: an interval of exp(± 1.96 s) gives s² back; without an interval a stage is left out", () => {
  const half = 1.959963984540054 * 0.03;
  const rows = stageDoubts([
    {stage: "square", yieldLow: 0.8 * Math.exp(-half), yieldHigh: 0.8 * Math.exp(half)},
    {stage: "rough-round"},
    {stage: "second-round", yieldLow: 0, yieldHigh: 0.9}
  ]);
  expect(rows).toHaveLength(1);
  expect(rows[0]!.stage).toBe("square");
  expect(rows[0]!.logVariance).toBeCloseTo(0.0009, 12);
});
