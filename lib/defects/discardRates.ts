import type {Histories, Piece} from "../book/histories.ts";
import {byLot, defectOf, discardCause, stageSpells} from "../book/spells.ts";
import {chainedIncidence} from "../stats/chainedIncidence.ts";
import {clusterShareInterval, effectiveCount} from "../stats/clusterInterval.ts";
import {type ClusterEstimate, clusterJackknife} from "../stats/clusterJackknife.ts";
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
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[],
  {stage, since, level = 0.95}: {stage?: string; since?: number; level?: number} = {}
): DiscardRate[] {
  const every = settings.stages.map(({name}) => name);
  const last = every.at(-1)!;
  const names = stage === undefined ? every : [stage];
  const turning = stage === undefined ? every.slice(0, -1) : [stage];
  const lots = byLot(pieces)
    .map((lot) => new Map(names.map((name) => [name, stageSpells(lot, name, asOf, since)])))
    .filter((lot) => turning.some((name) => lot.get(name)!.length > 0));
  if (lots.length === 0) return [];
  const spellsAt = (name: string) => lots.map((lot) => lot.get(name) ?? []);
  const events = names.flatMap((name) => spellsAt(name).flat()).filter(({cause}) => cause !== undefined);
  const causes = [...new Set(events.map(({cause}) => cause!))].filter((cause) => defectOf(cause) !== undefined).sort();
  const decidedAt = (name: string) =>
    spellsAt(name)
      .flat()
      .filter(({cause}) => cause !== undefined).length;
  const decided = Math.max(...turning.map(decidedAt));
  const chain = chainedIncidence(turning.map(spellsAt), "passed");
  const rack = weightedIncidence(stage === undefined ? spellsAt(last) : lots.map(() => []));
  const squares = pieces.filter((piece) => seen(piece, turning, asOf, since)).length;
  const groups = new Map<string, string>(settings.defects.map(({name, group}) => [name, group]));

  /** The rate of some causes together, at least as followed and at most with their part of what is undecided. */
  const rates = (weights: readonly number[]) => {
    const {ended, undecided, passed = 0} = chain(weights);
    const {fraction: ofShafts} = rack(weights);
    const one = (cause: string) => (ended[cause] ?? 0) + passed * (ofShafts[cause] ?? 0);
    const all = sum(causes.map(one));
    const part = (share: number) => (undecided < 1 ? Math.min(1, share / (1 - undecided)) : undefined);
    return {
      undecided,
      least: [all, ...causes.map(one)],
      most: [all + undecided, ...causes.map((cause) => part(one(cause)))]
    };
  };
  const {undecided, least} = rates(lots.map(() => 1));
  const estimates = clusterJackknife(lots.length, (weights) => {
    const drawn = rates(weights);
    return [...drawn.least, ...drawn.most];
  });
  const row = (defect: string, of: readonly string[], index: number): DiscardRate => {
    const [low, high] = [estimates[index], estimates[causes.length + 1 + index]];
    const group = groups.get(defect);
    return {
      defect,
      ...(group !== undefined && {group}),
      squares,
      lots: lots.length,
      discarded: events.filter(({cause}) => of.includes(cause!)).length,
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

/** Whether any of its spells at these stages lies in the time looked at. */
function seen(piece: Piece, names: readonly string[], asOf: number, since: number | undefined): boolean {
  return names.some((name) => stageSpells([piece], name, asOf, since).length > 0);
}
