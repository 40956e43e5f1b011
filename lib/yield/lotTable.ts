import {type Day, dayNumber} from "../book/day.ts";
import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {convolve} from "../stats/convolve.ts";
import {finishChance} from "./finishChance.ts";

/** One lot and what has become of it so far. */
export interface LotRow {
  lot: string;
  boughtOn: Day;
  supplier: string;
  species: string;
  lookedAt?: number;
  bought: number;
  finished: number;
  discarded: number;
  diverted: number;
  inStock: number;
  unaccounted: number;
  /** Finished so far ÷ bought: too low while pieces are in stock. */
  soFarFraction: number;
  /** Finished, plus the chances of those in stock, ÷ bought. */
  expectedFraction?: number;
  expectedLow?: number;
  expectedHigh?: number;
  weeks: number;
}

/**
 * Every lot, newest first: bought, looked at, finished, discarded, in stock, the yield so far and the yield to expect when the
 * rest is decided (fractions of 1).
 *
 * Interval: where 95 % of the outcomes lie if each piece in stock takes its own chance (exact convolution); the chances themselves
 * are taken as known.
 *
 * Checked: tests/yield/lotTable.test.ts
 */
export function lotTable(histories: Histories): LotRow[] {
  const pieces = groupBy(histories.pieces, ({lot}) => lot);
  const ofSpecies = groupBy(histories.pieces, ({species}) => species);
  const chances = new Map([...ofSpecies].map(([species, examples]) => [species, finishChance(histories, examples)]));
  const rows = histories.lots.map(({lot, boughtOn, supplier, species, squaresLookedAt, squaresBought: bought}) => {
    const own = pieces.get(lot) ?? [];
    const count = (fate: string) => own.filter((piece) => piece.fate === fate).length;
    const finished = count("finished");
    const open = own.filter(({fate}) => fate === "in stock").map((piece) => chances.get(species)!(piece));
    const range = open.includes(undefined) ? undefined : outcomes(open as number[]);
    return {
      lot,
      boughtOn,
      supplier,
      species,
      ...(squaresLookedAt !== undefined && {lookedAt: squaresLookedAt}),
      bought,
      finished,
      discarded: count("discarded"),
      diverted: count("diverted"),
      inStock: open.length,
      unaccounted: bought - own.length,
      soFarFraction: finished / bought,
      ...(range && {
        expectedFraction: (finished + range.mean) / bought,
        expectedLow: (finished + range.low) / bought,
        expectedHigh: (finished + range.high) / bought
      }),
      weeks: (histories.asOf - dayNumber(boughtOn)) / 7
    };
  });
  return rows.sort((a, b) => (a.boughtOn < b.boughtOn ? 1 : a.boughtOn > b.boughtOn ? -1 : a.lot < b.lot ? -1 : 1));
}

/** How many of some pieces come through when each has its own chance: mean and the middle 95 %. */
function outcomes(chances: readonly number[]): {mean: number; low: number; high: number} {
  const pmf = chances.reduce<number[]>((sum, p) => convolve(sum, [1 - p, p]), [1]);
  const at = (share: number) => {
    let total = 0;
    for (const [k, p] of pmf.entries()) {
      total += p;
      if (total >= share - 1e-12) return k;
    }
    return pmf.length - 1;
  };
  return {mean: chances.reduce((a, b) => a + b, 0), low: at(0.025), high: at(0.975)};
}
