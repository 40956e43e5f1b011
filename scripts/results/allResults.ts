import {alikeOfCounts} from "../../lib/book/alikePieces.ts";
import {type BalanceRow, countedBalance} from "../../lib/book/balance.ts";
import type {CountsOf} from "../../lib/book/bookCounts.ts";
import {lotCounts} from "../../lib/book/lotCounts.ts";
import {groupBy} from "../../lib/book/spells.ts";
import {countedFinishTimes, type LeadTime, leadTimes} from "../../lib/buying/leadTime.ts";
import {countedStageTimes, type StageTime} from "../../lib/buying/stageTimes.ts";
import {countedDiscardChart, type DiscardChart} from "../../lib/defects/discardChart.ts";
import {countedDiscards, type DiscardRate} from "../../lib/defects/discardRates.ts";
import {countedSupplierDiscards, type SupplierDiscards} from "../../lib/defects/supplierDiscards.ts";
import {countedSpread, type SpreadComparison} from "../../lib/density/compareSpread.ts";
import {countedDensities, type SupplierDensity} from "../../lib/density/densityBySupplier.ts";
import {densitiesOfCounts} from "../../lib/density/supplierDensities.ts";
import {countedRestLosses, type RestLoss} from "../../lib/seasoning/restLosses.ts";
import {countedShaftCost, type ShaftCost} from "../../lib/yield/shaftCost.ts";
import {countedYields, type StageYields} from "../../lib/yield/stageYields.ts";
import {yieldsToTell} from "../../lib/yield/yieldsToTell.ts";
import {recentDays} from "../pages/clearlyMore.ts";
import {countedSeason, type Season} from "../season/planSeason.ts";

/** What is worked out for one species by itself. */
export interface SpeciesResults {
  species: string;
  yields: StageYields;
  discards: DiscardRate[];
  restLosses: RestLoss[];
  stageTimes: StageTime[];
  leadTimes: LeadTime[];
}

/** The rows of every question that a book's counts answer. */
export interface AllResults {
  balance: BalanceRow[];
  yields: StageYields;
  yieldsLately: StageYields;
  discards: DiscardRate[];
  discardsLately: DiscardRate[];
  discardsByMonth: DiscardChart;
  discardsBySupplier: SupplierDiscards[];
  densities: SupplierDensity[];
  spread: SpreadComparison[];
  shaftCosts: ShaftCost[];
  species: SpeciesResults[];
  season: Season;
}

/** Every question answered from the counts of a book alone: yields, discards, densities, rests, costs, and the season's plan. */
export function allResults(counts: CountsOf): AllResults {
  const {settings, lots, spells} = counts;
  const since = counts.asOf - recentDays;
  const densities = densitiesOfCounts(counts);
  const all = lotCounts(spells, counts.asOf);
  const lotOf = new Map(lots.map((lot) => [lot.lot, lot]));
  const listed = all.lots.map((lot) => lotOf.get(lot)!);
  const suppliers = [...groupBy(listed, ({species, supplier}) => JSON.stringify([species, supplier])).values()];
  const season = countedSeason(counts);
  return {
    balance: countedBalance(lots, alikeOfCounts(all, lots, settings)),
    yields: yieldsToTell(countedYields(counts, all)),
    yieldsLately: yieldsToTell(countedYields(counts, all, {since})),
    discards: countedDiscards(counts, all),
    discardsLately: countedDiscards(counts, all, {since}),
    discardsByMonth: countedDiscardChart(counts, all),
    discardsBySupplier: countedSupplierDiscards(
      counts,
      suppliers.map((own) => {
        const {species, supplier} = own[0]!;
        return {
          species,
          supplier,
          counts: all.only((lot) => lotOf.get(lot)!.species === species && lotOf.get(lot)!.supplier === supplier)
        };
      })
    )("all"),
    densities: countedDensities(settings, densities),
    spread: countedSpread(densities),
    shaftCosts: countedShaftCost(counts, all, {workEach: settings.money.turningCostPerSquare}),
    species: [...new Set(listed.map((lot) => lot.species))].sort().map((species) => {
      const own = all.only((lot) => lotOf.get(lot)!.species === species);
      const times = countedFinishTimes(
        counts,
        own,
        lots.filter((lot) => lot.species === species)
      );
      return {
        species,
        yields: yieldsToTell(countedYields(counts, own)),
        discards: countedDiscards(counts, own),
        restLosses: countedRestLosses(counts, own),
        stageTimes: countedStageTimes(counts, own),
        leadTimes: leadTimes(counts, [], season.startsOn, {times})
      };
    }),
    season
  };
}
