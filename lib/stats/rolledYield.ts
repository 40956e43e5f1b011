import chiSquareQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import {checkCounts, checkLevel, type Interval} from "./interval.ts";
import {sum} from "./numbers.ts";
import {root} from "./root.ts";

/** What was decided at one stage. */
export interface StageCount {
  passed: number;
  decided: number;
}

/**
 * Product of the stages' passed ÷ decided with its profile-likelihood interval, fractions of 1: honest for few pieces
 * and for stages where nothing failed, where the usual ± adds nothing.
 *
 *   R = ∏ x_k/n_k    limits: the R₀ with 2·( ln L(x/n) − max ln L given ∏ p_k = R₀ ) = χ²₁(level)
 *   the maximum lies at p_k = (x_k + λ)/(n_k + λ), λ > 0 for the upper limit and λ < 0 for the lower
 *
 * Trap: passed ÷ decided is right only if a discard takes as long as a pass; where defects show early it is too low,
 * and the more so the faster purchases grow: then multiply `aalenJohansen` incidences. It takes pieces as independent.
 *
 * Source: Madansky (1965), Technometrics 7:495–503 (from memory).
 * Checked: tests/reference/rolledYield.test.ts, against R; for one stage, against R's profile-likelihood interval of
 * a share.
 *
 * @returns undefined without stages, or when at one of them nothing was decided
 * @throws RangeError unless 0 ≤ passed ≤ decided, both whole, and 0 < level < 1
 */
export function rolledYield(
  stages: readonly StageCount[],
  {level = 0.95} = {}
): (Interval & {fraction: number}) | undefined {
  checkLevel(level, "rolledYield");
  for (const {passed, decided} of stages) checkCounts(passed, decided, "rolledYield", ["passed", "decided"]);
  if (stages.length === 0 || stages.some((stage) => stage.decided === 0)) return undefined;
  const fraction = stages.reduce((product, {passed, decided}) => product * (passed / decided), 1);
  const drop = chiSquareQuantile(level, 1);
  return {fraction, low: fraction === 0 ? 0 : lowerLimit(stages, drop), high: upperLimit(stages, drop)};
}

/** Shares rise together with λ; a stage where all passed stays at 1. When all stages are such, so is the limit. */
function upperLimit(stages: readonly StageCount[], drop: number): number {
  if (stages.every(({passed, decided}) => passed === decided)) return 1;
  const miss = (lambda: number) => deviance(stages, lambda) - drop;
  let high = 1;
  while (miss(high) < 0) high *= 2;
  return productAt(stages, root(miss, 0, high));
}

/**
 * Shares fall together with λ < 0; at λ = −x a stage would fall to 0. A stage where all passed keeps its 1 until
 * λ = −n; if the deviance is not used up there, that stage alone falls on, each factor p adding 2·n·ln(1/p).
 */
function lowerLimit(stages: readonly StageCount[], drop: number): number {
  const perfect = stages.filter(({passed, decided}) => passed === decided).map((stage) => stage.decided);
  const fewest = Math.min(...stages.map((stage) => stage.passed));
  const miss = (lambda: number) => deviance(stages, lambda) - drop;
  const spare = perfect.length === 0 ? Number.POSITIVE_INFINITY : -miss(-Math.min(...perfect, fewest));
  if (Math.min(...perfect) > fewest || spare < 0) {
    return productAt(stages, root(miss, -fewest * (1 - 1e-12), 0));
  }
  const least = Math.min(...perfect);
  return productAt(stages, -least) * Math.exp(-spare / (2 * least));
}

/** 2·(ln L at the estimates − ln L at λ). A stage where all passed is not moved by λ. */
function deviance(stages: readonly StageCount[], lambda: number): number {
  const log = (count: number, ratio: number) => (count === 0 ? 0 : count * Math.log(ratio));
  return sum(
    stages.map(({passed: x, decided: n}) => {
      if (x === n) return 0;
      const p = (x + lambda) / (n + lambda);
      return 2 * (log(x, x / n / p) + log(n - x, (n - x) / n / (1 - p)));
    })
  );
}

function productAt(stages: readonly StageCount[], lambda: number): number {
  return stages.reduce((product, {passed: x, decided: n}) => product * (x === n ? 1 : (x + lambda) / (n + lambda)), 1);
}
