import type {Histories, Piece} from "../book/histories.ts";
import {type LotCounts, lotCounts} from "../book/lotCounts.ts";
import {type SpellCount, spellCounts} from "../book/spellCounts.ts";
import {defectOf, discardCause} from "../book/spells.ts";
import {chainedIncidence} from "../stats/chainedIncidence.ts";
import {clusterShareInterval, effectiveCount} from "../stats/clusterInterval.ts";
import {type ClusterEstimate, clusterJackknife} from "../stats/clusterJackknife.ts";
import {endedByCause} from "../stats/clusterTable.ts";
import {sum} from "../stats/numbers.ts";
import {weightedIncidence} from "../stats/weightedIncidence.ts";

/** Of 100 pieces, how many are thrown out for one defect. */
export interface DiscardRate {
  /** A defect, or "all". */
  defect: string;
  group?: string;
  squares: number;
  lots: number;
  /** Thrown out so far. */
  discarded: number;
  /** Thrown out as far as pieces were followed, per 100: what is still undecided may add to it. */
  per100: number;
  per100Low?: number;
  per100High?: number;
  /** Of 100 pieces, how many the data leave undecided. */
  undecidedPer100: number;
  /** How many independent pieces would tell as much of the rate as these lots do. */
  effective?: number;
}

/** What is asked of discard rates. */
export interface DiscardOptions {
  /** This stage alone; all of them unless given. */
  stage?: string;
  /** Day number from which on what happened counts. */
  since?: number;
  /** Of the intervals, 0.95 unless given. */
  level?: number;
  /** Whether intervals are wanted, which are most of the work: they are unless it is false. */
  interval?: boolean;
}

/**
 * Discards per 100 squares by defect, as far as squares were followed: Aalen–Johansen incidence on each stage's own clock, pieces in stock
 * censored, carried through the stages, so that the defects, the diverted, the rolled yield and what is undecided add up to 100. "all" is
 * the sum of the defects. Worst first.
 *
 *   rate(c) = Σ over stages of (share that reaches the stage) · (incidence of c there)
 *
 * A finished shaft that is thrown out later counts here too, though the yield has it as finished.
 *
 * With `stage` the clock and the hundred are those of one stage. With `since` only what happened from that day on counts, at every stage.
 *
 * Interval: from how lots differ (`clusterShareInterval`); none with fewer than four lots. The upper limit of "all" leaves room for all that
 * is undecided, that of a defect for its part of it, rate/(1 − undecided).
 * Source: Aalen & Johansen (1978), Scand. J. Statist. 5:141–150.
 * Checked: tests/defects/discardRates.test.ts, tests/reference (Aalen–Johansen against R); coverage in the contributor's guide
 */
export function discardRates(
  histories: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[],
  options: DiscardOptions = {}
): DiscardRate[] {
  return countedDiscards(histories, spellCounts(pieces), options);
}

/** The same from counts of squares: the rates depend on a book by these alone. */
export function countedDiscards(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  counts: readonly SpellCount[] | LotCounts,
  {stage, since, level = 0.95, interval = true}: DiscardOptions = {}
): DiscardRate[] {
  const every = settings.stages.map(({name}) => name);
  const last = every.at(-1)!;
  const names = stage === undefined ? every : [stage];
  const turning = stage === undefined ? every.slice(0, -1) : [stage];
  const seen = lotCounts(counts, asOf).withSpellsAt(turning, {since});
  const lots = seen.lots.length;
  if (lots === 0) return [];
  const ended = names.map((name) => endedByCause(seen.at(name, {since})));
  const causes = [...new Set(ended.flatMap((own) => [...own.keys()]))]
    .filter((cause) => defectOf(cause) !== undefined)
    .sort();
  const decided = Math.max(...turning.map((_, place) => sum([...ended[place]!.values()])));
  const chain = chainedIncidence(
    turning.map((name) => seen.at(name, {since})),
    "passed"
  );
  const rack = stage === undefined ? weightedIncidence(seen.at(last, {since})) : undefined;
  const squares = seen.seen(turning, since);
  const groups = new Map<string, string>(settings.defects.map(({name, group}) => [name, group]));

  /** The rate of some causes together, at least as followed and at most with their part of what is undecided. */
  const rates = (weights?: readonly number[], out?: readonly number[]) => {
    const {ended: ofSquares, undecided, passed = 0} = chain(weights, out);
    const ofShafts = rack?.(weights, out).fraction ?? {};
    const one = (cause: string) => (ofSquares[cause] ?? 0) + passed * (ofShafts[cause] ?? 0);
    const all = sum(causes.map(one));
    const part = (share: number) => (undecided < 1 ? Math.min(1, share / (1 - undecided)) : undefined);
    return {
      undecided,
      least: [all, ...causes.map(one)],
      most: [all + undecided, ...causes.map((cause) => part(one(cause)))]
    };
  };
  const {undecided, least} = rates();
  const estimates = interval
    ? clusterJackknife(lots, (weights, out) => {
        const drawn = rates(weights, out);
        return [...drawn.least, ...drawn.most];
      })
    : [];
  const row = (defect: string, of: readonly string[], index: number): DiscardRate => {
    const [low, high] = [estimates[index], estimates[causes.length + 1 + index]];
    const group = groups.get(defect);
    return {
      defect,
      ...(group !== undefined && {group}),
      squares,
      lots,
      discarded: sum(of.flatMap((cause) => ended.map((own) => own.get(cause) ?? 0))),
      per100: 100 * least[index]!,
      ...(low && high && decided > 0 && limits(low, high, decided, level)),
      undecidedPer100: 100 * undecided
    };
  };
  const rows = causes.map((cause, i) => row(defectOf(cause)!, [cause], i + 1));
  rows.sort((a, b) => b.per100 - a.per100 || (discardCause(a.defect) < discardCause(b.defect) ? -1 : 1));
  return [row("all", causes, 0), ...rows];
}

function limits(low: ClusterEstimate, high: ClusterEstimate, decided: number, level: number) {
  return {
    per100Low: 100 * clusterShareInterval(low, decided, {level}).low,
    per100High: 100 * clusterShareInterval(high, decided, {level}).high,
    effective: effectiveCount(low, decided, {level})
  };
}
