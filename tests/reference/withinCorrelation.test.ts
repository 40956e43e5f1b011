import {expect, test} from "vitest";
import {withinCorrelation} from "../../lib/stats/withinCorrelation.ts";

// R only (R 4.2.2): f <- glm(cbind(x, n - x) ~ g, family = binomial, control = list(epsilon = 1e-14)); r <- residuals(f, "pearson");
// uniroot(function(rho) sum(r^2 / (1 + (n - 1) * rho)) - f$df.residual, c(0, 1), tol = 1e-14). Three suppliers, made-up lots.
const n = [24, 30, 18, 28, 31, 25, 34, 27, 33, 20, 26, 17, 29];
const groups = (x: readonly number[]) =>
  [
    [0, 5],
    [5, 9],
    [9, 13]
  ].map(([from, to]) => x.slice(from, to).map((successes, i) => ({successes, trials: n[from! + i]!})));

test.each([
  [[14, 22, 9, 17, 25, 20, 27, 19, 30, 8, 15, 5, 11], 0.019137142332471],
  [[20, 11, 5, 24, 13, 24, 16, 26, 12, 4, 21, 3, 15], 0.34039115414434]
])("withinCorrelation of %j is what R's glm leaves to explain", (x, rho) => {
  expect(withinCorrelation(groups(x))).toBeCloseTo(rho, 9);
});
