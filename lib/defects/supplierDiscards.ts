import type {Histories} from "../book/histories.ts";
import {type LotCounts, lotCounts} from "../book/lotCounts.ts";
import {spellCounts} from "../book/spellCounts.ts";
import {groupBy} from "../book/spells.ts";
import {fitBetaBinomial, type Rate, shrunkRate} from "../stats/betaBinomial.ts";
import {groupRates} from "../stats/groupRates.ts";
import {sum} from "../stats/numbers.ts";
import {countedDiscards, type DiscardRate} from "./discardRates.ts";

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
  /** Of 100 squares, how many the data leave undecided. */
  undecidedPer100: number;
  /** Drawn towards the mean of the species by as much as the data are thin. */
  drawnPer100: number;
  drawnLow: number;
  drawnHigh: number;
}

/**
 * Discards per 100 squares by supplier, as they are and drawn towards the common mean of the species, so that 2 of 8 is not read as 25 %.
 *
 * The rate is that of `discardRates` with its interval from whole lots; for the drawing it counts as x of n with
 *
 *   n the number of independent squares that tell as much (`effectiveCount`), at most the decided ones    x = n p
 *
 * which is less than the count when lots differ. A supplier of fewer than four lots counts with its decided pieces ÷ the others' usual
 * ratio of decided to effective pieces. The drawing averages over what the data leave possible of the common mean and of how much
 * suppliers differ (`groupRates`).
 *
 * Checked: tests/defects/supplierDiscards.test.ts; the drawing in tests/reference/groupRates.test.ts; coverage in the contributor's guide
 *
 * @param since only what happened from this day number on
 * @param defect the discards for it alone; one that a supplier never had counts 0
 * @param stage of 100 pieces that reach this stage, those thrown out there
 * @returns rows by species, fewest discards (drawn) first; a supplier of whose pieces none is decided is left out
 */
export function supplierDiscards(
  histories: Histories,
  {defect = "all", ...options}: {since?: number; defect?: string; stage?: string} = {}
): SupplierDiscards[] {
  return supplierDiscardsOf(histories, options)(defect);
}

/** The same for one defect after another, or "all": the rates of all of them are worked out once. */
export function supplierDiscardsOf(
  histories: Histories,
  options: {since?: number; stage?: string} = {}
): (defect: string) => SupplierDiscards[] {
  const all = lotCounts(spellCounts(histories.pieces), histories.asOf);
  const groups = groupBy(histories.pieces, ({species, supplier}) => JSON.stringify([species, supplier]));
  const counts = [...groups.values()].map((pieces) => {
    const {species, supplier} = pieces[0]!;
    const own = new Set(pieces.map(({lot}) => lot));
    return {species, supplier, counts: all.only((lot) => own.has(lot))};
  });
  return countedSupplierDiscards(histories, counts, options);
}

/** The counts of one supplier's squares of one species. */
export interface SupplierCounts {
  species: string;
  supplier: string;
  counts: LotCounts;
}

/** The same from counts of squares: the rates depend on a book by these alone. */
export function countedSupplierDiscards(
  histories: Pick<Histories, "settings" | "asOf">,
  suppliers: readonly SupplierCounts[],
  options: {since?: number; stage?: string} = {}
): (defect: string) => SupplierDiscards[] {
  const last = histories.settings.stages.at(-1)!.name;
  const rated = suppliers.map(({species, supplier, counts}) => ({
    species,
    supplier,
    rates: countedDiscards(histories, counts, options),
    decided: counts.decided({last, ...options})
  }));
  return (defect) =>
    [...groupBy(rated, ({species}) => species)].sort().flatMap(([species, ofSpecies]) => {
      const rows = ofSpecies.flatMap(({supplier, rates, decided}) => {
        const row = rates.find((rate) => rate.defect === defect) ?? (rates[0] && none(rates[0]));
        return row && decided > 0 ? [{...row, supplier, decided}] : [];
      });
      return drawn(species, rows);
    });
}

/** Rates of suppliers of one species drawn towards their mean, the lowest first. */
function drawn(
  species: string,
  rows: readonly (DiscardRate & {supplier: string; decided: number})[]
): SupplierDiscards[] {
  const known = rows.filter(({effective}) => effective !== undefined);
  const usual =
    known.length === 0
      ? 1
      : Math.max(1, sum(known.map(({decided}) => decided)) / sum(known.map(({effective}) => effective!)));
  const counts = rows.map(({per100, decided, effective}) => {
    const trials = effective === undefined ? decided / usual : Math.min(effective, decided);
    return {successes: Math.min(trials, (trials * per100) / 100), trials};
  });
  const rates = groupRates(counts) ?? towardsFitted(counts);
  if (!rates) return [];
  return rows
    .map(({supplier, lots, squares, discarded, per100, per100Low, per100High, undecidedPer100}, i) => {
      const {mean, low, high} = rates[i]!;
      return {
        species,
        supplier,
        lots,
        squares,
        discarded,
        per100,
        ...(per100Low !== undefined && per100High !== undefined && {per100Low, per100High}),
        undecidedPer100,
        drawnPer100: 100 * mean,
        drawnLow: 100 * low,
        drawnHigh: 100 * high
      };
    })
    .sort((a, b) => a.drawnPer100 - b.drawnPer100);
}

/** Where one group is all there is, or all rates are 0 or 1; undefined without a trial. */
function towardsFitted(counts: readonly Rate[]) {
  const fit = fitBetaBinomial(counts);
  return fit && counts.map((count) => shrunkRate(count, fit));
}

/** The rate of a defect that never occurred, beside that of all. */
function none({per100Low: _, per100High: __, effective: ___, ...all}: DiscardRate): DiscardRate {
  return {...all, discarded: 0, per100: 0};
}
