import {check} from "../check.ts";
import type {ClusterTable} from "./clusterTable.ts";
import type {Spell} from "./eventTable.ts";
import {type FinalIncidence, weightedIncidence} from "./weightedIncidence.ts";

/** Where the pieces end that enter the first of several stages: shares of these, fractions of 1. */
export interface ChainedIncidence {
  /** What becomes of the pieces that reach each stage, as a share of those that reach it. */
  stages: FinalIncidence[];
  /** Share that passes all stages; undefined while some stage has decided nothing. */
  passed?: number;
  /** The same if all that is undecided passed. */
  passedAtMost?: number;
  /** Share ended by each cause other than passing, at whatever stage. */
  ended: Record<string, number>;
  /** Share that the data leave undecided, at whatever stage. With passed and ended it adds up to 1. */
  undecided: number;
}

/**
 * Prepares clusters (lots) of spells at several stages, one after the other, and returns a function that gives where the pieces end when
 * cluster i counts `weights[i]` times (`out` as in `weightedIncidence`). Each stage has its own clock, so that a young book says of each stage what it knows:
 *
 *   F_k,c final Aalen–Johansen incidence of cause c at stage k        R₁ = 1, R₍k+1₎ = R_k · F_k,passing
 *   passed = R after the last stage    ended by c = Σ R_k F_k,c    undecided = Σ R_k S_k
 *
 * Source: Aalen & Johansen (1978), Scand. J. Statist. 5:141–150, stage by stage; the product as rolled yield.
 * Checked: tests/stats/chainedIncidence.test.ts; tests/reference/pipelineSixty.test.ts (R survival)
 *
 * @param stages for each stage, for each cluster, its spells there, or their table; as many clusters at every stage
 * @param passing the cause that leads to the next stage
 * @throws RangeError on stages with unlike numbers of clusters, and as `weightedIncidence`
 */
export function chainedIncidence(
  stages: readonly (readonly (readonly Spell[])[] | ClusterTable)[],
  passing: string
): (weights?: readonly number[], out?: readonly number[]) => ChainedIncidence {
  const sizes = stages.map((stage) => ("sums" in stage ? stage.pieces.length : stage.length));
  const clusters = sizes[0] ?? 0;
  for (const size of sizes) check(size === clusters, "chainedIncidence: stages", `${clusters} clusters at each`, size);
  const incidences = stages.map((spells) => weightedIncidence(spells));
  return (weights, out) => {
    const finals = incidences.map((incidence) => incidence(weights, out));
    const ended: Record<string, number> = {};
    let [reached, atMost, undecided, known] = [1, 1, 0, true];
    for (const {survival, fraction} of finals) {
      for (const [cause, share] of Object.entries(fraction))
        if (cause !== passing) ended[cause] = (ended[cause] ?? 0) + reached * share;
      const passed = fraction[passing] ?? 0;
      undecided += reached * survival;
      reached *= passed;
      atMost *= passed + survival;
      known &&= survival < 1; // 1: nothing is decided here, which is not a yield of 0
    }
    return {stages: finals, ...(known && {passed: reached, passedAtMost: Math.min(1, atMost)}), ended, undecided};
  };
}
