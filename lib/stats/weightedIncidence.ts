import {type ClusterTable, clusterTable} from "./clusterTable.ts";
import type {Spell} from "./eventTable.ts";

/** Where the pieces have ended at the last event time; survival and all fractions add up to 1. */
export interface FinalIncidence {
  /** Share without any event, a fraction of 1. */
  survival: number;
  /** Share ended by each cause that occurs in any cluster, fractions of 1. */
  fraction: Record<string, number>;
}

/**
 * Prepares clusters (lots) of spells for leaving some out: returns a function that gives the final Aalen–Johansen
 * incidence, in fractions of 1, when cluster i counts `weights[i]` times, once unless given. It equals the last row of `aalenJohansen`
 * on the spells repeated so often, but visits only the cells of a prepared table.
 *
 *   n(u) = Σ wᵢ nᵢ(u)    d_k(u) = Σ wᵢ d_kᵢ(u)    F_k = Σ S(u−)·d_k(u)/n(u)    S = ∏ (1 − d(u)/n(u))
 *
 * Of weights that are all 1 but 0 for some clusters it wants to know which, as `out`: then it takes them off the sum of all.
 *
 * Checked: tests/stats/weightedIncidence.test.ts, against `aalenJohansen` on repeated spells.
 *
 * @throws RangeError on impossible spells; and when called, unless there is one weight of 0 or more for each cluster
 */
export function weightedIncidence(clusters: readonly (readonly Spell[])[] | ClusterTable) {
  const table = "sums" in clusters ? clusters : clusterTable(clusters, "weightedIncidence");
  const {times, causes} = table;
  const width = causes.length;
  return (weights?: readonly number[], out?: readonly number[]): FinalIncidence => {
    const {change, events, ended} = table.sums(weights, out);
    const fraction = new Float64Array(width);
    let survival = 1;
    let atRisk = 0;
    for (let row = 0; row < times.length; row++) {
      atRisk += change[row]!;
      const d = ended[row]!;
      if (d === 0) continue; // also where no weighted piece is at risk
      for (let k = 0; k < width; k++) fraction[k]! += (survival * events[row * width + k]!) / atRisk;
      survival *= Math.max(0, 1 - d / atRisk); // fractional weights can leave 1 − d/n at −1e-16
    }
    return {survival, fraction: Object.fromEntries(causes.map((cause, k) => [cause, fraction[k]!]))};
  };
}
