import {expect, test} from "vitest";
import {rolledYield} from "../../lib/stats/rolledYield.ts";
import {expectClose} from "./close.ts";

const stages = ({passed, decided}: {passed: number[]; decided: number[]}) =>
  passed.map((count, k) => ({passed: count, decided: decided[k]!}));

// square->rough->half->near->finished, decided pieces per stage.
// Published: none with numbers; R only.
// R: profile likelihood (Madansky): p_k = (x_k + λ)/(n_k + λ), deviance = qchisq(conf, 1); a stage without failures
// stays at 1 until λ = -n_k, then it alone falls, adding -2·n_k·log p_k. Tolerance 1e-06 relative.
const four = {
  input: {passed: [221, 187, 151, 128], decided: [240, 204, 160, 131], conf: 0.95},
  expected: {
    stage: [0.920833333333, 0.916666666667, 0.94375, 0.977099236641],
    estimate: 0.778373621713,
    profileLikelihood: [0.718815232386, 0.830813522074]
  }
};

// small counts, 90 %.
// Published: none; R only.
// R: as above. Tolerance 1e-06 relative.
// Stage 3 has no failures: the usual standard error gives it no part in the interval, the profile does.
const small = {
  input: {passed: [11, 9, 8], decided: [14, 11, 8], conf: 0.9},
  expected: {
    stage: [0.785714285714, 0.818181818182, 1],
    estimate: 0.642857142857,
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
