import {check} from "../check.ts";
import {checkSpell, type EventTable, firstAfter, type Spell} from "./eventTable.ts";
import {distinct} from "./numbers.ts";

/** Counts of pieces, when the clusters count so often; valid until the table is asked again. */
export interface TableSums {
  /** For each time, and one beyond: pieces that come to be at risk before it, less those that are so no more. */
  change: Float64Array;
  /** Pieces that end, by time and within it by cause. */
  events: Float64Array;
  /** Pieces that end, by time. */
  ended: Float64Array;
}

/** Spells of clusters (lots) as counts at the distinct times at which any piece ends. */
export interface ClusterTable {
  /** Ascending, in the unit of the spells. */
  times: readonly number[];
  /** Every cause that occurs, in code-unit order. */
  causes: readonly string[];
  /** Pieces of each cluster, however they ended. */
  pieces: readonly number[];
  /** The latest exit, of an event or not; 0 without spells. */
  lastObserved: number;
  /**
   * The counts of all clusters together when cluster i counts `weights[i]` times, once unless given.
   *
   * @param out where all weights are 1 but those of these clusters, which are 0: they are taken off the sum of all
   */
  sums: (weights?: readonly number[], out?: readonly number[]) => TableSums;
  /** The table of some of the clusters, over the same times and causes: those that occur in none of them count 0. */
  of: (clusters: readonly number[]) => ClusterTable;
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
  const [change, events] = [new Float64Array(times.length + 1), new Float64Array(times.length * causes.length)];
  const counted = clusters.map((spells): Counted => {
    const [changed, ended]: [number[], number[]] = [[], []];
    let [pieces, last] = [0, 0];
    for (const {entry = 0, exit, cause, count = 1} of spells) {
      const before = entry > 0 ? firstAfter(times, entry) : 0;
      const after = firstAfter(times, exit);
      change[before]! += count;
      change[after]! -= count;
      changed.push(before, after);
      pieces += count;
      if (exit > last) last = exit;
      if (cause === undefined) continue;
      const place = (after - 1) * causes.length + causeAt.get(cause)!;
      events[place]! += count;
      ended.push(place);
    }
    return {changes: taken(change, changed), events: taken(events, ended), pieces, last};
  });
  return tableOf(times, causes, counted, where);
}

/** What one cluster adds to a table. */
interface Counted {
  changes: Cells;
  events: Cells;
  pieces: number;
  /** The latest exit, of an event or not. */
  last: number;
}

/** Numbers at places of a table. */
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

function tableOf(
  times: readonly number[],
  causes: readonly string[],
  counted: readonly Counted[],
  where: string
): ClusterTable {
  const width = causes.length;
  const sums: TableSums = {
    change: new Float64Array(times.length + 1),
    events: new Float64Array(times.length * width),
    ended: new Float64Array(times.length)
  };
  const addOne = ({changes, events}: Counted, weight: number): void => {
    if (weight === 0) return;
    for (let i = 0; i < changes.places.length; i++) sums.change[changes.places[i]!]! += weight * changes.counts[i]!;
    for (let i = 0; i < events.places.length; i++) {
      const [place, count] = [events.places[i]!, weight * events.counts[i]!];
      sums.events[place]! += count;
      sums.ended[Math.floor(place / width)]! += count;
    }
  };
  const addAll = (weightOf: (cluster: number) => number) => {
    for (const table of Object.values(sums) as Float64Array[]) table.fill(0);
    for (let i = 0; i < counted.length; i++) addOne(counted[i]!, weightOf(i));
  };
  let [isWhole, isOut]: [boolean, readonly number[]] = [false, []];
  return {
    times,
    causes,
    pieces: counted.map(({pieces}) => pieces),
    lastObserved: counted.reduce((latest, {last}) => Math.max(latest, last), 0),
    sums: (weights, out = weights === undefined ? [] : undefined) => {
      if (weights) {
        check(weights.length === counted.length, `${where}: weights`, `${counted.length} numbers`, weights.length);
      }
      if (out === undefined) {
        for (const weight of weights!) check(weight >= 0, `${where}: weights`, "0 or more", weight);
        addAll((cluster) => weights![cluster]!);
        isWhole = false;
        return sums;
      }
      // Counts are whole numbers, so that what is taken off and put back leaves no trace.
      if (!isWhole) addAll(() => 1);
      else for (const i of isOut) addOne(counted[i]!, 1);
      for (const i of out) addOne(counted[i]!, -1);
      [isWhole, isOut] = [true, out];
      return sums;
    },
    of: (clusters) =>
      tableOf(
        times,
        causes,
        clusters.map((cluster) => counted[cluster]!),
        where
      )
  };
}

/** All clusters counted once as a table of events, as `eventTable` makes it of their spells. */
export function pooledEvents(table: ClusterTable): EventTable {
  const {change, events, ended} = table.sums();
  const rows: number[] = [];
  const atRisk: number[] = [];
  let n = 0;
  table.times.forEach((_, row) => {
    n += change[row]!;
    if (ended[row] === 0) return;
    rows.push(row);
    atRisk.push(n);
  });
  const width = table.causes.length;
  const own = [...endedByCause(table).keys()];
  const columns = own.map((cause) => {
    const k = table.causes.indexOf(cause);
    return [cause, rows.map((row) => events[row * width + k]!)] as const;
  });
  return {
    times: rows.map((row) => table.times[row]!),
    atRisk,
    causes: own,
    events: Object.fromEntries(columns),
    lastObserved: table.lastObserved
  };
}

/** Pieces that ended by each cause, all clusters counted once. */
export function endedByCause(table: ClusterTable): Map<string, number> {
  const {events} = table.sums();
  const totals = new Map<string, number>();
  table.causes.forEach((cause, k) => {
    let total = 0;
    for (let place = k; place < events.length; place += table.causes.length) total += events[place]!;
    if (total > 0) totals.set(cause, total);
  });
  return totals;
}
