import {expect, test} from "vitest";
import {poissonRegression} from "../../lib/stats/poissonRegression.ts";
import {expectClose} from "./close.ts";

// Published (read): Dobson (1990), An Introduction to Generalized Linear Models, p. 93, the example of R's ?glm; data
// and values in github:JuliaStats/GLM.jl test/runtests.jl at 00f8d97. Deviance to 1e-7 there; R 4.2.2 below to 15
// digits:
//   counts <- c(18,17,15,20,10,20,25,13,12); outcome <- gl(3,1,9); treatment <- gl(3,3)
//   g <- glm(counts ~ outcome + treatment, family = poisson(), epsilon = 1e-14, maxit = 100)
//   coef(g); vcov(g); deviance(g); sum(resid(g, "pearson")^2); fitted(g)
// Tolerance 1e-10 relative.
test("poissonRegression of Dobson's counts agrees with published values and R", () => {
  const counts = [18, 17, 15, 20, 10, 20, 25, 13, 12];
  const design = counts.map((_, i) => [
    1,
    ...[1, 2].map((k) => Number(i % 3 === k)),
    ...[1, 2].map((k) => Number(Math.floor(i / 3) === k))
  ]);
  const fit = poissonRegression(design, counts)!;
  expectClose(fit.coefficients.slice(0, 3), [3.044522437723423, -0.45425527227759555, -0.29298712468147375], 1e-10);
  expectClose(fit.deviance, 5.12914107700115, 1e-10);
  expectClose(fit.coefficients.slice(3), [0, 0], 1e-10);
  expectClose(fit.pearson, 5.17320162107396, 1e-10);
  expect(fit.df).toBe(4);
  expectClose(fit.fitted.slice(0, 3), [21, 13.3333333333333, 15.6666666666667], 1e-10);
  expectClose(
    fit.covariance,
    [
      [0.0292063492063492, -0.0158730158730159, -0.0158730158730159, -0.02, -0.02],
      [-0.0158730158730159, 0.0408730158730158, 0.0158730158730159, 0, 0],
      [-0.0158730158730159, 0.0158730158730159, 0.0371496116176967, 0, 0],
      [-0.02, 0, 0, 0.04, 0.02],
      [-0.02, 0, 0, 0.02, 0.04]
    ],
    1e-10
  );
});

// Published: none; R only. R 4.2.2: trend, season and an exposure of days, as for monthly orders.
//   m <- 0:23; y <- c(3,2,4,6,5,3,2,1,4,7,6,5,4,3,6,9,7,4,3,2,6,11,8,6)
//   days <- rep(c(31,28,31,30,31,30,31,31,30,31,30,31), 2)
//   h <- glm(y ~ cbind(1, m/12, cos(2*pi*m/12), sin(2*pi*m/12)) - 1 + offset(log(days)),
//     poisson(), epsilon = 1e-14, maxit = 100)
// Tolerance 1e-10 relative.
test("poissonRegression with trend, season and offset agrees with R", () => {
  const counts = [3, 2, 4, 6, 5, 3, 2, 1, 4, 7, 6, 5, 4, 3, 6, 9, 7, 4, 3, 2, 6, 11, 8, 6];
  const days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  const design = counts.map((_, m) => [1, m / 12, Math.cos((2 * Math.PI * m) / 12), Math.sin((2 * Math.PI * m) / 12)]);
  const fit = poissonRegression(design, counts, {offset: counts.map((_, m) => Math.log(days[m % 12]!))})!;
  expectClose(fit.coefficients, [-2.29007225073198, 0.442857492130347, 0.181008076109563, 0.0542537032302664], 1e-10);
  expectClose(
    fit.covariance,
    [
      [0.0453018141307877, -0.0338743820029292, -0.00324438711894282, -0.0103588176416876],
      [-0.0338743820029292, 0.0313240683199817, 0.00189135055456992, 0.0103051265468203],
      [-0.00324438711894282, 0.00189135055456992, 0.0176745573343689, 0.00125702501246905],
      [-0.0103588176416876, 0.0103051265468203, 0.00125702501246905, 0.0203275486912673]
    ],
    1e-9
  );
  expectClose([fit.deviance, fit.pearson, fit.df], [19.5160077519847, 19.1535812017731, 20], 1e-10);
  expectClose(fit.fitted.slice(0, 4), [3.76189579022076, 3.53573604566607, 3.8775893502926, 3.58261581146082], 1e-10);
});
