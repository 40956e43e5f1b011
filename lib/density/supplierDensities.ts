import type {BookCounts} from "../book/bookCounts.ts";
import type {Piece} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";

/** Densities at 12 % of one supplier's squares of one species, kg/m³: one list a lot. */
export interface SupplierDensities {
  species: string;
  supplier: string;
  lots: number[][];
}

/** Densities lot by lot of each supplier and species, in the order in which they first come. */
export function densitiesOf(
  pieces: readonly Pick<Piece, "species" | "supplier" | "lot" | "densityAt12KgM3">[]
): SupplierDensities[] {
  const groups = groupBy(pieces, ({species, supplier}) => JSON.stringify([species, supplier]));
  return [...groups.values()].map((own) => ({
    species: own[0]!.species,
    supplier: own[0]!.supplier,
    lots: [...groupBy(own, ({lot}) => lot).values()].map((lot) => lot.map(({densityAt12KgM3}) => densityAt12KgM3))
  }));
}

/** The same from counts of squares by density. */
export function densitiesOfCounts({
  lots,
  densities
}: Pick<BookCounts, "densities"> & {
  lots: readonly {lot: string; species: string; supplier: string}[];
}): SupplierDensities[] {
  const ofLot = groupBy(densities, ({lot}) => lot);
  const groups = groupBy(lots, ({species, supplier}) => JSON.stringify([species, supplier]));
  return [...groups.values()].flatMap((own) => {
    const {species, supplier} = own[0]!;
    const filled = own.flatMap(({lot}) => {
      const rows = ofLot.get(lot);
      return rows ? [rows.flatMap(({densityKgM3, squares}) => Array<number>(squares).fill(densityKgM3))] : [];
    });
    return filled.length > 0 ? [{species, supplier, lots: filled}] : [];
  });
}
