import {expect, test} from "vitest";
import {trialSize} from "../../lib/stats/trialSize.ts";

// R, the examples of ?power.prop.test, as the help page says: p1 = 0.50, p2 = 0.75, power = 0.90 takes n = 76.7 in each group (from memory); and
// n = 50 has power 0.740.
test("trialSize is R's power.prop.test for two groups of one size", () => {
  expect(trialSize(0.5, 0.75, {power: 0.9}).toFixed(1)).toBe("76.7");
  expect(trialSize(0.5, 0.75, {power: 0.74})).toBeCloseTo(50, 0);
});
