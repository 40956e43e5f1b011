import {dayText, monthOf} from "../book/day.ts";
import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";

/** The squares of one species bought in one month, and how many of them lie in the window. */
export interface WindowMonth {
  species: string;
  month: string;
  squares: number;
  inside: number;
  /** inside ÷ squares, fraction of 1. */
  insideFraction: number;
}

/**
 * The share of the squares bought in a month whose density at 12 % moisture lies in the window of their species, by species and month;
 * a month in which none was bought has no row.
 *
 * Checked: tests/density/windowByMonth.test.ts
 */
export function windowByMonth({settings, pieces}: Pick<Histories, "settings" | "pieces">): WindowMonth[] {
  const groups = groupBy(pieces, ({species, boughtOn}) => JSON.stringify([species, monthOf(dayText(boughtOn))]));
  return [...groups]
    .map(([key, own]) => {
      const [species, month] = JSON.parse(key) as [string, string];
      const {low, high} = settings.species[species]!.windowKgM3;
      const inside = own.filter(({densityAt12KgM3: x}) => x >= low && x <= high).length;
      return {species, month, squares: own.length, inside, insideFraction: inside / own.length};
    })
    .sort((a, b) => (a.species === b.species ? (a.month < b.month ? -1 : 1) : a.species < b.species ? -1 : 1));
}
