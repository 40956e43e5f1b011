import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {fitBetaBinomial, shrunkRate} from "../stats/betaBinomial.ts";
import type {Resampling} from "../stats/lotInterval.ts";
import {sum} from "../stats/numbers.ts";
import {discardRates} from "./discardRates.ts";

/** Discards of one supplier's squares of one species, per 100. */
export interface SupplierDiscards {
  species: string;
  supplier: string;
  lots: number;
  squares: number;
  discarded: number;
  per100: number;
  per100Low?: number;
  per100High?: number;
  /** Drawn towards the mean of the species by as much as the data are thin. */
  drawnPer100: number;
  drawnLow: number;
  drawnHigh: number;
}

/**
 * Discards per 100 squares by supplier, as they are and drawn towards the common mean of the species (empirical Bayes), so that 2 of 8 is
 * not read as 25 %.
 *
 * The rate is a cumulative incidence with its interval from whole lots; for the drawing it counts as x of n with
 *
 *   n = p (1 − p) / SE²    x = n p        SE = (high − low) / (2 · 1.96)
 *
 * the effective number of squares, less than the count when lots differ. A supplier without interval (fewer than six lots) counts with
 * its decided pieces ÷ the species' usual ratio of count to effective count. Prior: beta-binomial by maximum likelihood over suppliers.
 *
 * Checked: tests/defects/supplierDiscards.test.ts; the fit against R and published fits in tests/reference (beta-binomial)
 *
 * @returns rows by species, fewest discards (drawn) first
 */
export function supplierDiscards(histories: Histories, resampling: Resampling & {since?: number}): SupplierDiscards[] {
  return [...groupBy(histories.pieces, ({species}) => species)].sort().flatMap(([species, pieces]) => {
    const rows = [...groupBy(pieces, ({supplier}) => supplier)].flatMap(([supplier, own]) => {
      const [all] = discardRates(histories, own, resampling);
      const since = resampling.since ?? Number.NEGATIVE_INFINITY;
      const decided = own.filter(
        ({fateOn, boughtOn}) => fateOn !== undefined && (fateOn > since || boughtOn >= since)
      ).length;
      return all && decided > 0 ? [{...all, supplier, decided, effective: effectiveCount(all)}] : [];
    });
    const known = rows.filter(({effective}) => effective !== undefined);
    const usual =
      known.length === 0
        ? 1
        : Math.max(1, sum(known.map(({decided}) => decided)) / sum(known.map(({effective}) => effective!)));
    const counts = rows.map(({per100, decided, effective}) => {
      const trials = effective === undefined ? decided / usual : Math.min(effective, decided);
      return {successes: Math.min(trials, (trials * per100) / 100), trials};
    });
    const fit = fitBetaBinomial(counts);
    if (fit === undefined) return [];
    return rows
      .map(({supplier, lots, squares, discarded, per100, per100Low, per100High}, i) => {
        const drawn = shrunkRate(counts[i]!, fit);
        return {
          species,
          supplier,
          lots,
          squares,
          discarded,
          per100,
          ...(per100Low !== undefined && per100High !== undefined && {per100Low, per100High}),
          drawnPer100: 100 * drawn.mean,
          drawnLow: 100 * drawn.low,
          drawnHigh: 100 * drawn.high
        };
      })
      .sort((a, b) => a.drawnPer100 - b.drawnPer100);
  });
}

function effectiveCount({
  per100,
  per100Low,
  per100High
}: {
  per100: number;
  per100Low?: number;
  per100High?: number;
}): number | undefined {
  if (per100Low === undefined || per100High === undefined || per100High <= per100Low) return undefined;
  const p = per100 / 100;
  const se = (per100High - per100Low) / 100 / (2 * 1.959964);
  return (p * (1 - p)) / se ** 2;
}
