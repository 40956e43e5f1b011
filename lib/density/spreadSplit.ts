import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {nestedVarianceComponents} from "../stats/nestedVarianceComponents.ts";
import {sum} from "../stats/numbers.ts";
import {spreadSources} from "./spreadSources.ts";

/** Where the spread of one species' densities comes from: shares of the variance, fractions of 1 that add up to 1. */
export interface SpreadSplit {
  species: string;
  suppliers: number;
  lots: number;
  squares: number;
  /** Whose timber it is. */
  betweenSuppliersFraction: number;
  /** Which of a supplier's lots. */
  betweenLotsFraction: number;
  /** Which square of a lot, measuring error apart. */
  withinLotFraction: number;
  /** Scale, calliper, tape and meter. */
  measuringFraction: number;
}

/**
 * Variance of density at 12 % of a species split into between suppliers, between lots of a supplier, between squares of a lot and measuring
 * error, as shares: which choice tightens what is brought home.
 *
 * Nested variance components of the densities (`nestedVarianceComponents`); the measuring error, propagated from the accuracies in the settings
 * (`spreadSources`, mean over squares), is taken out of the part within a lot, at most all of it. The trap: a meter that is off all day shifts a
 * whole lot, and counts here as between lots.
 *
 * Checked: tests/density/spreadSplit.test.ts; the components in tests/reference/varianceComponents.test.ts
 *
 * @returns species with two suppliers, one of them with two lots, only
 */
export function spreadSplit(histories: Pick<Histories, "settings" | "pieces">): SpreadSplit[] {
  const sources = spreadSources(histories);
  return [...groupBy(histories.pieces, ({species}) => species)].sort().flatMap(([species, pieces]) => {
    const suppliers = [...groupBy(pieces, ({supplier}) => supplier).values()].map((own) =>
      [...groupBy(own, ({lot}) => lot).values()].map((lot) => lot.map(({densityAt12KgM3}) => densityAt12KgM3))
    );
    const parts = nestedVarianceComponents(suppliers);
    if (!parts) return [];
    const total = parts.outer + parts.inner + parts.within;
    if (total === 0) return [];
    const own = sources.filter((row) => row.species === species);
    const error = sum(own.map(({squares, measuringKgM3}) => squares * measuringKgM3 ** 2)) / pieces.length;
    const measuring = Math.min(error, parts.within);
    return [
      {
        species,
        suppliers: suppliers.length,
        lots: suppliers.flat().length,
        squares: pieces.length,
        betweenSuppliersFraction: parts.outer / total,
        betweenLotsFraction: parts.inner / total,
        withinLotFraction: (parts.within - measuring) / total,
        measuringFraction: measuring / total
      }
    ];
  });
}
