import {type BookCounts, countsUpTo} from "../../lib/book/bookCounts.ts";
import {lotCounts} from "../../lib/book/spellCounts.ts";
import {countedDiscards, type DiscardRate} from "../../lib/defects/discardRates.ts";
import {clearlyMore, recentDays} from "./clearlyMore.ts";

/** A stage at which clearly more of a supplier's pieces were thrown out in the last half year than before it. */
export interface LatelyWorse {
  supplier: string;
  stage: string;
  before: DiscardRate;
  recent: DiscardRate;
  /** Of all years, the last half year among them. */
  overall: DiscardRate;
}

/** Suppliers of whose pieces clearly more were thrown out at some stage in the last half year than before it. */
export function latelyWorse(now: BookCounts): LatelyWorse[] {
  const since = now.asOf - recentDays;
  const then = countsUpTo(now, since);
  const supplierOf = new Map(now.lots.map(({lot, supplier}) => [lot, supplier]));
  const [all, earlier] = [lotCounts(now.spells, now.asOf), lotCounts(then.spells, then.asOf)];
  return [...new Set(all.lots.map((lot) => supplierOf.get(lot)!))].flatMap((supplier) => {
    const isOwn = (lot: string) => supplierOf.get(lot) === supplier;
    const [own, former] = [all.only(isOwn), earlier.only(isOwn)];
    return now.settings.stages.slice(0, -1).flatMap(({name: stage}) => {
      const [before] = countedDiscards(then, former, {stage});
      const [recent] = countedDiscards(now, own, {stage, since});
      const [overall] = countedDiscards(now, own, {stage});
      return before && recent && overall && clearlyMore(recent, before)
        ? [{supplier, stage, before, recent, overall}]
        : [];
    });
  });
}

/**
 * By supplier: what passes now of what passes over all years, over the stages at which it has got worse. A share of all years times this is the
 * share of now, as the bad half year is in the former already.
 */
export function latelyFactors(rows: readonly LatelyWorse[]): Record<string, number> {
  const factors: Record<string, number> = {};
  for (const {supplier, overall, recent} of rows)
    factors[supplier] = ((factors[supplier] ?? 1) * (100 - recent.per100)) / (100 - overall.per100);
  return factors;
}
