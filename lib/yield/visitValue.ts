import {groupBy} from "../book/spells.ts";
import {check} from "../check.ts";
import {expectedGain} from "../stats/expectedGain.ts";
import type {CostRank} from "./costRank.ts";

/** What one more lot of a supplier would teach. */
export interface VisitValue {
  species: string;
  supplier: string;
  lots: number;
  /** Standard error of its cost of a usable shaft now, in the book's currency. */
  costError: number;
  /** How far that cost may move by one lot more: scale of Student's law. */
  moves: number;
  /** Expected saving on each usable shaft from choosing better afterwards. */
  perShaft: number;
  /** The same on all that are wanted. */
  value: number;
}

/**
 * What the next trip to each supplier is worth for what it teaches, in the book's currency: by how much the cost of a season's usable shafts is
 * expected to fall because one knows better afterwards whose timber is cheapest.
 *
 *   value = shafts · s̃ · f(−Δ/s̃)        s̃ = s/√(k + 1)        f as in `expectedGain`, Student's law with k − 1 degrees of freedom
 *
 * s the standard error of the supplier's cost of a usable shaft from k lots (prices are known, so of its usable share alone), s̃ how far one lot
 * more moves it, Δ how far it lies from the cheapest other. A further lot's own value follows Student's law of scale s √(k + 1), and moves the mean
 * by 1/(k + 1) of its distance. It is 0 where nothing more could be learned or the choice could not change; the timber brought home is not in it,
 * nor the drive.
 *
 * Range: suppliers with four lots or more of a species that has two such. The trap: one lot is taken to say as much as another, and the buyer as
 * free to take all from one supplier.
 * Source: Frazier, Powell & Dayanik (2008), SIAM J. Control Optim. 47:2410–2439, the knowledge gradient; with unknown variance: Chick, Branke &
 * Schmidt (2010), INFORMS J. Comput. 22:71–80 (both from memory).
 * Checked: tests/yield/visitValue.test.ts; the expectation in tests/stats/expectedGain.test.ts, by numerical integration
 *
 * @param ranks from `costRank`
 * @param shafts how many usable shafts of each species are wanted in a season
 * @throws RangeError unless shafts is 0 or more
 */
export function visitValue(ranks: readonly CostRank[], shafts: Readonly<Record<string, number>>): VisitValue[] {
  return [...groupBy(ranks, ({species}) => species)].flatMap(([species, own]) => {
    const wanted = shafts[species] ?? 0;
    check(wanted >= 0 && wanted < Infinity, `visitValue: shafts of ${species}`, "0 or more", wanted);
    if (own.length < 2) return [];
    return own
      .map((row): VisitValue => {
        const {supplier, lots, costError} = row;
        const moves = costError / Math.sqrt(lots + 1);
        const others = own.filter((other) => other !== row).map(({inWindowCost}) => inWindowCost);
        const perShaft = expectedGain(Math.abs(row.inWindowCost - Math.min(...others)), moves, lots - 1);
        return {species, supplier, lots, costError, moves, perShaft, value: wanted * perShaft};
      })
      .toSorted((a, b) => b.value - a.value);
  });
}
