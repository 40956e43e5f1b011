import {bookCounts} from "../../lib/book/bookCounts.ts";
import {dayNumber, dayText} from "../../lib/book/day.ts";
import {groupBy} from "../../lib/book/spells.ts";
import {demandByWindow} from "../../lib/buying/demandByWindow.ts";
import {demandOverride} from "../../lib/buying/demandOverride.ts";
import {finishTimes, leadTimes, nextSeason} from "../../lib/buying/leadTime.ts";
import {ordersByMonth} from "../../lib/buying/ordersByMonth.ts";
import {passTimes, stageHalfYears, stageTimes} from "../../lib/buying/stageTimes.ts";
import {discardChart} from "../../lib/defects/discardChart.ts";
import {discardRates} from "../../lib/defects/discardRates.ts";
import {supplierDiscards} from "../../lib/defects/supplierDiscards.ts";
import {compareSpread} from "../../lib/density/compareSpread.ts";
import {densityBySupplier} from "../../lib/density/densityBySupplier.ts";
import {densityDrift} from "../../lib/density/densityDrift.ts";
import {densityRange} from "../../lib/density/densityRange.ts";
import {lotDensities} from "../../lib/density/lotDensities.ts";
import {spreadSources} from "../../lib/density/spreadSources.ts";
import {spreadSplit} from "../../lib/density/spreadSplit.ts";
import {windowByMonth} from "../../lib/density/windowByMonth.ts";
import {compareRests} from "../../lib/seasoning/compareRests.ts";
import {hurriedRests} from "../../lib/seasoning/hurriedRests.ts";
import {longerRest} from "../../lib/seasoning/longerRest.ts";
import {moistureLosses} from "../../lib/seasoning/moistureLosses.ts";
import {moistureNow} from "../../lib/seasoning/moistureNow.ts";
import {oversizeCheck} from "../../lib/seasoning/oversizeCheck.ts";
import {readyToTurn} from "../../lib/seasoning/readyToTurn.ts";
import {restLosses} from "../../lib/seasoning/restLosses.ts";
import {restMoisture} from "../../lib/seasoning/restMoisture.ts";
import {restSteps} from "../../lib/seasoning/restSteps.ts";
import {stockOnHand} from "../../lib/seasoning/stockOnHand.ts";
import {storeAir} from "../../lib/seasoning/storeAir.ts";
import {storeMoisture} from "../../lib/seasoning/storeMoisture.ts";
import {costRank} from "../../lib/yield/costRank.ts";
import {finishChance} from "../../lib/yield/finishChance.ts";
import {lotTable} from "../../lib/yield/lotTable.ts";
import {shaftCost} from "../../lib/yield/shaftCost.ts";
import {sortingEffect} from "../../lib/yield/sortingEffect.ts";
import {stageMass} from "../../lib/yield/stageMass.ts";
import {stageYields} from "../../lib/yield/stageYields.ts";
import {tripCost} from "../../lib/yield/tripCost.ts";
import {visitValue} from "../../lib/yield/visitValue.ts";
import {whereSquaresGo} from "../../lib/yield/whereSquaresGo.ts";
import {woodYield} from "../../lib/yield/woodYield.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {recentDays} from "../pages/clearlyMore.ts";
import {latelyFactors, latelyWorse} from "../pages/latelyWorse.ts";
import {speciesDemand} from "../pages/season/demand.ts";
import {dryingOf} from "../rack/dryingOf.ts";
import {planSeason} from "../season/planSeason.ts";

/** Runs one question; a clock may stand behind it. */
export type Ask = <T>(question: string, answer: () => T) => T;

/** Every question that the reports ask of yields, discards, densities, seasoning and the plan, with its rows, nothing drawn. */
export function allResults(read: BookAsOf, ask: Ask = (_, answer) => answer()): Record<string, unknown> {
  const {histories: now, book} = read;
  const {pieces, settings, asOf} = now;
  const since = asOf - recentDays;
  const stages = settings.stages.slice(0, -1).map(({name}) => name);
  const species = [...groupBy(pieces, (piece) => piece.species)].sort();
  const bySpecies = <T>(answer: (own: typeof pieces, name: string) => T) =>
    Object.fromEntries(species.map(([name, own]) => [name, answer(own, name)]));
  const byStage = <T>(answer: (stage: string) => T) =>
    Object.fromEntries(stages.map((stage) => [stage, answer(stage)]));
  const results: Record<string, unknown> = {};
  const row = <T>(question: string, answer: () => T): T => {
    const rows = ask(question, answer);
    results[question] = rows;
    return rows;
  };

  // Yields
  row("stageYields", () => stageYields(now, pieces));
  row("stageYields, last half year", () => stageYields(now, pieces, {since}));
  const yields = row("stageYields by species", () => bySpecies((own) => stageYields(now, own)));
  row("woodYield by species", () => bySpecies((own, name) => woodYield(now, own, yields[name]!.rolledFraction)));
  row("whereSquaresGo", () => whereSquaresGo(now, pieces));
  row("lotTable", () => lotTable(now));
  const workEach = settings.money.turningCostPerSquare;
  const costs = row("shaftCost", () => shaftCost(now, {workEach}));
  row("tripCost", () => tripCost(now, costs));
  row("sortingEffect", () => sortingEffect(now));
  row("stageMass", () => stageMass(now));

  // Discards
  const rates = row("discardRates", () => discardRates(now, pieces));
  row("discardRates, last half year", () => discardRates(now, pieces, {since}));
  row("discardRates by species", () => bySpecies((own) => discardRates(now, own)));
  row("discardRates by stage", () => byStage((stage) => discardRates(now, pieces, {stage})));
  row("discardChart", () => discardChart(now, pieces));
  row("supplierDiscards", () => supplierDiscards(now));
  row("supplierDiscards by stage", () => byStage((stage) => supplierDiscards(now, {stage})));
  row("supplierDiscards by defect", () => rates.map(({defect}) => supplierDiscards(now, {defect})));
  const worse = row("latelyWorse", () => latelyWorse(bookCounts(now)));
  const ranks = row("costRank", () => costRank(costs, workEach, latelyFactors(worse)));
  row("visitValue", () => visitValue(ranks, wantedInYear(read)));

  // Densities
  row("densityBySupplier", () => densityBySupplier(now));
  const lots = row("lotDensities", () => lotDensities(now));
  row("densityDrift", () => densityDrift(lots));
  row("densityRange", () => densityRange(now));
  row("compareSpread", () => compareSpread(now));
  row("spreadSources", () => spreadSources(now));
  row("spreadSplit", () => spreadSplit(now));
  row("windowByMonth", () => windowByMonth(now));

  // Seasoning
  row("stockOnHand", () => stockOnHand(now));
  row("storeAir", () => storeAir(book.climate, asOf));
  const store = row("storeMoisture", () => storeMoisture(book.climate, now));
  const drying = row("dryingTimes", () => dryingOf(read));
  row("restMoisture", () => restMoisture(now, book.climate, drying));
  row("moistureLosses", () => moistureLosses(now));
  row("restLosses", () => restLosses(now, pieces));
  row("hurriedRests", () => hurriedRests(now));
  const dry = new Set(settings.defects.filter(({group}) => group === "drying").map(({name}) => name));
  const steps = row("restSteps", () => restSteps(now)).filter(({middleDays}) => middleDays !== undefined);
  row("compareRests", () =>
    compareRests(now, {one: ["longer half"], other: ["shorter half"], counts: (defect) => dry.has(defect), steps})
  );
  row("longerRest", () => {
    const {interestPct, storageCostPerMonth} = settings.money;
    return longerRest(now, {pieceCost: (stage) => 12 + 4 * stages.indexOf(stage), interestPct, storageCostPerMonth});
  });
  const moisture = row("moistureNow", () => moistureNow(now, book.climate, drying));
  row("readyToTurn", () => readyToTurn(now, {store, times: drying.times, moisture}));
  row("oversizeCheck", () => oversizeCheck(now, {store, moisture}));

  // The plan
  const season = nextSeason(now);
  row("ordersByMonth", () => ordersByMonth(now));
  row("stageTimes by species", () => bySpecies((own) => stageTimes(now, own)));
  row("stageHalfYears by species", () => bySpecies((own) => stageHalfYears(now, own)));
  row("passTimes by species", () => bySpecies((own) => passTimes(now, own).map(({stage}) => stage)));
  row("leadTimes by species", () =>
    bySpecies((own) => leadTimes(now, own, season.startsOn, {times: finishTimes(now, own)}))
  );
  row("finishChance by species", () =>
    bySpecies((own) => {
      const chance = finishChance(now, own, {withinDays: dayNumber(season.endsOn) - asOf});
      return own.filter(({fate}) => fate === "in stock").map(chance);
    })
  );
  row("demandByWindow by species", () => bySpecies((_, name) => demandByWindow(now, name)));
  row("demandOverride by species", () => bySpecies((_, name) => demandOverride(now, name, season.endsOn)));
  row("speciesDemand by species", () => bySpecies((_, name) => speciesDemand(now, name, season.endsOn)));
  row("planSeason", () => {
    const {species: plans, missing} = planSeason(read);
    return {missing, plans: plans.map(({species, plan}) => ({species, plan}))};
  });
  return results;
}

/** Shafts of each species ordered in the last year. */
function wantedInYear({histories: {orders, asOf}}: BookAsOf): Record<string, number> {
  const wanted: Record<string, number> = {};
  for (const {species, orderedOn, quantity} of orders)
    if (orderedOn > dayText(asOf - 365)) wanted[species] = (wanted[species] ?? 0) + quantity;
  return wanted;
}
