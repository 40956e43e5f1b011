import {check} from "../check.ts";
import {checkSpell, firstAfter, type Spell} from "./eventTable.ts";
import {distinct} from "./numbers.ts";

/** Counts of pieces, when the clusters count so often. */
export interface TableSums {
  /** For each time, and one beyond: pieces that come to be at risk before it, less those that are so no more. */
  change: Float64Array;
  /** Pieces that end, by time and within it by cause. */
  events: Float64Array;
}

/** Spells of clusters (lots) as counts at the distinct times at which any piece ends. */
export interface ClusterTable {
  /** Ascending, in the unit of the spells. */
  times: number[];
  /** Every cause that occurs, in code-unit order. */
  causes: string[];
  /**
   * The counts of all clusters together when cluster i counts `weights[i]` times; valid until the next call.
   *
   * @param out where all weights are 1 but those of these clusters, which are 0: they are taken off the sum of all
   */
  sums: (weights: readonly number[], out?: readonly number[]) => TableSums;
}

/**
 * Prepares clusters of spells for being counted together in ever new ways, as a jackknife or a bootstrap does.
 *
 *   change(u) = Σ wᵢ (pieces of i that enter before u − those that leave before u)    events(u, k) = Σ wᵢ d_kᵢ(u)
 *
 * Checked: tests/stats/clusterTable.test.ts, against `eventTable` of the spells repeated so often
 *
 * @throws RangeError on impossible spells (see `eventTable`); and when called, unless there is one weight of 0 or more for each cluster
 */
export function clusterTable(clusters: readonly (readonly Spell[])[], where = "clusterTable"): ClusterTable {
  const exits = new Set<number>();
  const named = new Set<string>();
  for (const spells of clusters)
    for (const spell of spells) {
      checkSpell(spell, where);
      if (spell.cause === undefined) continue;
      exits.add(spell.exit);
      named.add(spell.cause);
    }
  const times = distinct(exits);
  const causes = [...named].sort();
  const causeAt = new Map(causes.map((cause, index) => [cause, index]));
  const sums: TableSums = {
    change: new Float64Array(times.length + 1),
    events: new Float64Array(times.length * causes.length)
  };
  const changes: Cells[] = [];
  const events: Cells[] = [];
  for (const spells of clusters) {
    const [changed, ended]: [number[], number[]] = [[], []];
    for (const {entry = 0, exit, cause, count = 1} of spells) {
      const before = entry > 0 ? firstAfter(times, entry) : 0;
      const after = firstAfter(times, exit);
      sums.change[before]! += count;
      sums.change[after]! -= count;
      changed.push(before, after);
      if (cause === undefined) continue;
      const place = (after - 1) * causes.length + causeAt.get(cause)!;
      sums.events[place]! += count;
      ended.push(place);
    }
    changes.push(taken(sums.change, changed));
    events.push(taken(sums.events, ended));
  }
  const ones = clusters.map(() => 1);
  const addAll = (weights: readonly number[]) => {
    sums.change.fill(0);
    sums.events.fill(0);
    clusters.forEach((_, i) => {
      add(sums.change, changes[i]!, weights[i]!);
      add(sums.events, events[i]!, weights[i]!);
    });
  };
  let [isWhole, isOut]: [boolean, readonly number[]] = [false, []];
  return {
    times,
    causes,
    sums: (weights, out) => {
      check(weights.length === clusters.length, `${where}: weights`, `${clusters.length} numbers`, weights.length);
      if (out === undefined) {
        for (const weight of weights) check(weight >= 0, `${where}: weights`, "0 or more", weight);
        addAll(weights);
        isWhole = false;
        return sums;
      }
      // Counts are whole numbers, so that what is taken off and put back leaves no trace.
      if (!isWhole) addAll(ones);
      else for (const i of isOut) addOne(i, 1);
      for (const i of out) addOne(i, -1);
      [isWhole, isOut] = [true, out];
      return sums;
    }
  };

  function addOne(i: number, weight: number): void {
    add(sums.change, changes[i]!, weight);
    add(sums.events, events[i]!, weight);
  }
}

/** What one cluster adds to the places of a table. */
interface Cells {
  places: Int32Array;
  counts: Float64Array;
}

/** The cells of a table that are not 0, of those touched; they are cleared. */
function taken(table: Float64Array, touched: readonly number[]): Cells {
  const places: number[] = [];
  const counts: number[] = [];
  for (const place of touched) {
    if (table[place] === 0) continue;
    places.push(place);
    counts.push(table[place]!);
    table[place] = 0;
  }
  return {places: Int32Array.from(places), counts: Float64Array.from(counts)};
}

function add(table: Float64Array, {places, counts}: Cells, weight: number): void {
  if (weight === 0) return;
  for (let i = 0; i < places.length; i++) table[places[i]!]! += weight * counts[i]!;
}
