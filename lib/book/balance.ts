import {sum} from "../stats/numbers.ts";
import {type AlikePieces, alikePieces} from "./alikePieces.ts";
import type {Fate, Histories} from "./histories.ts";
import type {Lot} from "./records.ts";

/** Where the squares of one species are: every one bought is in exactly one place. */
export interface BalanceRow {
  species: string;
  bought: number;
  finished: number;
  discarded: number;
  diverted: number;
  inStock: number;
  /** Bought by the lot's own count, but with no sound row in squares.csv; negative where more are listed than bought. */
  unaccounted: number;
  /** Whether bought = finished + discarded + diverted + in stock + unaccounted. */
  closes: boolean;
}

/**
 * The balance of the book, squares by species:
 *
 *   bought = finished + discarded + diverted + in stock + unaccounted
 *
 * `bought` is the sum of the lots' own counts; the fates are counted piece by piece; `unaccounted` is counted lot by lot. A
 * finished shaft stays finished when it is sold.
 *
 * Checked: tests/book/balance.test.ts
 */
export function balance({lots, pieces, settings}: Pick<Histories, "lots" | "pieces" | "settings">): BalanceRow[] {
  return countedBalance(lots, alikePieces(pieces, settings));
}

/** The same from pieces alike. */
export function countedBalance(lots: readonly Lot[], alike: readonly AlikePieces[]): BalanceRow[] {
  const listed = new Map<string, number>();
  const fates = new Map<string, number>();
  for (const {lot, species, fate, squares} of alike) {
    listed.set(lot, (listed.get(lot) ?? 0) + squares);
    fates.set(`${fate} ${species}`, (fates.get(`${fate} ${species}`) ?? 0) + squares);
  }
  return [...new Set(lots.map(({species}) => species))].sort().map((species) => {
    const ofSpecies = lots.filter((lot) => lot.species === species);
    const bought = sum(ofSpecies.map(({squaresBought}) => squaresBought));
    const unaccounted = sum(ofSpecies.map(({lot, squaresBought}) => squaresBought - (listed.get(lot) ?? 0)));
    const count = (fate: Fate) => fates.get(`${fate} ${species}`) ?? 0;
    const [finished, discarded, diverted, inStock] = [
      count("finished"),
      count("discarded"),
      count("diverted"),
      count("in stock")
    ];
    const closes = bought === finished + discarded + diverted + inStock + unaccounted;
    return {species, bought, finished, discarded, diverted, inStock, unaccounted, closes};
  });
}
