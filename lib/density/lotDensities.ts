import {type Day, dayText} from "../book/day.ts";
import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {mean} from "../stats/mean.ts";
import {quantile} from "../stats/quantile.ts";

/** Density at 12 % moisture of the squares of one lot. */
export interface LotDensity {
  species: string;
  supplier: string;
  lot: string;
  boughtOn: Day;
  squares: number;
  meanKgM3: number;
  quarterKgM3: number;
  threeQuarterKgM3: number;
}

/**
 * Density at 12 % moisture content lot by lot, kg/m³: mean and quartiles (type 7) of its squares, in the order they were bought.
 *
 * Checked: tests/density/lotDensities.test.ts; quantiles in tests/reference
 */
export function lotDensities({pieces}: Pick<Histories, "pieces">): LotDensity[] {
  return [...groupBy(pieces, ({lot}) => lot)]
    .map(([lot, own]) => {
      const {species, supplier, boughtOn} = own[0]!;
      const values = own.map(({densityAt12KgM3}) => densityAt12KgM3);
      return {
        species,
        supplier,
        lot,
        boughtOn: dayText(boughtOn),
        squares: values.length,
        meanKgM3: mean(values)!,
        quarterKgM3: quantile(values, 0.25)!,
        threeQuarterKgM3: quantile(values, 0.75)!
      };
    })
    .sort((a, b) => (a.boughtOn === b.boughtOn ? (a.lot < b.lot ? -1 : 1) : a.boughtOn < b.boughtOn ? -1 : 1));
}
