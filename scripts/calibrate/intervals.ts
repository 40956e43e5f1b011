import gammaCdf from "@stdlib/stats-base-dists-gamma-cdf";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {dayText} from "../../lib/book/day.ts";
import type {Histories} from "../../lib/book/histories.ts";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {finishTimes} from "../../lib/buying/leadTime.ts";
import {stageTimes} from "../../lib/buying/stageTimes.ts";
import {supply} from "../../lib/buying/supply.ts";
import {type DiscardRate, discardRates} from "../../lib/defects/discardRates.ts";
import {supplierDiscards} from "../../lib/defects/supplierDiscards.ts";
import {compareSpread} from "../../lib/density/compareSpread.ts";
import {densityBySupplier} from "../../lib/density/densityBySupplier.ts";
import {convolve} from "../../lib/stats/convolve.ts";
import {countQuantile} from "../../lib/stats/countQuantile.ts";
import type {Interval} from "../../lib/stats/interval.ts";
import {sum} from "../../lib/stats/numbers.ts";
import {finishChance} from "../../lib/yield/finishChance.ts";
import {lotTable} from "../../lib/yield/lotTable.ts";
import {shaftCost} from "../../lib/yield/shaftCost.ts";
import {stageYields} from "../../lib/yield/stageYields.ts";
import {recentDays} from "../pages/clearlyMore.ts";
import {type SupplierTruth, type TrueShares, type Truth, trueShares} from "./truth.ts";
import {settings, type Workshop} from "./workshop.ts";

/** An interval as a report shows it, and the truth it should hold. */
export interface Trial {
  /** What it is an interval of. */
  of: string;
  low: number;
  high: number;
  truth: number;
}

/** Every interval that the reports show of one simulated workshop, each beside its truth. */
export function intervalTrials(truth: Truth, {histories, willFinish, toBeOrdered}: Workshop): Trial[] {
  const trials: Trial[] = [];
  const add = (of: string, low: number | undefined, high: number | undefined, value: number) => {
    if (low !== undefined && high !== undefined) trials.push({of, low, high, truth: value});
  };
  const {pieces, asOf} = histories;
  const now = trueShares(truth, {month: truth.months - 1});

  const yields = (name: string, since?: number) => {
    const {stages, rolledLow, rolledHigh} = stageYields(histories, pieces, since === undefined ? {} : {since});
    add(`yield, square to shaft${name}`, rolledLow, rolledHigh, now.reached.at(-1)!);
    stages.forEach(({method, yieldLow, yieldHigh}, k) => {
      const few = method === "from lots" ? "" : ", fewer than 4 lots";
      add(`yield of a stage${name}${few}`, yieldLow, yieldHigh, now.reached[k + 1]! / now.reached[k]!);
    });
  };
  const discards = (rows: readonly DiscardRate[], shares: TrueShares, name: string) => {
    for (const {defect, per100Low, per100High} of rows) {
      const values = shares.discarded.map((ofStage) =>
        defect === "all" ? sum(Object.values(ofStage)) : (ofStage[defect] ?? 0)
      );
      add(
        `discards ${defect === "all" ? "in all" : "for one defect"}${name}`,
        per100Low,
        per100High,
        100 * sum(values)
      );
    }
  };
  yields(", last half year", asOf - recentDays);
  discards(discardRates(histories, pieces, {since: asOf - recentDays}), now, ", last half year");
  for (const {name} of truth.suppliers) {
    const own = pieces.filter(({supplier}) => supplier === name);
    const ofSupplier = trueShares(truth, {month: truth.months - 1, supplier: name});
    settings.stages.slice(0, -1).forEach(({name: stage}, k) => {
      const [all] = discardRates(histories, own, {since: asOf - recentDays, stage});
      const lost = sum(Object.values(ofSupplier.discarded[k]!)) / ofSupplier.reached[k]!;
      add("discards of a supplier at a stage, last half year", all?.per100Low, all?.per100High, 100 * lost);
    });
  }
  // Where a supplier has changed, what all years together give has no one truth.
  if (!truth.worse) {
    yields("");
    discards(discardRates(histories, pieces), now, "");
    settings.stages.slice(0, -1).forEach(({name: stage}, k) => {
      for (const {defect, per100Low, per100High} of discardRates(histories, pieces, {stage}).slice(1)) {
        const share = (now.discarded[k]![defect] ?? 0) / now.reached[k]!;
        add("discards for one defect at a stage", per100Low, per100High, 100 * share);
      }
    });
    for (const {supplier, ...row} of supplierDiscards(histories)) {
      const shares = trueShares(truth, {supplier});
      const lost = 100 * sum(shares.discarded.flatMap((ofStage) => Object.values(ofStage)));
      add("discards of a supplier, raw", row.per100Low, row.per100High, lost);
      add("discards of a supplier, drawn to the mean", row.drawnLow, row.drawnHigh, lost);
    }
    for (const {supplier, ...row} of shaftCost(histories)) {
      const one = supplierOf(truth, supplier);
      const share = trueShares(truth, {supplier}).reached.at(-1)!;
      const cost = one.price + one.carriage / truth.squaresPerLot;
      add("cost of a shaft", row.shaftCostLow, row.shaftCostHigh, cost / share);
      add("cost of a usable shaft", row.inWindowCostLow, row.inWindowCostHigh, cost / share / shareInside(one));
    }
    const stock = supply(histories, "ash", finishChance(histories, pieces));
    for (const {supplier, usableLow, usableHigh} of stock.offers) {
      const usable = trueShares(truth, {supplier}).reached.at(-1)! * shareInside(supplierOf(truth, supplier));
      add("usable share of a supplier's squares", usableLow, usableHigh, usable);
    }
    for (const {lot, finished, inStock, bought, expectedLow, expectedHigh} of lotTable(histories)) {
      if (inStock === 0) continue;
      const own = pieces.filter((piece) => piece.lot === lot && piece.fate === "in stock");
      const will = own.filter(({square}) => willFinish.has(square)).length;
      if (expectedLow === undefined || expectedHigh === undefined) continue;
      add("yield to expect of a lot", expectedLow - 1e-9, expectedHigh + 1e-9, (finished + will) / bought);
    }
  }
  for (const {supplier, ...row} of densityBySupplier(histories)) {
    const one = supplierOf(truth, supplier);
    const few = row.meanLow === undefined ? ", fewer than 4 lots" : "";
    add("density, mean", row.meanLow, row.meanHigh, one.density.mean);
    add("density, standard deviation", row.sdLow, row.sdHigh, spread(one));
    add(`share inside the window${few}`, row.insideLow, row.insideHigh, shareInside(one));
  }
  for (const {pairs} of compareSpread(histories))
    for (const {tighter, wider, ratioLow, ratioHigh} of pairs) {
      const ratio = spread(supplierOf(truth, tighter)) / spread(supplierOf(truth, wider));
      add("ratio of two spreads", ratioLow, ratioHigh, ratio);
    }
  trials.push(...dayTrials(truth, histories));
  const forecast = demandForecast(histories, "ash", dayText(asOf + 365));
  if (forecast) {
    add("shafts ordered in the next year", forecast.low, forecast.high, toBeOrdered);
    add("growth of orders", forecast.growthLow, forecast.growthHigh, truth.demand.growth);
    const {season} = truth.demand;
    add(
      "busiest over quietest month of orders",
      forecast.season?.low,
      forecast.season?.high,
      (1 + season) / (1 - season)
    );
  }
  return trials;
}

/** The intervals of days at a stage and from purchase to shaft, each beside its truth. */
export function dayTrials(truth: Truth, histories: Histories): Trial[] {
  const trials: Trial[] = [];
  const add = (of: string, interval: Interval | undefined, value: number) => {
    if (interval) trials.push({of, ...interval, truth: value});
  };
  const ofStages = truth.stages.map(({days}) => stageDays(days));
  const mean = (pmf: readonly number[]) => sum(pmf.map((p, days) => p * days));
  stageTimes(histories, histories.pieces)
    .filter(({entered}) => entered === "all year")
    .forEach(({medianLow, medianHigh, meanLow, meanHigh}, k) => {
      const pmf = ofStages[k]!;
      add("days at a stage, median", between(medianLow, medianHigh), countQuantile(pmf, 0.5)!);
      add("days at a stage, mean", between(meanLow, meanHigh), mean(pmf));
    });
  const toShaft = ofStages.reduce(convolve);
  const {all} = finishTimes(histories, histories.pieces);
  for (const share of [0.5, 0.9])
    add(
      `days until ${share * 100} of 100 shafts are finished`,
      all?.quantileInterval(share),
      countQuantile(toShaft, share)!
    );
  const day = Math.round(mean(toShaft));
  add("share of shafts finished by a day", all?.shareInterval(day), sum(toShaft.slice(0, day + 1)));
  return trials;
}

const between = (low?: number, high?: number): Interval | undefined =>
  low === undefined || high === undefined ? undefined : {low, high};

/** P(0, 1, 2, … days at a stage) of the workshop drawn: gamma of shape 16, rounded, at least 1. */
function stageDays(mean: number): number[] {
  const below = (days: number) => (days <= 0 ? 0 : gammaCdf(days, 16, 16 / mean));
  return Array.from({length: Math.ceil(mean * 3)}, (_, k) =>
    k === 0 ? 0 : below(k + 0.5) - (k === 1 ? 0 : below(k - 0.5))
  );
}

export function supplierOf({suppliers}: Truth, name: string): SupplierTruth {
  return suppliers.find((one) => one.name === name)!;
}

/** Standard deviation of the densities of a supplier's squares, kg/m³, lots together. */
export function spread({density: {sdBetween, sdWithin}}: SupplierTruth): number {
  return Math.hypot(sdBetween, sdWithin);
}

/** True share of a supplier's squares inside the window. */
export function shareInside(one: SupplierTruth): number {
  const {low, high} = settings.species.ash!.windowKgM3;
  const at = (x: number) => normalCdf(x, one.density.mean, spread(one));
  return at(high) - at(low);
}
