import {type Day, dayNumber} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {betaBinomialPmf, fitBetaBinomial} from "../stats/betaBinomial.ts";
import {countQuantile} from "../stats/countQuantile.ts";
import {sum} from "../stats/numbers.ts";
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
 * Interval: where 95 % of the outcomes lie. The n pieces in stock with mean chance c share their lot's luck and give a beta-binomial number
 * of shafts, BetaBin(n, c M, (1 − c) M) with M = 1/ρ − 1; ρ, how alike the squares of a lot are, is fitted to the species' lots of which
 * nine tenths are decided, and is at least 0.01. The chances themselves are taken as known.
 *
 * Checked: tests/yield/lotTable.test.ts; coverage in the contributor's guide
 */
export function lotTable(histories: Histories): LotRow[] {
  const pieces = groupBy(histories.pieces, ({lot}) => lot);
  const ofSpecies = groupBy(histories.pieces, ({species}) => species);
  const chances = new Map([...ofSpecies].map(([species, examples]) => [species, finishChance(histories, examples)]));
  const likeness = new Map([...ofSpecies].map(([species, examples]) => [species, lotLikeness(examples)]));
  const rows = histories.lots.map(({lot, boughtOn, supplier, species, squaresLookedAt, squaresBought: bought}) => {
    const own = pieces.get(lot) ?? [];
    const count = (fate: string) => own.filter((piece) => piece.fate === fate).length;
    const finished = count("finished");
    const open = own.filter(({fate}) => fate === "in stock").map((piece) => chances.get(species)!(piece));
    const range =
      open.includes(undefined) || own.length === 0 ? undefined : outcomes(open as number[], likeness.get(species)!);
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

/**
 * Intraclass correlation of becoming a shaft within a lot, from the lots that are all but decided: about the species' share, not the
 * supplier's, as the chances of the pieces are the species' too.
 */
function lotLikeness(pieces: readonly Piece[]): number {
  const lots = [...groupBy(pieces, ({lot}) => lot).values()];
  const decided = lots.filter((own) => own.filter(({fate}) => fate !== "in stock").length >= 0.9 * own.length);
  const fit = fitBetaBinomial(
    decided.map((own) => ({successes: own.filter(({fate}) => fate === "finished").length, trials: own.length}))
  );
  return Math.min(0.9, Math.max(0.01, fit?.rho ?? 0));
}

/** How many of a lot's pieces in stock come through: mean and the middle 95 %. */
function outcomes(chances: readonly number[], likeness: number): {mean: number; low: number; high: number} {
  const hopeful = chances.filter((chance) => chance > 0);
  if (hopeful.length === 0) return {mean: 0, low: 0, high: 0};
  const share = Math.min(1 - 1e-9, sum(hopeful) / hopeful.length);
  const size = 1 / likeness - 1;
  const pmf = betaBinomialPmf(hopeful.length, share * size, (1 - share) * size);
  return {mean: sum(chances), low: countQuantile(pmf, 0.025)!, high: countQuantile(pmf, 0.975)!};
}
