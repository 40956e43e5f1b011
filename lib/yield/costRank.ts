import {groupBy} from "../book/spells.ts";
import {chanceLowest} from "../stats/chanceLowest.ts";
import {clusterLogInterval} from "../stats/clusterInterval.ts";
import type {ShaftCost} from "./shaftCost.ts";

/** How one supplier's cost of a usable shaft stands among those of its species. */
export interface CostRank {
  species: string;
  supplier: string;
  lots: number;
  /** Cost of a shaft inside the window at what a square is paid now, with carriage and work. */
  inWindowCost: number;
  /** Its standard error, from how the usable shares of the lots differ, and half the fall of a supplier that has got worse. */
  costError: number;
  /** The chance that no other supplier's is cheaper; fraction of 1. */
  chanceCheapest: number;
  /** The supplier whose usable shaft is cheapest among the others. */
  against: string;
  /** What a square of this supplier, without carriage, may cost so that its usable shaft costs what that one's does. */
  worthEach: number;
  worthLow: number;
  worthHigh: number;
  /** Paid for one now, without carriage: mean of the last three lots. */
  priceEach: number;
}

/**
 * Suppliers of a species ranked by what a usable shaft of theirs costs now, with the chance of each to be the cheapest, and the price of a square up
 * to which it is worth buying beside the cheapest other, in the book's currency:
 *
 *   cost  = c / u                           c what a square is paid now, with carriage and work, u the share that become usable shafts
 *   worth = u · c* / u* − carriage − work   of the cheapest other: c*, u*
 *
 * Paid now is the mean of the last three lots, carriage with it, as in `supply`. It is known; only u is not. Chances from the logarithms of the
 * shares, independent, each by Student's law with lots − 1 degrees of freedom (`chanceLowest`). Interval of the worth: 95 %, from how the shares of
 * the lots of both differ (`clusterLogInterval` of u/u*). All years count alike for u, but for suppliers that have got worse lately, if it is said by
 * how much; half their fall is doubt, as in `supply`. Suppliers with fewer than four lots, or that gave the last three away, have no say. Most
 * likely cheapest first.
 *
 * Checked: tests/yield/costRank.test.ts
 *
 * @param costs from `shaftCost` with the work on a square in them
 * @param workEach that work, be the square finished or not; timber of which less fails saves it
 * @param lately by supplier: what passes now of what passes over all years, where it has got worse
 */
export function costRank(
  costs: readonly ShaftCost[],
  workEach = 0,
  lately: Readonly<Record<string, number>> = {}
): CostRank[] {
  const known = costs.flatMap((row) => ratedNow(row, lately[row.supplier] ?? 1));
  return [...groupBy(known, ({row}) => row.species).values()].flatMap((own) => {
    if (own.length < 2) return [];
    const chances = chanceLowest(
      own.map(({cost, usable: {variance, clusters}}) => ({
        estimate: Math.log(cost),
        sd: Math.sqrt(variance),
        freedom: clusters - 1
      }))
    );
    return own
      .map(({row, cost, usable}, i): CostRank => {
        const [best] = own.filter((other) => other.row !== row).toSorted((a, b) => a.cost - b.cost);
        const {estimate, ...sure} = best!.usable;
        const beside = clusterLogInterval([usable, {estimate: -estimate, ...sure}]);
        const price = (ratio: number) => ratio * best!.row.latelySquareCost - row.latelyCarriageEach - workEach;
        return {
          species: row.species,
          supplier: row.supplier,
          lots: row.lots,
          inWindowCost: cost,
          costError: cost * Math.sqrt(usable.variance),
          chanceCheapest: chances[i]!,
          against: best!.row.supplier,
          worthEach: price(Math.exp(usable.estimate - estimate)),
          worthLow: price(beside.low),
          worthHigh: price(beside.high),
          priceEach: row.latelySquareCost - row.latelyCarriageEach - workEach
        };
      })
      .toSorted((a, b) => b.chanceCheapest - a.chanceCheapest);
  });
}

/**
 * A supplier by what is paid and what passes of its timber now: its usable share times the factor, where that is below 1, and half the fall added to
 * its doubt as a standard deviation (on the logarithm), for it may be chance or pass.
 */
function ratedNow(row: ShaftCost, factor: number) {
  const {inWindowShareLog: share, latelySquareCost} = row;
  if (share === undefined || latelySquareCost <= 0) return [];
  const fall = -Math.log(Math.min(1, Math.max(0.001, factor)));
  const usable = {...share, estimate: share.estimate - fall, variance: share.variance + (fall / 2) ** 2};
  return [{row, usable, cost: latelySquareCost / Math.exp(usable.estimate)}];
}
