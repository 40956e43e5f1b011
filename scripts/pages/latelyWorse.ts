import {type BookCounts, countsUpTo} from "../../lib/book/bookCounts.ts";
import {groupBy} from "../../lib/book/spells.ts";
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
  const bySupplier = (counts: BookCounts) => groupBy(counts.spells, ({lot}) => supplierOf.get(lot)!);
  const earlier = bySupplier(then);
  return [...bySupplier(now)].flatMap(([supplier, own]) =>
    now.settings.stages.slice(0, -1).flatMap(({name: stage}) => {
      const [before] = countedDiscards(then, earlier.get(supplier) ?? [], {stage});
      const [recent] = countedDiscards(now, own, {stage, since});
      const [overall] = countedDiscards(now, own, {stage});
      return before && recent && overall && clearlyMore(recent, before)
        ? [{supplier, stage, before, recent, overall}]
        : [];
    })
  );
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
