import {type ClusterTable, columnTable, type SpellColumns} from "../stats/clusterTable.ts";
import {sortedBy} from "./sortedBy.ts";
import type {SpellCount, WindowSide} from "./spellCounts.ts";

/** Stands for the day on which squares leave that are there yet. */
const there = 2 ** 31 - 1;
const sides: readonly (WindowSide | undefined)[] = [undefined, "below", "inside", "above"];

/** Whether what became of squares is a cause by which they left: passing, being diverted or thrown out; not that a shaft was sold. */
const isCause = (outcome: string | undefined) =>
  outcome !== undefined && outcome !== "allotted" && outcome !== "delivered";

/** Counts side by side, as `SpellCount` has them row by row; `stage` and `outcome` are places in lists of names. */
interface Columns {
  stages: readonly string[];
  outcomes: readonly (string | undefined)[];
  from: Int32Array;
  /** `there` while they are there. */
  to: Int32Array;
  outcome: Int32Array;
  side: Int8Array;
  squares: Int32Array;
  /** Where the counts of each stage and, within it, of each lot begin. */
  starts: Int32Array;
  /** Lots of the whole. */
  lots: number;
}

/** Gathers counts one by one, in any order. */
export class LotCountsMaker {
  readonly #lots: readonly string[];
  readonly #stages = new Names<string>();
  readonly #outcomes = new Names<string | undefined>();
  #size = 0;
  #room = 1024;
  readonly #columns = {
    lot: new Int32Array(this.#room),
    stage: new Int32Array(this.#room),
    from: new Int32Array(this.#room),
    to: new Int32Array(this.#room),
    outcome: new Int32Array(this.#room),
    side: new Int8Array(this.#room),
    squares: new Int32Array(this.#room)
  };

  constructor(lots: readonly string[]) {
    this.#lots = lots;
  }

  /**
   * @param lot its place among the lots
   * @param to absent while they are there
   */
  add(
    lot: number,
    stage: string,
    from: number,
    to: number | undefined,
    outcome: string | undefined,
    squares: number,
    side: WindowSide | undefined
  ): void {
    if (this.#size === this.#room) this.#widen();
    const at = this.#size++;
    const columns = this.#columns;
    columns.lot[at] = lot;
    columns.stage[at] = this.#stages.place(stage);
    columns.from[at] = from;
    columns.to[at] = to ?? there;
    columns.outcome[at] = this.#outcomes.place(outcome);
    columns.side[at] = sides.indexOf(side);
    columns.squares[at] = squares;
  }

  #widen(): void {
    this.#room *= 2;
    const columns = this.#columns;
    for (const key of ["lot", "stage", "from", "to", "outcome", "squares"] as const) {
      const wider = new Int32Array(this.#room);
      wider.set(columns[key]);
      columns[key] = wider;
    }
    const wider = new Int8Array(this.#room);
    wider.set(columns.side);
    columns.side = wider;
  }

  /** The counts by stage and lot, each lot's by days, outcome and side, alike ones added up: the same whoever gathered them, in whatever order. */
  made(asOf: number): LotCounts {
    const [size, lots] = [this.#size, this.#lots.length];
    const [stages, outcomes] = [this.#stages.names, this.#outcomes.names];
    const {lot, stage, from, to, outcome, side, squares} = this.#columns;
    const rank = ranks(outcomes);
    const range = stage.map((place, i) => place * lots + lot[i]!);
    let order = Int32Array.from({length: size}, (_, i) => i);
    // By the last of the keys first: each sorting leaves those alike in the order that they had.
    for (const keys of [side, outcome.map((place) => rank[place]!), openLast(to), from, range])
      order = sortedBy(order, keys);

    const columns: Columns = {
      stages,
      outcomes,
      lots,
      from: new Int32Array(size),
      to: new Int32Array(size),
      outcome: new Int32Array(size),
      side: new Int8Array(size),
      squares: new Int32Array(size),
      starts: new Int32Array(stages.length * lots + 1)
    };
    const keys = [range, from, to, outcome, side];
    let last = -1;
    for (let i = 0; i < size; i++) {
      const place = order[i]!;
      if (i === 0 || keys.some((key) => key[order[i - 1]!] !== key[place])) {
        last++;
        columns.from[last] = from[place]!;
        columns.to[last] = to[place]!;
        columns.outcome[last] = outcome[place]!;
        columns.side[last] = side[place]!;
        columns.starts[range[place]! + 1] = last + 1;
      }
      columns.squares[last]! += squares[place]!;
    }
    for (let i = 1; i < columns.starts.length; i++)
      columns.starts[i] = Math.max(columns.starts[i]!, columns.starts[i - 1]!);
    for (const key of ["from", "to", "outcome", "squares"] as const) columns[key] = columns[key].slice(0, last + 1);
    columns.side = columns.side.slice(0, last + 1);
    return new LotCounts(
      this.#lots,
      asOf,
      columns,
      Int32Array.from(this.#lots, (_, place) => place)
    );
  }
}

/** Of each name how many come before it in the alphabet. */
function ranks(names: readonly (string | undefined)[]): Int32Array {
  const byName = [...names.keys()].sort((a, b) => {
    const [one, other] = [names[a] ?? "", names[b] ?? ""];
    return one < other ? -1 : one > other ? 1 : 0;
  });
  const rank = new Int32Array(names.length);
  byName.forEach((place, at) => {
    rank[place] = at;
  });
  return rank;
}

/** Days on which squares left, those of squares there yet made the day behind the last. */
function openLast(to: Int32Array): Int32Array {
  const last = to.reduce((day, one) => (one === there ? day : Math.max(day, one)), 0);
  return to.map((day) => (day === there ? last + 1 : day));
}

/** A list of names, each once. */
class Names<T> {
  readonly names: T[] = [];
  readonly #places = new Map<T, number>();

  place(name: T): number {
    const before = this.#places.get(name);
    if (before !== undefined) return before;
    this.#places.set(name, this.names.length);
    return this.names.push(name) - 1;
  }
}

/** Which counts of a stage are looked at. */
export interface CountsAsked {
  /** Only what happened from this day number on: squares that were there already enter late, those that had left before are out. */
  since?: number | undefined;
  side?: WindowSide | undefined;
  /** Those that came to the stage on a day that is wanted. */
  cameOn?: ((day: number) => boolean) | undefined;
  /** Without squares that passed on the day they came: the stage was passed over. */
  stayed?: boolean | undefined;
}

/** Counts of squares lot by lot, made ready for the estimators stage by stage: each table is made once, whoever asks for it. */
export class LotCounts {
  readonly lots: readonly string[];
  readonly asOf: number;
  readonly #columns: Columns;
  /** Where the lots stand in the whole. */
  readonly #places: Int32Array;
  readonly #tables = new Map<string, ClusterTable>();
  readonly #whole: LotCounts | undefined;

  /** See `lotCounts` and `LotCountsMaker`. */
  constructor(lots: readonly string[], asOf: number, columns: Columns, places: Int32Array, whole?: LotCounts) {
    this.lots = lots;
    this.asOf = asOf;
    this.#columns = columns;
    this.#places = places;
    this.#whole = whole;
  }

  /** The same of some of the lots; tables that are there already are made use of. */
  only(isWanted: (lot: string) => boolean): LotCounts {
    return this.#part(this.lots.flatMap((lot, place) => (isWanted(lot) ? [place] : [])));
  }

  #part(places: readonly number[]): LotCounts {
    const lots = places.map((place) => this.lots[place]!);
    const inWhole = Int32Array.from(places, (place) => this.#places[place]!);
    return new LotCounts(lots, this.asOf, this.#columns, inWhole, this.#whole ?? this);
  }

  /** Those of the lots of which any square has a spell at one of these stages. */
  withSpellsAt(stages: readonly string[], asked: CountsAsked = {}): LotCounts {
    const tables = stages.map((stage) => this.at(stage, asked).pieces);
    return this.#part(this.lots.flatMap((_, place) => (tables.some((pieces) => pieces[place]! > 0) ? [place] : [])));
  }

  /**
   * The spells at one stage by lot: the time that the squares spent there, days, and how they left; squares still there, and shafts that were
   * sold, have no cause.
   */
  at(stage: string, asked: CountsAsked = {}): ClusterTable {
    const {since, side, cameOn, stayed} = asked;
    // What is asked for by a function is asked for once.
    const key = cameOn ? undefined : `${stage} ${since ?? ""} ${side ?? ""} ${stayed ?? ""}`;
    const before = key === undefined ? undefined : this.#tables.get(key);
    if (before) return before;
    const table = this.#whole && !cameOn ? this.#whole.at(stage, asked).of(this.#places) : this.#table(stage, asked);
    if (key !== undefined) this.#tables.set(key, table);
    return table;
  }

  #table(stage: string, {since = Number.NEGATIVE_INFINITY, side, cameOn, stayed}: CountsAsked): ClusterTable {
    const {outcomes, from, to, outcome, side: sideAt, squares} = this.#columns;
    const named = outcomes.filter((name): name is string => isCause(name)).sort();
    const causeAt = Int32Array.from(outcomes, (name) => (isCause(name) ? named.indexOf(name!) : -1));
    const passed = outcomes.indexOf("passed");
    const wanted = sides.indexOf(side);
    const ranges = this.#ranges(stage);
    const most = ranges.reduce((total, [start, end]) => total + end - start, 0);
    const spells: SpellColumns = {
      starts: new Int32Array(ranges.length + 1),
      entry: new Float64Array(most),
      exit: new Float64Array(most),
      cause: new Int32Array(most),
      count: new Float64Array(most)
    };
    let size = 0;
    ranges.forEach(([start, end], place) => {
      for (let i = start; i < end; i++) {
        if (side !== undefined && sideAt[i] !== wanted) continue;
        if (cameOn && !cameOn(from[i]!)) continue;
        const exit = (to[i] === there ? this.asOf : to[i]!) - from[i]!;
        const entry = Math.max(0, since - from[i]!);
        if (entry > 0 && exit <= entry) continue;
        if (stayed && exit === 0 && outcome[i] === passed) continue;
        spells.entry[size] = entry;
        spells.exit[size] = exit;
        spells.cause[size] = causeAt[outcome[i]!]!;
        spells.count[size++] = squares[i]!;
      }
      spells.starts[place + 1] = size;
    });
    for (const name of ["entry", "exit", "count"] as const) spells[name] = spells[name].subarray(0, size);
    spells.cause = spells.cause.subarray(0, size);
    return columnTable(spells, named, "LotCounts");
  }

  /** Where the counts of each lot at a stage stand. */
  #ranges(stage: string): (readonly [start: number, end: number])[] {
    const {stages, starts, lots} = this.#columns;
    const first = stages.indexOf(stage) * lots;
    return Array.from(this.#places, (place) =>
      first < 0 ? [0, 0] : [starts[first + place]!, starts[first + place + 1]!]
    );
  }

  /** Each count with its lot, stage by stage. */
  *rows(): Generator<SpellCount> {
    const {stages, outcomes, from, to, outcome, side, squares} = this.#columns;
    for (const stage of stages)
      for (const [place, [start, end]] of this.#ranges(stage).entries())
        for (let i = start; i < end; i++) {
          const name = outcomes[outcome[i]!];
          const sideOf = sides[side[i]!];
          yield {
            lot: this.lots[place]!,
            stage,
            from: from[i]!,
            ...(to[i] !== there && {to: to[i]!}),
            ...(name !== undefined && {outcome: name}),
            ...(sideOf !== undefined && {side: sideOf}),
            squares: squares[i]!
          };
        }
  }

  /** Calls for each count, with what `LotCountsMaker` takes of it; nothing is made for it. */
  each(look: LotCountsMaker["add"]): void {
    const {stages, outcomes, from, to, outcome, side, squares} = this.#columns;
    for (const stage of stages)
      this.#ranges(stage).forEach(([start, end], place) => {
        for (let i = start; i < end; i++) {
          const gone = to[i] === there ? undefined : to[i]!;
          look(place, stage, from[i]!, gone, outcomes[outcome[i]!], squares[i]!, sides[side[i]!]);
        }
      });
  }

  /**
   * The time from purchase to the end of squares by lot, days: finished, diverted, thrown out for a defect, or still in stock; as `purchaseSpells`.
   *
   * @param boughtOn day number by place of the lot
   * @param last the last stage
   */
  purchases(
    boughtOn: (lot: number) => number,
    {last, since = Number.NEGATIVE_INFINITY, only}: {last: string; since?: number; only?: (lot: number) => boolean}
  ): ClusterTable {
    const {stages, outcomes, from, to, outcome, squares} = this.#columns;
    const named = [...new Set(["finished", ...outcomes.filter((name): name is string => isCause(name))])].sort();
    const finished = named.indexOf("finished");
    const passed = outcomes.indexOf("passed");
    const causeAt = Int32Array.from(outcomes, (name) => (isCause(name) ? named.indexOf(name!) : -1));
    const ofStages = stages.map((stage) => ({isLast: stage === last, ranges: this.#ranges(stage)}));
    const starts = new Int32Array(this.lots.length + 1);
    const [entry, exit, cause, count]: [number[], number[], number[], number[]] = [[], [], [], []];
    this.lots.forEach((_, place) => {
      const bought = boughtOn(place);
      for (const {isLast, ranges} of only && !only(place) ? [] : ofStages) {
        const [start, end] = ranges[place]!;
        for (let i = start; i < end; i++) {
          if (outcome[i] === passed) continue;
          const out = causeAt[outcome[i]!]!;
          const ends = out >= 0 ? to[i]! : isLast ? from[i]! : this.asOf;
          const enters = Math.max(0, since - bought);
          if (enters > 0 && ends - bought <= enters) continue;
          entry.push(enters);
          exit.push(ends - bought);
          cause.push(out >= 0 ? out : isLast ? finished : -1);
          count.push(squares[i]!);
        }
      }
      starts[place + 1] = exit.length;
    });
    const columns = {
      starts,
      entry: Float64Array.from(entry),
      exit: Float64Array.from(exit),
      cause: Int32Array.from(cause),
      count: Float64Array.from(count)
    };
    return columnTable(columns, named, "LotCounts");
  }

  /** Squares of which it is known what became, or at a stage whether they passed; with `since` what became known after that day number. */
  decided({last, stage: asked, since}: {last: string; stage?: string | undefined; since?: number | undefined}): number {
    let decided = 0;
    this.each((_, stage, from, to, outcome, squares) => {
      if (asked === undefined ? outcome === "passed" : stage !== asked) return;
      const day = isCause(outcome) ? to : asked === undefined && stage === last ? from : undefined;
      if (day !== undefined && (since === undefined || day > since)) decided += squares;
    });
    return decided;
  }

  /** Squares that were at any of these stages, which follow each other from the first on or are one, from a day on. */
  seen(stages: readonly string[], since = Number.NEGATIVE_INFINITY): number {
    const {from, to, outcome, outcomes, squares} = this.#columns;
    const passed = outcomes.indexOf("passed");
    let seen = 0;
    for (const [index, stage] of stages.entries())
      for (const [start, end] of this.#ranges(stage))
        for (let i = start; i < end; i++) {
          const gone = to[i] === there ? this.asOf : to[i]!;
          const isThere = from[i]! < since && gone > since;
          // On the day itself a square may have passed through several stages: it counts at the last of them.
          const comes = from[i] === since && !(gone === since && outcome[i] === passed && index < stages.length - 1);
          if (isThere || comes || (index === 0 && from[i]! > since)) seen += squares[i]!;
        }
    return seen;
  }

  /** What the counts were on an earlier day, of the lots that were bought by then: what happened later is left out. */
  upTo(day: number, isBought: (lot: string) => boolean): LotCounts {
    const lots = this.lots.filter(isBought);
    const placeOf = new Map(lots.map((lot, place) => [lot, place]));
    const maker = new LotCountsMaker(lots);
    const places = this.lots.map((lot) => placeOf.get(lot) ?? -1);
    this.each((lot, stage, from, to, outcome, squares, side) => {
      if (places[lot]! < 0 || from > day) return;
      const isOver = to !== undefined && to <= day;
      const isLater = to !== undefined && to > day;
      maker.add(places[lot]!, stage, from, isOver ? to : undefined, isLater ? undefined : outcome, squares, side);
    });
    return maker.made(day);
  }
}

/** The counts made ready; of the same list once only, however often it is asked for. */
export function lotCounts(counts: readonly SpellCount[] | LotCounts, asOf: number): LotCounts {
  if (counts instanceof LotCounts) return counts;
  const before = ready.get(counts);
  if (before?.asOf === asOf) return before;
  const lots = [...new Set(counts.map(({lot}) => lot))];
  const made = lotCountsOf(counts, asOf, lots);
  ready.set(counts, made);
  return made;
}

const ready = new WeakMap<readonly SpellCount[], LotCounts>();

/** The counts of given lots, in their order, also where they have no square. */
export function lotCountsOf(counts: Iterable<SpellCount>, asOf: number, lots: readonly string[]): LotCounts {
  const placeOf = new Map(lots.map((lot, place) => [lot, place]));
  const maker = new LotCountsMaker(lots);
  for (const row of counts) {
    const place = placeOf.get(row.lot);
    if (place === undefined) continue;
    const {stage, from, to, outcome, squares, side} = row;
    maker.add(place, stage, from, to, outcome, squares, side);
  }
  return maker.made(asOf);
}
