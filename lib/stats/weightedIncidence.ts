import {check} from "../check.ts";
import {checkSpell, firstAfter, type Spell} from "./eventTable.ts";
import {distinct} from "./numbers.ts";

/** Where the pieces have ended at the last event time; survival and all fractions add up to 1. */
export interface FinalIncidence {
  /** Share without any event, a fraction of 1. */
  survival: number;
  /** Share ended by each cause that occurs in any cluster, fractions of 1. */
  fraction: Record<string, number>;
}

/** What one cluster adds to one place of the pooled table: `count` pieces. */
interface Cell {
  place: number;
  count: number;
}

/**
 * Prepares clusters (lots) of spells for leaving some out: returns a function that gives the final Aalen–Johansen
 * incidence, in fractions of 1, when cluster i counts `weights[i]` times. It equals the last row of `aalenJohansen`
 * on the spells repeated so often, but visits only the cells of a prepared table.
 *
 *   n(u) = Σ wᵢ nᵢ(u)    d_k(u) = Σ wᵢ d_kᵢ(u)    F_k = Σ S(u−)·d_k(u)/n(u)    S = ∏ (1 − d(u)/n(u))
 *
 * Checked: tests/stats/weightedIncidence.test.ts, against `aalenJohansen` on repeated spells.
 *
 * @throws RangeError on impossible spells; and when called, unless there is one weight of 0 or more for each cluster
 */
export function weightedIncidence(clusters: readonly (readonly Spell[])[]) {
  for (const spell of clusters.flat()) checkSpell(spell, "weightedIncidence");
  const ended = clusters.flat().filter((spell) => spell.cause !== undefined);
  const times = distinct(ended.map((spell) => spell.exit));
  const causes = [...new Set(ended.map((spell) => spell.cause!))].sort();
  const causeAt = new Map(causes.map((cause, index) => [cause, index]));
  const width = causes.length;
  const changes = clusters.map((spells) => tally(spells.flatMap((spell) => riskChanges(spell, times))));
  const deaths = clusters.map((spells) => tally(spells.flatMap((spell) => eventPlace(spell, times, causeAt, width))));

  return (weights: readonly number[]): FinalIncidence => {
    check(
      weights.length === clusters.length,
      "weightedIncidence: weights",
      `${clusters.length} numbers`,
      weights.length
    );
    for (const weight of weights) check(weight >= 0, "weightedIncidence: weights", "0 or more", weight);
    const change = weightedSum(changes, weights, times.length + 1);
    const events = weightedSum(deaths, weights, times.length * width);
    const fraction = new Float64Array(width);
    let survival = 1;
    let atRisk = 0;
    for (let row = 0; row < times.length; row++) {
      atRisk += change[row]!;
      let d = 0;
      for (let k = 0; k < width; k++) d += events[row * width + k]!;
      if (d === 0) continue; // also where no weighted piece is at risk
      for (let k = 0; k < width; k++) fraction[k]! += (survival * events[row * width + k]!) / atRisk;
      survival *= Math.max(0, 1 - d / atRisk); // fractional weights can leave 1 − d/n at −1e-16
    }
    return {survival, fraction: Object.fromEntries(causes.map((cause, k) => [cause, fraction[k]!]))};
  };
}

function riskChanges({entry = 0, exit}: Spell, times: readonly number[]): Cell[] {
  return [
    {place: entry > 0 ? firstAfter(times, entry) : 0, count: 1},
    {place: firstAfter(times, exit), count: -1}
  ];
}

function eventPlace({exit, cause}: Spell, times: number[], causeAt: Map<string, number>, width: number): Cell[] {
  if (cause === undefined) return [];
  return [{place: (firstAfter(times, exit) - 1) * width + causeAt.get(cause)!, count: 1}];
}

/** Cells of one place added up; those that cancel left out. */
function tally(cells: readonly Cell[]): Cell[] {
  const counts = new Map<number, number>();
  for (const {place, count} of cells) counts.set(place, (counts.get(place) ?? 0) + count);
  return [...counts].map(([place, count]) => ({place, count})).filter((cell) => cell.count !== 0);
}

function weightedSum(cells: readonly (readonly Cell[])[], weights: readonly number[], length: number): Float64Array {
  const sums = new Float64Array(length);
  cells.forEach((own, cluster) => {
    const weight = weights[cluster]!;
    if (weight === 0) return;
    for (const {place, count} of own) sums[place]! += weight * count;
  });
  return sums;
}
