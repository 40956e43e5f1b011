import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {lotInterval, type Resampling} from "../stats/lotInterval.ts";
import {finishChance} from "./finishChance.ts";

/** What a finished shaft of one supplier's timber costs in money spent on wood, in the book's currency. */
export interface ShaftCost {
  species: string;
  supplier: string;
  lots: number;
  squares: number;
  /** Squares and carriage together, ÷ squares. */
  squareCost: number;
  /** Finished shafts to expect of these squares. */
  shafts: number;
  shaftCost?: number;
  shaftCostLow?: number;
  shaftCostHigh?: number;
  /** The same per shaft inside the density window. */
  inWindow: number;
  inWindowCost?: number;
  inWindowCostLow?: number;
  inWindowCostHigh?: number;
}

/**
 * Cost of a finished shaft by supplier and species, and of one inside the species' density window:
 *
 *   (Σ squares bought · price + carriage) / (shafts finished + chances of those in stock)
 *
 * The workshop's own time is not in it. Interval: lots resampled; none with fewer than six lots.
 * Checked: tests/yield/shaftCost.test.ts
 */
export function shaftCost(histories: Histories, resampling: Resampling): ShaftCost[] {
  const ofSpecies = groupBy(histories.pieces, ({species}) => species);
  const ofLot = groupBy(histories.pieces, ({lot}) => lot);
  const groups = groupBy(histories.lots, ({species, supplier}) => JSON.stringify([species, supplier]));
  const rows = [...groups.values()].map((lots) => {
    const {species, supplier} = lots[0]!;
    const chance = finishChance(histories, ofSpecies.get(species) ?? []);
    const {low, high} = histories.settings.species[species]!.windowKgM3;
    const figures = lots.map(({lot, squaresBought, priceEach, carriage = 0}) => {
      const pieces = ofLot.get(lot) ?? [];
      const fits = pieces.filter(({densityAt12KgM3: density}) => density >= low && density <= high);
      const expected = (some: typeof pieces) => some.reduce((total, piece) => total + (chance(piece) ?? 0), 0);
      return {
        squares: squaresBought,
        cost: squaresBought * priceEach + carriage,
        shafts: expected(pieces),
        inWindow: expected(fits)
      };
    });
    type Key = keyof (typeof figures)[number];
    const total = (key: Key, weights?: readonly number[]) =>
      figures.reduce((sum, row, i) => sum + row[key] * (weights?.[i] ?? 1), 0);
    const ratio = (key: Key, weights?: readonly number[]) =>
      total(key, weights) > 0 ? total("cost", weights) / total(key, weights) : undefined;
    const interval = (key: Key) => lotInterval(lots.length, (weights) => ratio(key, weights), resampling);
    return {
      species,
      supplier,
      lots: lots.length,
      squares: total("squares"),
      squareCost: total("cost") / total("squares"),
      shafts: total("shafts"),
      inWindow: total("inWindow"),
      ...priced("shaftCost", ratio("shafts"), interval("shafts")),
      ...priced("inWindowCost", ratio("inWindow"), interval("inWindow"))
    } as ShaftCost;
  });
  return rows.sort(
    (a, b) => a.species.localeCompare(b.species, "en") || (a.inWindowCost ?? Infinity) - (b.inWindowCost ?? Infinity)
  );
}

function priced(
  name: string,
  value: number | undefined,
  interval: {low: number; high: number} | undefined
): Record<string, number> {
  return {
    ...(value !== undefined && {[name]: value}),
    ...(interval && {[`${name}Low`]: interval.low, [`${name}High`]: interval.high})
  };
}
