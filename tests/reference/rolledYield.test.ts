import {expect, test} from "vitest";
import {betaProductCdf, betaProductMoments, betaProductQuantile} from "../../lib/stats/betaProduct.ts";
import {kaplanMeier} from "../../lib/stats/kaplanMeier.ts";
import {rolledYield} from "../../lib/stats/rolledYield.ts";
import {expectClose} from "./close.ts";

const stages = ({passed, decided}: {passed: number[]; decided: number[]}) =>
  passed.map((count, k) => ({passed: count, decided: decided[k]!}));

// Check rty.four-stages: square->rough->half->near->finished, decided pieces per stage.
// Published (memory): delta variance of a product of shares = Greenwood's sum, textbook (Kalbfleisch and Prentice);
// likelihood-ratio limits of series systems: Madansky (1965). None with numbers; R only.
// R: p = x/n; seLogDelta = sqrt(sum((1-p)/(n*p))); log: R*exp(-+z*se); loglog, logit by the delta method; Jeffreys mean
// and sd = exact beta moments; Jeffreys interval and median = numerical convolution of -log(beta) (2^17 cells and
// Richardson, about 1e-9); profile likelihood (Madansky): p_k = (x_k + λ)/(n_k + λ), deviance = qchisq(conf, 1); a
// stage without failures stays at 1 until λ = -n_k, then it alone falls, adding -2·n_k·log p_k. Tolerance 1e-06
// relative.
const four = {
  input: {passed: [221, 187, 151, 128], decided: [240, 204, 160, 131], conf: 0.95},
  expected: {
    stage: [0.920833333333, 0.916666666667, 0.94375, 0.977099236641],
    estimate: 0.778373621713,
    seLogDelta: 0.0368141518953,
    se: 0.028655164741,
    log: [0.724188871522, 0.836612545159],
    loglog: [0.715934727758, 0.828735328821],
    logit: [0.717206298444, 0.829456667722],
    jeffreysMean: 0.770051998404,
    jeffreysSD: 0.0289098447753,
    jeffreysInterval: [0.710926784052, 0.824066151641],
    jeffreysMedian: 0.77095276953,
    profileLikelihood: [0.718815232386, 0.830813522074]
  }
};

// Check rty.small: small counts, 90 %.
// Published: none; R only.
// R: as above. Tolerance 1e-06 relative.
// Stage 3 has no failures: the usual standard error gives it no part in the interval; profile and Jeffreys do.
const small = {
  input: {passed: [11, 9, 8], decided: [14, 11, 8], conf: 0.9},
  expected: {
    stage: [0.785714285714, 0.818181818182, 1],
    estimate: 0.642857142857,
    seLogDelta: 0.199204768222,
    se: 0.128060208143,
    log: [0.463246746153, 0.892106225363],
    loglog: [0.395527559106, 0.810205169918],
    logit: [0.418321198129, 0.818355028152],
    jeffreysMean: 0.573225308642,
    jeffreysSD: 0.122629087049,
    jeffreysInterval: [0.365511791835, 0.769779124481],
    jeffreysMedian: 0.576473501287,
    profileLikelihood: [0.424244931402, 0.826749389941]
  }
};

for (const [name, {input, expected}] of Object.entries({four, small})) {
  test(`rolledYield agrees with R: ${name}`, () => {
    const got = rolledYield(stages(input), {level: input.conf})!;
    expectClose(
      stages(input).map((stage) => rolledYield([stage])!.fraction),
      expected.stage,
      1e-9
    );
    expectClose(got.fraction, expected.estimate, 1e-9);
    expectClose([got.low, got.high], expected.profileLikelihood, 1e-6);
  });

  // The product of passed ÷ decided is the Kaplan–Meier curve of pieces that meet stage k at time k, those not yet at
  // the next stage censored between; its delta variance is Greenwood's.
  test(`kaplanMeier over stages gives R's delta limits of the rolled yield: ${name}`, () => {
    const {passed, decided, conf} = input;
    const spells = decided.flatMap((n, k) => [
      ...Array.from({length: n - passed[k]!}, () => ({exit: k + 1, cause: "discarded"})),
      ...Array.from({length: passed[k]! - (decided[k + 1] ?? 0)}, () => ({exit: k + 1.5}))
    ]);
    const last = kaplanMeier(spells, {level: conf}).at(-1)!;
    expectClose(last.survival, expected.estimate, 1e-6);
    expectClose([last.se! / last.survival, last.se], [expected.seLogDelta, expected.se], 1e-6);
    for (const [limits, want] of [
      ["log", expected.log],
      ["log-log", expected.loglog],
      ["logit", expected.logit]
    ] as const) {
      const {low, high} = kaplanMeier(spells, {level: conf, limits}).at(-1)!;
      expectClose([low, high], want, 1e-6, limits);
    }
  });

  test(`betaProductMoments and betaProductQuantile give R's Jeffreys belief of the rolled yield: ${name}`, () => {
    const {passed, decided, conf} = input;
    const shapes = passed.map((x, k) => ({alpha: x + 0.5, beta: decided[k]! - x + 0.5}));
    const {mean, variance} = betaProductMoments(shapes);
    expectClose([mean, Math.sqrt(variance)], [expected.jeffreysMean, expected.jeffreysSD], 1e-6);
    const [low, median, high] = [(1 - conf) / 2, 0.5, (1 + conf) / 2].map((p) => betaProductQuantile(p, shapes));
    expectClose([low, high], expected.jeffreysInterval, 1e-6);
    expectClose(median, expected.jeffreysMedian, 1e-6);
    expectClose(betaProductCdf(expected.jeffreysMedian, shapes), 0.5, 1e-6);
  });
}

// Published: none; R only. R 4.2.2, one stage with 7 of 9:
//   f <- function(p) 2*(dbinom(7,9,7/9,log=TRUE) - dbinom(7,9,p,log=TRUE)) - qchisq(.95,1)
//   uniroot(f, c(1e-9, 7/9), tol=1e-14)$root; uniroot(f, c(7/9, 1-1e-9), tol=1e-14)$root
// and 9 of 9, where 2·9·ln(1/p) = χ² gives p = exp(-χ²/18) by hand.
test("rolledYield of one stage is the profile-likelihood interval of a share", () => {
  const seven = rolledYield([{passed: 7, decided: 9}])!;
  expectClose([seven.low, seven.high], [0.458267164282715, 0.959160407632739], 1e-9);
  const nine = rolledYield([{passed: 9, decided: 9}])!;
  expectClose([nine.low, nine.high], [0.807821323717756, 1], 1e-9);
});

test("rolledYield without a pass at some stage is 0, with an upper limit", () => {
  const got = rolledYield([
    {passed: 5, decided: 6},
    {passed: 0, decided: 4}
  ])!;
  expect([got.fraction, got.low]).toEqual([0, 0]);
  expect(got.high).toBeGreaterThan(0.1);
  expect(got.high).toBeLessThan(0.6);
});
