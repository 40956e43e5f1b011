import type {Histories, Piece} from "../book/histories.ts";
import {byLot, defectOf, discardCause, purchaseSpells, stageSpells} from "../book/spells.ts";
import {aalenJohansen} from "../stats/aalenJohansen.ts";
import {lotIntervals, type Resampling} from "../stats/lotInterval.ts";
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
}

/**
 * Discards per 100 squares by defect, as far as the squares were followed: Aalen–Johansen cumulative incidence since purchase, pieces in stock
 * censored, so that the defects, the diverted and the finished add up to 100 with what is undecided. "all" is their sum. Worst first.
 *
 * With `stage` the clock and the hundred are those of one stage. With `since` only what happened from that day on counts.
 * Interval: lots resampled; none with fewer than six lots.
 * Source: Aalen & Johansen (1978), Scand. J. Statist. 5:141–150.
 * Checked: tests/defects/discardRates.test.ts, tests/reference (Aalen–Johansen against R)
 */
export function discardRates(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[],
  {stage, since, ...resampling}: Resampling & {stage?: string; since?: number}
): DiscardRate[] {
  const lots = byLot(pieces)
    .map((lot) => (stage === undefined ? purchaseSpells(lot, asOf, since) : stageSpells(lot, stage, asOf, since)))
    .filter((lot) => lot.length > 0);
  const spells = lots.flat();
  if (spells.length === 0) return [];
  const incidence = weightedIncidence(lots);
  const curve = aalenJohansen(spells);
  const groups = new Map<string, string>(settings.defects.map(({name, group}) => [name, group]));
  const causes = curve.causes.filter((cause) => defectOf(cause) !== undefined);
  const total = (fraction: Record<string, number>, of: readonly string[]) =>
    100 * of.reduce((sum, cause) => sum + (fraction[cause] ?? 0), 0);
  const sets = [causes, ...causes.map((cause) => [cause])];
  const last = Object.fromEntries(causes.map((cause) => [cause, curve.incidence[cause]!.fraction.at(-1) ?? 0]));
  const resampled = (weights: readonly number[]) => {
    const {survival, fraction} = incidence(weights);
    if (survival === 1) return sets.map(() => undefined); // nothing is decided in the lots drawn: no rate, not a rate of 0
    return sets.map((of) => total(fraction, of));
  };
  const intervals = lotIntervals(lots.length, resampled, resampling);
  const rate = (defect: string, of: readonly string[], index: number): DiscardRate => {
    const interval = intervals[index];
    const group = groups.get(defect);
    return {
      defect,
      ...(group !== undefined && {group}),
      squares: spells.length,
      lots: lots.length,
      discarded: spells.filter(({cause}) => cause !== undefined && of.includes(cause)).length,
      per100: total(last, of),
      ...(interval && {per100Low: interval.low, per100High: interval.high})
    };
  };
  const rows = causes.map((cause, i) => rate(defectOf(cause)!, [cause], i + 1));
  rows.sort((a, b) => b.per100 - a.per100 || (discardCause(a.defect) < discardCause(b.defect) ? -1 : 1));
  return [rate("all", causes, 0), ...rows];
}
