import {dayText} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import {groupBy} from "../../lib/book/spells.ts";
import {type DiscardRate, discardRates} from "../../lib/defects/discardRates.ts";
import type {BookAsOf} from "../io/readBook.ts";
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
export function latelyWorse({histories: now, book}: BookAsOf): LatelyWorse[] {
  const then = histories(book, dayText(now.asOf - recentDays));
  return [...groupBy(now.pieces, ({supplier}) => supplier)].flatMap(([supplier, pieces]) =>
    book.settings.stages.slice(0, -1).flatMap(({name: stage}) => {
      const earlier = then.pieces.filter((piece) => piece.supplier === supplier);
      const [before] = discardRates(then, earlier, {stage});
      const [recent] = discardRates(now, pieces, {stage, since: now.asOf - recentDays});
      const [overall] = discardRates(now, pieces, {stage});
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
