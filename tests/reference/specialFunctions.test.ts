import digamma from "@stdlib/math-base-special-digamma";
import gammaln from "@stdlib/math-base-special-gammaln";
import betaCdf from "@stdlib/stats-base-dists-beta-cdf";
import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import chiSquareCdf from "@stdlib/stats-base-dists-chisquare-cdf";
import chiSquareQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import fCdf from "@stdlib/stats-base-dists-f-cdf";
import gammaCdf from "@stdlib/stats-base-dists-gamma-cdf";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import tCdf from "@stdlib/stats-base-dists-t-cdf";
import {test} from "vitest";
import {noncentralTCdf, noncentralTQuantile} from "../../lib/stats/noncentralT.ts";
import {normalQuantile} from "../../lib/stats/normalQuantile.ts";
import {expectClose, expectRelative} from "./close.ts";

// The distributions come from a library; these values show that the versions installed here are right where it is
// used, and to how many digits. Tolerances are relative alone, without the slack for 0: some tails are 1e-19.

// Check special.pbeta: regularised incomplete beta I_x(a,b).
// Published: none; R only.
// R: pbeta(x,a,b). Tolerance 1e-09 relative.
const incompleteBeta = {
  input: {
    x: [0.3, 0.01, 0.99, 0.5, 1e-6, 0.9999],
    a: [2.5, 0.5, 80.5, 300, 0.5, 2],
    b: [4, 60.5, 1.5, 310, 100.5, 0.5]
  },
  expected: {I: [0.352197585907, 0.728881684516, 0.654160741974, 0.657325182515, 0.0112975304681, 0.9850005]}
};

test("the beta distribution function agrees with R", () => {
  const {x, a, b} = incompleteBeta.input;
  expectRelative(
    x.map((at, i) => betaCdf(at, a[i]!, b[i]!)),
    incompleteBeta.expected.I,
    1e-9
  );
});

// Check special.qbeta: inverse incomplete beta.
// Published: none; R only.
// R: qbeta(p,a,b). Tolerance 1e-09 relative.
const inverseBeta = {
  input: {p: [0.025, 0.975, 0.5, 1e-6, 0.999999], a: [0.5, 3.5, 118.5, 10, 2], b: [20.5, 45.5, 36.5, 3, 900]},
  expected: {x: [2.42464784592e-5, 0.157483198319, 0.765656068954, 0.170882575956, 0.0183617435109]}
};

test("the beta quantile agrees with R", () => {
  const {p, a, b} = inverseBeta.input;
  expectRelative(
    p.map((at, i) => betaQuantile(at, a[i]!, b[i]!)),
    inverseBeta.expected.x,
    1e-9
  );
});

// Check special.pgamma-lgamma: regularised lower incomplete gamma P(a,x); log-gamma; digamma.
// Published: none; R only.
// R: pgamma(x,a); lgamma(x); digamma(x). Tolerance 1e-09 relative.
const gamma = {
  input: {
    P: {a: [0.5, 3, 50, 300], x: [0.2, 2.5, 60, 250]},
    lgamma: [0.1, 0.5, 3.7, 150.25, 1000000],
    digamma: [0.1, 1, 3.7, 150.25]
  },
  expected: {
    P: [0.472910743134, 0.456186884117, 0.915593318906, 0.00116239363105],
    lgamma: [2.25271265173, 0.572364942925, 1.42807232667, 601.261504032, 12815504.5691],
    digamma: [-10.4237549404, -0.577215664902, 1.16715353936, 5.00896909502]
  }
};

test("the incomplete gamma, log-gamma and digamma functions agree with R", () => {
  const {P, lgamma, digamma: at} = gamma.input;
  expectRelative(
    P.x.map((x, i) => gammaCdf(x, P.a[i]!, 1)),
    gamma.expected.P,
    1e-9
  );
  expectRelative(
    lgamma.map((x) => gammaln(x)),
    gamma.expected.lgamma,
    1e-9
  );
  expectRelative(
    at.map((x) => digamma(x)),
    gamma.expected.digamma,
    1e-9
  );
});

// Check special.tails: normal, t, chi-square, F upper tails and quantiles.
// Published: none; R only.
// R: qnorm, pnorm(lower.tail=FALSE), pt, pchisq, pf, qchisq. Tolerance 1e-09 relative.
const tails = {
  input: {
    qnorm: [0.975, 0.995, 1e-10],
    pnormUpper: [1.96, 6, 9],
    ptUpper: {t: [2.1, 4], df: [7, 33]},
    pchisqUpper: {x: [12.6, 3.1, 80], df: [3, 1, 40]},
    pfUpper: {f: [1.70591769, 4.2], df1: [9, 2], df2: [90, 17]},
    qchisq: {p: [0.01, 0.95], df: [42, 9]}
  },
  expected: {
    qnorm: [1.95996398454, 2.57582930355, -6.3613409024],
    pnormUpper: [0.0249978951482, 9.86587645038e-10, 1.12858840595e-19],
    ptUpper: [0.0369355981065, 0.00016822828389],
    pchisqUpper: [0.0055865460973, 0.0782922941464, 0.000176302897739],
    pfUpper: [0.0990829762613, 0.0329404282064],
    qchisq: [23.6500946778, 16.9189776046]
  }
};

test("normal, t, χ² and F tails and quantiles agree with R", () => {
  const {input, expected} = tails;
  expectRelative(
    input.qnorm.map((p) => normalQuantile(p)),
    expected.qnorm,
    1e-9
  );
  expectRelative(
    input.pnormUpper.map((z) => normalCdf(-z, 0, 1)),
    expected.pnormUpper,
    1e-9
  );
  expectRelative(
    input.ptUpper.t.map((t, i) => tCdf(-t, input.ptUpper.df[i]!)),
    expected.ptUpper,
    1e-9
  );
  expectRelative(
    input.pchisqUpper.x.map((x, i) => 1 - chiSquareCdf(x, input.pchisqUpper.df[i]!)),
    expected.pchisqUpper,
    1e-9
  );
  const {f, df1, df2} = input.pfUpper;
  expectRelative(
    f.map((x, i) => 1 - fCdf(x, df1[i]!, df2[i]!)),
    expected.pfUpper,
    1e-9
  );
  expectRelative(
    input.qchisq.p.map((p, i) => chiSquareQuantile(p, input.qchisq.df[i]!)),
    expected.qchisq,
    1e-9
  );
});

// Check special.tails-2: tails and quantiles.
// Published: none; R only.
// R: qnorm; pchisq/pf/pt(lower.tail=FALSE); lgamma; qt(p,df,ncp). Tolerance 1e-07 relative.
const moreTails = {
  input: {
    qnorm: [0.9, 0.9995, 1e-7],
    pchisqUpper: {x: [7.4, 55], df: [2, 30]},
    pfUpper: {f: [2.9, 1.1], df1: [4, 12], df2: [61, 140]},
    ptUpper: {t: [1.3, 3.3], df: [4, 120]},
    lgamma: [0.3, 42.42, 12345.6],
    qtNoncentral: {p: 0.9, df: 19, ncp: 7.35600904580114}
  },
  expected: {
    qnorm: [1.28155156554, 3.29052673149, -5.19933758219],
    pchisqUpper: [0.0247235264703, 0.0035499270232],
    pfUpper: [0.0290317764992, 0.364856624843],
    ptUpper: [0.131725798236, 0.000636649993826],
    lgamma: [1.09579799482, 115.601131247, 103959.185066],
    qtNoncentral: 9.87348960529
  }
};

test("more tails and quantiles agree with R", () => {
  const {input, expected} = moreTails;
  expectRelative(
    input.qnorm.map((p) => normalQuantile(p)),
    expected.qnorm,
    1e-9
  );
  expectRelative(
    input.ptUpper.t.map((t, i) => tCdf(-t, input.ptUpper.df[i]!)),
    expected.ptUpper,
    1e-9
  );
  expectRelative(
    input.pchisqUpper.x.map((x, i) => 1 - chiSquareCdf(x, input.pchisqUpper.df[i]!)),
    expected.pchisqUpper,
    1e-9
  );
  const {f, df1, df2} = input.pfUpper;
  expectRelative(
    f.map((x, i) => 1 - fCdf(x, df1[i]!, df2[i]!)),
    expected.pfUpper,
    1e-9
  );
  expectRelative(
    input.lgamma.map((x) => gammaln(x)),
    expected.lgamma,
    1e-9
  );
  const {p, df, ncp} = input.qtNoncentral;
  expectRelative(noncentralTQuantile(p, df, ncp), expected.qtNoncentral, 1e-7);
});

// Check special.noncentral-t: noncentral t quantiles (one-sided tolerance factors need them).
// Published: none; R only.
// R: qt(p, df, ncp). Tolerance 1e-07 relative.
const noncentral = {
  input: {p: [0.99, 0.95, 0.95], df: [42, 9, 29], ncp: [8.4036956067817, 5.20148387875557, 12.7419320721636]},
  expected: {q: [12.2883355678, 9.20527457075, 16.7816776081]}
};

test("noncentralTQuantile agrees with R, and noncentralTCdf takes it back", () => {
  const {p, df, ncp} = noncentral.input;
  const got = p.map((at, i) => noncentralTQuantile(at, df[i]!, ncp[i]!));
  expectRelative(got, noncentral.expected.q, 1e-7);
  expectRelative(
    got.map((t, i) => noncentralTCdf(t, df[i]!, ncp[i]!)),
    p,
    1e-12
  );
});

test("noncentralTCdf with delta 0 is the t distribution", () => {
  for (const df of [1, 2, 5, 42, 400]) {
    for (const t of [-3, -0.5, 0, 1, 12]) expectClose(noncentralTCdf(t, df, 0), tCdf(t, df), 1e-11, `t ${t}, df ${df}`);
  }
});
