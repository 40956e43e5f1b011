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
  of: (clusters: ArrayLike<number>) => ClusterTable;
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
  for (const spells of clusters) for (const spell of spells) checkSpell(spell, where);
  const all = clusters.flat();
  const causes = [...new Set(all.flatMap(({cause}) => cause ?? []))].sort();
  const causeAt = new Map(causes.map((cause, index) => [cause, index]));
  const starts = new Int32Array(clusters.length + 1);
  clusters.forEach((spells, i) => {
    starts[i + 1] = starts[i]! + spells.length;
  });
  const columns = {
    starts,
    entry: Float64Array.from(all, ({entry = 0}) => entry),
    exit: Float64Array.from(all, ({exit}) => exit),
    cause: Int32Array.from(all, ({cause}) => (cause === undefined ? -1 : causeAt.get(cause)!)),
    count: Float64Array.from(all, ({count = 1}) => count)
  };
  return columnTable(columns, causes, where);
}

/** Spells side by side, those of one cluster after those of the other. */
export interface SpellColumns {
  /** Where the spells of each cluster begin, and at last where those of the last one end. */
  starts: Int32Array;
  entry: Float64Array;
  exit: Float64Array;
  /** Place in the list of causes; −1 where censored. */
  cause: Int32Array;
  count: Float64Array;
}

/** `clusterTable` of spells that are known to be possible, for who has them side by side already. Causes that never occur are left out. */
export function columnTable(spells: SpellColumns, named: readonly string[], where = "columnTable"): ClusterTable {
  const {starts, entry, exit, cause, count} = spells;
  const exits = new Set<number>();
  const occurs = new Uint8Array(named.length);
  for (let i = 0; i < exit.length; i++) {
    if (cause[i]! < 0) continue;
    exits.add(exit[i]!);
    occurs[cause[i]!] = 1;
  }
  const times = distinct(exits);
  const after = afterTable(times);
  const causes = named.filter((_, k) => occurs[k] === 1);
  const width = causes.length;
  const column = Int32Array.from(named, (name) => causes.indexOf(name));
  const clusters = starts.length - 1;
  const changes = new CellRows(clusters, 2 * exit.length, times.length + 1);
  const events = new CellRows(clusters, exit.length, times.length * width);
  const pieces = new Array<number>(clusters).fill(0);
  const last = new Float64Array(clusters);
  for (let cluster = 0; cluster < clusters; cluster++) {
    for (let i = starts[cluster]!; i < starts[cluster + 1]!; i++) {
      const gone = after(exit[i]!);
      changes.add(entry[i]! > 0 ? after(entry[i]!) : 0, count[i]!);
      changes.add(gone, -count[i]!);
      pieces[cluster]! += count[i]!;
      if (exit[i]! > last[cluster]!) last[cluster] = exit[i]!;
      if (cause[i]! >= 0) events.add((gone - 1) * width + column[cause[i]!]!, count[i]!);
    }
    changes.end(cluster);
    events.end(cluster);
  }
  const every = Int32Array.from({length: clusters}, (_, cluster) => cluster);
  return tableOf({times, causes, changes, events, pieces, last, where}, every);
}

/** The index of the first time beyond another. Whole days are looked up: that takes a ninth of what halving the list again and again does. */
function afterTable(times: readonly number[]): (time: number) => number {
  const latest = times.at(-1) ?? 0;
  if (latest > 100_000 || !times.every(Number.isInteger)) return (time) => firstAfter(times, time);
  const known = new Int32Array(latest + 1);
  let row = 0;
  for (let day = 0; day <= latest; day++) {
    if (times[row] === day) row++;
    known[day] = row;
  }
  return (time) => (time > latest ? times.length : known[Math.floor(time)]!);
}

/** For each cluster the numbers at places of a table that are not 0, all side by side. */
class CellRows {
  readonly starts: Int32Array;
  readonly places: Int32Array;
  readonly counts: Float64Array;
  readonly #sums: Float64Array;
  readonly #touched: Int32Array;
  #touches = 0;
  #filled = 0;

  constructor(clusters: number, most: number, places: number) {
    this.starts = new Int32Array(clusters + 1);
    this.places = new Int32Array(most);
    this.counts = new Float64Array(most);
    this.#sums = new Float64Array(places);
    this.#touched = new Int32Array(most);
  }

  /** Adds to a place of the cluster at hand. */
  add(place: number, count: number): void {
    this.#sums[place]! += count;
    this.#touched[this.#touches++] = place;
  }

  /** Ends the cluster at hand: what its places add up to is kept. */
  end(cluster: number): void {
    for (let i = 0; i < this.#touches; i++) {
      const place = this.#touched[i]!;
      if (this.#sums[place] === 0) continue;
      this.places[this.#filled] = place;
      this.counts[this.#filled++] = this.#sums[place]!;
      this.#sums[place] = 0;
    }
    this.#touches = 0;
    this.starts[cluster + 1] = this.#filled;
  }

  /** Adds the cells of a cluster, so many times, to a table. */
  addTo(table: Float64Array, cluster: number, weight: number): void {
    const {starts, places, counts} = this;
    for (let i = starts[cluster]!; i < starts[cluster + 1]!; i++) table[places[i]!]! += weight * counts[i]!;
  }
}

/** All that a table is made of. */
interface Counted {
  times: readonly number[];
  causes: readonly string[];
  changes: CellRows;
  events: CellRows;
  pieces: readonly number[];
  /** The latest exit of each cluster. */
  last: Float64Array;
  where: string;
}

/** The table of some clusters. */
function tableOf(counted: Counted, own: Int32Array): ClusterTable {
  const {times, causes, changes, events, pieces, last, where} = counted;
  const width = causes.length;
  let sums: TableSums | undefined;
  let [isWhole, isOut]: [boolean, readonly number[]] = [false, []];
  const addOne = (table: TableSums, cluster: number, weight: number): void => {
    if (weight === 0) return;
    changes.addTo(table.change, own[cluster]!, weight);
    events.addTo(table.events, own[cluster]!, weight);
  };
  const addAll = (table: TableSums, weightOf: (cluster: number) => number) => {
    table.change.fill(0);
    table.events.fill(0);
    for (let cluster = 0; cluster < own.length; cluster++) addOne(table, cluster, weightOf(cluster));
  };
  const endings = (table: TableSums): TableSums => {
    for (let row = 0, place = 0; row < times.length; row++) {
      let ended = 0;
      for (let k = 0; k < width; k++) ended += table.events[place++]!;
      table.ended[row] = ended;
    }
    return table;
  };
  return {
    times,
    causes,
    pieces: Array.from(own, (cluster) => pieces[cluster]!),
    lastObserved: own.reduce((latest, cluster) => Math.max(latest, last[cluster]!), 0),
    sums: (weights, out = weights === undefined ? [] : undefined) => {
      if (weights) check(weights.length === own.length, `${where}: weights`, `${own.length} numbers`, weights.length);
      sums ??= {
        change: new Float64Array(times.length + 1),
        events: new Float64Array(times.length * width),
        ended: new Float64Array(times.length)
      };
      if (out === undefined) {
        for (const weight of weights!) check(weight >= 0, `${where}: weights`, "0 or more", weight);
        addAll(sums, (cluster) => weights![cluster]!);
        isWhole = false;
        return endings(sums);
      }
      // Counts are whole numbers, so that what is taken off and put back leaves no trace.
      if (!isWhole) addAll(sums, () => 1);
      else for (const cluster of isOut) addOne(sums, cluster, 1);
      for (const cluster of out) addOne(sums, cluster, -1);
      [isWhole, isOut] = [true, out];
      return endings(sums);
    },
    of: (clusters) =>
      tableOf(
        counted,
        Int32Array.from(clusters, (cluster) => own[cluster]!)
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
