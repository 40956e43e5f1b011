import {normalFactor} from "../stats/interval.ts";

/**
 * How well the yield of each stage is known, as the variance of its logarithm, from its 95 % interval over lots:
 *
 *   Var ln y = ((ln high − ln low) / (2 · 1.96))²
 *
 * A stage without an interval, or with one down to 0, tells nothing and is left out.
 * Source: the delta method on the logarithm, common practice. Checked: tests/buying/stageDoubts.test.ts
 *
 * @param stages rows of `stageYields`, fractions of 1
 */
export function stageDoubts(
  stages: readonly {stage: string; yieldLow?: number; yieldHigh?: number}[]
): {stage: string; logVariance: number}[] {
  return stages.flatMap(({stage, yieldLow = 0, yieldHigh = 0}) =>
    yieldLow > 0 && yieldHigh >= yieldLow
      ? [{stage, logVariance: (Math.log(yieldHigh / yieldLow) / (2 * normalFactor(0.95, "stageDoubts"))) ** 2}]
      : []
  );
}
