import {expect, test} from "vitest";
import {momentSize} from "../../lib/stats/momentSize.ts";
import {poissonRegression} from "../../lib/stats/poissonRegression.ts";

// R only (R 4.2.2, MASS 7.3-58.2): g <- glm(y ~ t, family = poisson); theta.mm(y, fitted(g), 22, eps = 1e-14, limit = 200); made-up months.
test("momentSize of 24 months around a fitted trend is R's theta.mm", () => {
  const counts = [4, 7, 3, 9, 12, 5, 8, 15, 6, 10, 3, 7, 11, 9, 4, 14, 8, 6, 13, 7, 9, 5, 18, 10];
  const fit = poissonRegression(
    counts.map((_, i) => [1, i + 1]),
    counts
  )!;
  expect(fit.fitted[0]).toBeCloseTo(6.60739970985739, 8);
  expect(fit.fitted[23]).toBeCloseTo(10.6104016006181, 8);
  expect(fit.df).toBe(22);
  expect(momentSize(counts, fit.fitted, fit.df)! / 12.2613365271937).toBeCloseTo(1, 7);
});
