import {betaByMoments, betaMoments} from "../stats/betaMoments.ts";
import type {Split} from "./outcomes.ts";
import {planner} from "./seasonPlan.ts";
import type {OneNeed} from "./whatItHangsOn.ts";

/** What it would be worth, in the book's currency and on average, to know before buying what now is uncertain. */
export interface WorthOfKnowing {
  /** How many shafts will be wanted. */
  demand: number;
  /** What share of the squares really becomes usable: the doubt about it, not the luck of lots to come. */
  usable: number;
}

/**
 * The expected value of knowing demand, or usable shares, before buying: as much as the best number for each case earns more, on average, than
 * the one number bought for all cases.
 *
 *   worth = Σ P(case) · max over q of profit(q | case) − max over q of Σ P(case) · profit(q | case)
 *
 * Cases of demand: every number. Cases of the usable share: the three levels of `outcomes`, with all doubt about the shares, common and of each
 * supplier, taken to move them together. Purchases are those of the plan's own path from none to all there is, some forty of them.
 * Source: Raiffa & Schlaifer (1961), Applied Statistical Decision Theory (from memory): expected value of perfect information.
 * Checked: tests/buying/worthOfKnowing.test.ts
 */
export function worthOfKnowing({need, ...limits}: OneNeed): WorthOfKnowing {
  return {demand: ofDemand({need, ...limits}), usable: ofUsable({need, ...limits})};
}

function ofDemand({need, ...limits}: OneNeed): number {
  const {models, splits, tripsOf} = someSplits({need, ...limits});
  const [{demand, levels, supplyOf, costOf}] = models as [(typeof models)[number]];
  const {price, shortageCost, leftoverValue} = need.money;
  // Beyond all supply the purchases differ by as much for every demand, so all of these count as the last.
  const chances = demand.atMost.map((p, d) => (d === demand.atMost.length - 1 ? 1 : p) - (demand.atMost[d - 1] ?? 0));
  const rows = splits.map((split) => {
    const profits = new Array<number>(chances.length).fill(-costOf(split) - tripsOf(split));
    supplyOf(split).forEach(({from, p}, level) => {
      const have = p.reduce((sum, one, k) => sum + one * (from + k), 0);
      // E min(d, S) grows with d by P(S > d).
      let [served, above] = [0, 1];
      for (let d = 0; d < chances.length; d++) {
        const profit = price * served + leftoverValue * (have - served) - shortageCost * (d - served);
        profits[d]! += levels[level]!.weight * profit;
        above -= p[d - from] ?? 0;
        served += Math.max(0, above);
      }
    });
    return profits;
  });
  return gain(rows, chances);
}

function ofUsable({need, ...limits}: OneNeed): number {
  const offers = need.offers.map((offer) => {
    const {doubt = 0, common = 0} = offer;
    const {mean, variance} = betaMoments(offer);
    // What of the variance is doubt moves over into what is common.
    const own = betaByMoments({mean, variance: Math.max(1e-9, variance - doubt)})!;
    return {...offer, ...own, doubt: 0, common: Math.sqrt(common ** 2 + doubt / mean ** 2)};
  });
  const {models, splits, tripsOf} = someSplits({need: {...need, offers}, ...limits});
  const [{levels, byLevel}] = models as [(typeof models)[number]];
  const rows = splits.map((split) => byLevel(split).map(({profit}) => profit - tripsOf(split)));
  return gain(
    rows,
    levels.map(({weight}) => weight)
  );
}

/** Some forty purchases from none to all, and what the trips of each cost. */
function someSplits({need, ...limits}: OneNeed) {
  const made = planner({needs: [need], ...limits});
  const plan = made.plan();
  const beside = made.beside(0, plan);
  const path = made.path(0, plan);
  const tripsOf = (split: Split) => beside(split).tripCost;
  const step = Math.max(1, Math.floor(path.length / 40));
  const splits = path.filter((split, k) => k % step === 0 && beside(split).isAllowed);
  return {models: made.models, splits, tripsOf};
}

/** Σ chance · the highest of each case − the highest of all cases together. */
function gain(rows: readonly (readonly number[])[], chances: readonly number[]): number {
  const known = chances.reduce((sum, p, k) => sum + p * Math.max(...rows.map((row) => row[k]!)), 0);
  const unknown = Math.max(...rows.map((row) => row.reduce((sum, profit, k) => sum + chances[k]! * profit, 0)));
  return Math.max(0, known - unknown);
}
