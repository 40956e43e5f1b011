import type {CountsOf} from "../../lib/book/bookCounts.ts";
import {dayText} from "../../lib/book/day.ts";
import {lotCounts} from "../../lib/book/lotCounts.ts";
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
export function latelyWorse(now: CountsOf): LatelyWorse[] {
  const since = now.asOf - recentDays;
  const boughtOn = new Map(now.lots.map((lot) => [lot.lot, lot.boughtOn]));
  const supplierOf = new Map(now.lots.map(({lot, supplier}) => [lot, supplier]));
  const all = lotCounts(now.spells, now.asOf);
  const earlier = all.upTo(since, (lot) => boughtOn.get(lot)! <= dayText(since));
  return [...new Set(all.lots.map((lot) => supplierOf.get(lot)!))].flatMap((supplier) => {
    const isOwn = (lot: string) => supplierOf.get(lot) === supplier;
    const [own, former] = [all.only(isOwn), earlier.only(isOwn)];
    return now.settings.stages.slice(0, -1).flatMap(({name: stage}) => {
      const more = (interval: boolean) => {
        const [before] = countedDiscards({...now, asOf: since}, former, {stage, interval});
        const [recent] = countedDiscards(now, own, {stage, since, interval});
        return before && recent && recent.per100 > before.per100 && {before, recent};
      };
      // Intervals are most of the work: they are made only where more were thrown out than before.
      const rates = more(false) && more(true);
      if (!rates || !clearlyMore(rates.recent, rates.before)) return [];
      const [overall] = countedDiscards(now, own, {stage});
      return overall ? [{supplier, stage, ...rates, overall}] : [];
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
