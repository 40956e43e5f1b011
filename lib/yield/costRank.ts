import {groupBy} from "../book/spells.ts";
import {chanceLowest} from "../stats/chanceLowest.ts";
import {clusterLogInterval} from "../stats/clusterInterval.ts";
import type {ShaftCost} from "./shaftCost.ts";

/** How one supplier's cost of a usable shaft stands among those of its species. */
export interface CostRank {
  species: string;
  supplier: string;
  lots: number;
  /** Cost of a shaft inside the window, as in `ShaftCost`, with the work. */
  inWindowCost: number;
  /** The chance that no other supplier's is cheaper; fraction of 1. */
  chanceCheapest: number;
  /** The supplier whose usable shaft is cheapest among the others. */
  against: string;
  /** What a square of this supplier, without carriage, may cost so that its usable shaft costs what that one's does. */
  worthEach: number;
  worthLow: number;
  worthHigh: number;
  /** Paid for one, without carriage, mean of all years. */
  priceEach: number;
}

/**
 * Suppliers of a species ranked by what a usable shaft of theirs costs, with the chance of each to be the cheapest, and the price of a square up
 * to which it is worth buying beside the cheapest other, in the book's currency:
 *
 *   worth = u · c* − carriage − work        u the share of its squares that become usable shafts, c* the cheapest other's cost of one, work included
 *
 * Chances from the logarithms of the costs, independent, each by Student's law with lots − 1 degrees of freedom (`chanceLowest`). Interval of
 * the worth: 95 %, from how the lots of both differ (`clusterLogInterval` of u · c*); carriage and work are taken as known. All years count alike. Suppliers with fewer than
 * four lots have no say. Most likely cheapest first.
 *
 * Checked: tests/yield/costRank.test.ts
 *
 * @param costs from `shaftCost` with the work on a square in them
 * @param workEach that work, be the square finished or not; timber of which less fails saves it
 */
export function costRank(costs: readonly ShaftCost[], workEach = 0): CostRank[] {
  const known = costs.filter((row) => row.inWindowLog && row.inWindowShareLog && row.inWindowCost !== undefined);
  return [...groupBy(known, ({species}) => species).values()].flatMap((own) => {
    if (own.length < 2) return [];
    const chances = chanceLowest(
      own.map(({inWindowLog}) => ({
        estimate: inWindowLog!.estimate,
        sd: Math.sqrt(inWindowLog!.variance),
        freedom: inWindowLog!.clusters - 1
      }))
    );
    return own
      .map((row, i): CostRank => {
        const [best] = own.filter((other) => other !== row).toSorted((a, b) => a.inWindowCost! - b.inWindowCost!);
        const usable = row.inWindowShareLog!;
        const worth = clusterLogInterval([usable, best!.inWindowLog!]);
        return {
          species: row.species,
          supplier: row.supplier,
          lots: row.lots,
          inWindowCost: row.inWindowCost!,
          chanceCheapest: chances[i]!,
          against: best!.supplier,
          worthEach: Math.exp(usable.estimate + best!.inWindowLog!.estimate) - row.carriageEach - workEach,
          worthLow: worth.low - row.carriageEach - workEach,
          worthHigh: worth.high - row.carriageEach - workEach,
          priceEach: row.squareCost - row.carriageEach - workEach
        };
      })
      .toSorted((a, b) => b.chanceCheapest - a.chanceCheapest);
  });
}
