import {expect, test} from "vitest";
import {nestedVarianceComponents} from "../../lib/stats/nestedVarianceComponents.ts";
import {varianceComponents} from "../../lib/stats/varianceComponents.ts";
import {expectClose} from "./close.ts";

// Published (read): Davies and Goldsmith (1972), Statistical Methods in Research and Production, yields of dyestuff
// from six batches (data set Dyestuff of R package lme4); REML there 1764.05 between batches and 2451.25 within, in
// stored listings. With groups of one size REML and the analysis of variance agree. Data from lme4 1.1-31. Tolerance:
// the printed digits.
const dyestuff = [
  [1545, 1440, 1440, 1520, 1580],
  [1540, 1555, 1490, 1560, 1495],
  [1595, 1550, 1605, 1510, 1560],
  [1445, 1440, 1595, 1465, 1545],
  [1595, 1630, 1515, 1635, 1625],
  [1520, 1455, 1450, 1480, 1445]
];

test("varianceComponents of six batches of dyestuff are the published 1764.05 and 2451.25", () => {
  const got = varianceComponents(dyestuff)!;
  expectClose([got.between, got.within], [1764.05, 2451.25], 1e-12);
  expect(got.betweenNegative).toBe(false);
});

// Published (read, data only): Box and Tiao (1973), simulated batches with MS between below MS within (data set
// Dyestuff2 of lme4).
// R 4.2.2: anova(lm(Yield ~ Batch, Dyestuff2)): mean squares 8.33632576 and 14.94588960.
test("varianceComponents says so when batches differ less than chance", () => {
  const batches = [
    [7.298, 3.846, 2.434, 9.566, 7.99],
    [5.22, 6.556, 0.608, 11.788, -0.892],
    [0.11, 10.386, 13.434, 5.51, 8.166],
    [2.212, 4.852, 7.092, 9.288, 4.98],
    [0.282, 9.014, 4.458, 9.446, 7.198],
    [1.722, 4.782, 8.106, 0.758, 3.758]
  ];
  const got = varianceComponents(batches)!;
  expectClose(got.within, 14.9458896, 1e-8);
  expect([got.between, got.betweenNegative]).toEqual([0, true]);
});

// Published (data read in lme4 1.1-31: Davies and Goldsmith 1972, p. 136): strength of paste, ten batches of three
// casks, two analyses each. R 4.2.2: lmer(strength ~ 1 + (1 | batch/cask), Pastes): 1.6573, 8.4337, 0.6780; REML
// stops at about 6 digits, hence 1e-5. All groups have one size, so that REML and the analysis of variance agree.
test("nestedVarianceComponents of the paste data agree with lme4", () => {
  const pairs = [
    [
      [62.8, 62.6],
      [60.1, 62.3],
      [62.7, 63.1]
    ],
    [
      [60.0, 61.4],
      [57.5, 56.9],
      [61.1, 58.9]
    ],
    [
      [58.7, 57.5],
      [63.9, 63.1],
      [65.4, 63.7]
    ],
    [
      [57.1, 56.4],
      [56.9, 58.6],
      [64.7, 64.5]
    ],
    [
      [55.1, 55.1],
      [54.7, 54.2],
      [58.8, 57.5]
    ],
    [
      [63.4, 64.9],
      [59.3, 58.1],
      [60.5, 60.0]
    ],
    [
      [62.5, 62.6],
      [61.0, 58.7],
      [56.9, 57.7]
    ],
    [
      [59.2, 59.4],
      [65.2, 66.0],
      [64.8, 64.1]
    ],
    [
      [54.8, 54.8],
      [64.0, 64.0],
      [57.7, 56.8]
    ],
    [
      [58.3, 59.3],
      [59.2, 59.2],
      [58.9, 56.6]
    ]
  ];
  const got = nestedVarianceComponents(pairs)!;
  expectClose([got.outer, got.inner, got.within], [1.657313122, 8.433665162, 0.677999904], 1e-5);
});

// Published: none; R only. Groups of unequal size; expected mean squares from traces, not from the formulas of the
// code. R 4.2.2:
//   P <- function(f) {X <- model.matrix(f, d); X %*% MASS::ginv(crossprod(X)) %*% t(X)}
//   Q <- list(P(~s) - P(~1), P(~l) - P(~s), diag(nrow(d)) - P(~l)); df <- sapply(Q, function(q) round(sum(diag(q))))
//   Zs <- model.matrix(~s - 1, d); Zl <- model.matrix(~l - 1, d)
//   M <- t(sapply(Q, function(q) c(sum(diag(t(Zs)%*%q%*%Zs)), sum(diag(t(Zl)%*%q%*%Zl)), sum(diag(q)))))/df
//   solve(M, sapply(Q, function(q) drop(t(d$y) %*% q %*% d$y))/df)        s supplier, l lot, y density
// Tolerance 1e-9 relative.
const lots = (shift: number) => [
  [
    [641, 655, 662, 648],
    [670, 684],
    [655, 659, 663]
  ].map((lot) => lot.map((x) => x + shift)),
  [
    [702, 688],
    [640, 651, 645, 660, 649]
  ],
  [[663], [671, 668, 680], [690, 702], [655, 640, 662]]
];

test("nestedVarianceComponents of lots of unequal size agree with R", () => {
  const got = nestedVarianceComponents(lots(100))!;
  expectClose([got.outer, got.inner, got.within], [2861.49805491858, 387.579605265, 68.6041666666667], 1e-9);
  expect([got.outerNegative, got.innerNegative]).toEqual([false, false]);
});

test("nestedVarianceComponents gives a negative component as 0 and says so", () => {
  const got = nestedVarianceComponents(lots(0))!;
  expectClose([got.inner, got.within], [387.579605265, 68.6041666666667], 1e-9);
  expect([got.outer, got.outerNegative, got.innerNegative]).toEqual([0, true, false]); // R: -132.7048
});

// R, as above with lots as the only groups: n0 = 2.72, MS 848.1216667 and 68.6041667.
test("varianceComponents of lots of unequal size agree with R", () => {
  const got = varianceComponents(lots(0).flat())!;
  expectClose([got.between, got.within], [286.5873161775827, 68.6041666666667], 1e-9);
});
