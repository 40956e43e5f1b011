import {expect, test} from "vitest";
import {deviation} from "../../lib/stats/deviation.ts";
import {mean} from "../../lib/stats/mean.ts";
import {howeFactor, toleranceFactor} from "../../lib/stats/toleranceFactor.ts";
import {expectClose} from "./close.ts";

// R: howe = qnorm((1+P)/2)*sqrt(f*(1+1/n)/qchisq(1-g,f)); exact = root in k of 2*int_0^Inf dnorm(x,0,1/sqrt(n))
// P(chi2_f > f r(x)^2/k^2) dx = g with Phi(x+r)-Phi(x-r)=P (integrate rel.tol 1e-12, uniroot 1e-12); one-sided
// exact = qt(g,n-1,qnorm(P)*sqrt(n))/sqrt(n). Two different quadratures there gave the same 12 digits. Tolerance
// 1e-7 relative.
const cases = [
  {n: 43, coverage: 0.9, level: 0.99, howe: 2.21731589665, two: 2.22282517379, one: 1.87395360586},
  {n: 6, coverage: 0.9, level: 0.99, howe: 5.33597723318, two: 5.38319991001, one: 4.41108057244},
  {n: 10, coverage: 0.95, level: 0.95, howe: 3.38191349051, two: 3.39342947871, one: 2.91096341308},
  {n: 14, coverage: 0.9, level: 0.95, howe: 2.52903113146, two: 2.54243797431, one: 2.10876579982},
  {n: 4, coverage: 0.99, level: 0.95, howe: 8.40922956083, two: 8.22065501258, one: 7.04236257537},
  {n: 60, coverage: 0.99, level: 0.95, howe: 3.06591776092, two: 3.06801635708, one: 2.80705471813}
];

for (const {n, coverage, level, ...want} of cases) {
  test(`toleranceFactor of ${n} pieces, coverage ${coverage}, level ${level} agrees with R`, () => {
    expectClose(howeFactor({n, coverage, level}), want.howe, 1e-7);
    expectClose(toleranceFactor({n, coverage, level}), want.two, 1e-7);
    expectClose(toleranceFactor({n, coverage, level, sides: 1}), want.one, 1e-7);
  });
}

// Published (read): NIST/SEMATECH e-Handbook 7.2.6.3, in a stored test file that quotes it: 2.217 (Howe; 2.2173159 in
// a spreadsheet copy), one-sided 1.8740 and 4.4111.
test("howeFactor and toleranceFactor agree with the values NIST prints", () => {
  expect(howeFactor({n: 43, coverage: 0.9, level: 0.99})).toBeCloseTo(2.2173159, 7);
  expect(toleranceFactor({n: 43, coverage: 0.9, level: 0.99, sides: 1})).toBeCloseTo(1.874, 4);
  expect(toleranceFactor({n: 6, coverage: 0.9, level: 0.99, sides: 1})).toBeCloseTo(4.4111, 4);
});

// Published (read): Berthouex and Brown, Statistics for Environmental Engineers, table 21.1, 95 % confidence: 3.39,
// 8.22, 3.07. Older tables (Bowker, Howe) print 3.379 to 3.382 for n = 10: they are approximations.
test("toleranceFactor agrees with a handbook table", () => {
  expect(toleranceFactor({n: 10, coverage: 0.95})).toBeCloseTo(3.39, 2);
  expect(toleranceFactor({n: 4, coverage: 0.99})).toBeCloseTo(8.22, 2);
  expect(toleranceFactor({n: 60, coverage: 0.99})).toBeCloseTo(3.07, 2);
});

test("a tolerance interval for 90 % of densities from 14 pieces agrees with R", () => {
  const x = [0.671, 0.688, 0.64, 0.659, 0.701, 0.676, 0.663, 0.652, 0.694, 0.668, 0.683, 0.657, 0.649, 0.69];
  const [center, spread] = [mean(x)!, deviation(x)!];
  expectClose([center, spread], [0.670785714286, 0.018535531664], 1e-9);
  const k = toleranceFactor({n: x.length, coverage: 0.9});
  expectClose([center - k * spread, center + k * spread], [0.623660274709, 0.717911153862], 1e-7);
});
