import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {dayText} from "../../lib/book/day.ts";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {supply} from "../../lib/buying/supply.ts";
import {type DiscardRate, discardRates} from "../../lib/defects/discardRates.ts";
import {supplierDiscards} from "../../lib/defects/supplierDiscards.ts";
import {compareSpread} from "../../lib/density/compareSpread.ts";
import {densityBySupplier} from "../../lib/density/densityBySupplier.ts";
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
