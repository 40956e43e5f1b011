import {dayText, monthOf, months} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import {type SpellCount, spellCounts} from "../book/spellCounts.ts";
import {defectOf} from "../book/spells.ts";
import {pChart} from "../stats/pChart.ts";

/** One month on the control chart. */
export interface DiscardMonth {
  month: string;
  /** Pieces about which something was decided that month: turned on, discarded or diverted. */
  decided: number;
  discarded: number;
  fraction?: number;
  /** The limits between which a month lies unless something has changed. */
  low?: number;
  high?: number;
  outside: boolean;
}

export interface DiscardChart {
  months: DiscardMonth[];
  /** Discarded ÷ decided over all months. */
  meanFraction?: number;
  /** How much wider than chance alone the months scatter (Laney's σz). */
  sigmaZ?: number;
}

/**
 * Control chart of the share of handled pieces that were thrown out, month by month, fractions of 1 (p-chart):
 *
 *   p̄ = Σ discarded / Σ decided    limits = p̄ ∓ 3 · σz · √(p̄ (1 − p̄) / n)
 *
 * σz is Laney's correction for months that scatter more than chance, as whole lots differ. The current month, if it is not over, has the
 * pieces of its first days. This share is of handlings, not of squares: a square is handled at each stage.
 *
 * Source: Laney (2002), Quality Engineering 14:531–537. Checked: tests/reference (p-chart), tests/defects/discardChart.test.ts
 */
export function discardChart(histories: Pick<Histories, "asOf">, pieces: readonly Piece[]): DiscardChart {
  return countedDiscardChart(histories, spellCounts(pieces));
}

/** The same from counts of squares: the chart depends on a book by these alone. */
export function countedDiscardChart({asOf}: Pick<Histories, "asOf">, spells: Iterable<SpellCount>): DiscardChart {
  const byDay = new Map<number, {decided: number; discarded: number}>();
  for (const {to, outcome, squares} of spells) {
    if (to === undefined || outcome === "delivered") continue;
    const count = byDay.get(to) ?? {decided: 0, discarded: 0};
    count.decided += squares;
    if (defectOf(outcome!) !== undefined) count.discarded += squares;
    byDay.set(to, count);
  }
  const counts = new Map<string, {decided: number; discarded: number}>();
  for (const [day, {decided, discarded}] of byDay) {
    const month = monthOf(dayText(day));
    const count = counts.get(month) ?? {decided: 0, discarded: 0};
    counts.set(month, {decided: count.decided + decided, discarded: count.discarded + discarded});
  }
  if (counts.size === 0) return {months: []};
  const first = [...counts.keys()].sort()[0]!;
  const rows = months(first, monthOf(dayText(asOf))).map((month) => ({
    month,
    ...(counts.get(month) ?? {decided: 0, discarded: 0})
  }));
  const filled = rows.filter(({decided}) => decided > 0);
  const chart = pChart(
    filled.map(({decided, discarded}) => ({inspected: decided, defective: discarded})),
    {laney: true}
  );
  const points = new Map(filled.map(({month}, i) => [month, chart.points[i]!]));
  return {
    meanFraction: chart.pBar,
    ...(chart.sigmaZ !== undefined && {sigmaZ: chart.sigmaZ}),
    months: rows.map((row) => ({...row, outside: false, ...points.get(row.month)}))
  };
}
