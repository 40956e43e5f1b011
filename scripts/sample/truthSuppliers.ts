import type {Piece} from "./pieces.ts";
import {type SpeciesName, suppliers, turnForTheWorse} from "./truth.ts";
import {windows} from "./truthDemand.ts";
import {endTruth, kindTruth} from "./truthYield.ts";
import {shareInWindow, totalSd} from "./window.ts";

/** What is true of each supplier: what becomes of its squares, before and after it got worse where it did. */
export function supplierTruth(pieces: readonly Piece[]) {
  return suppliers.map((supplier) => {
    const own = pieces.filter(({lot}) => lot.supplier === supplier);
    const before = own.filter(({lot}) => !lot.worse);
    const after = own.filter(({lot}) => lot.worse);
    const species = Object.keys(supplier.density) as SpeciesName[];
    return {
      supplier: supplier.name,
      drying: supplier.drying,
      priceFirstYear: supplier.price,
      carriagePerVisitFirstYear: supplier.carriage,
      discardFactor: supplier.discardFactor,
      all: endTruth(own),
      ...(after.length > 0 && {gotWorse: {...turnForTheWorse, before: endTruth(before), after: endTruth(after)}}),
      finishedParameterBySpecies: Object.fromEntries(
        species.map((name) => [name, kindTruth({supplier, species: name, worse: false}).finished])
      )
    };
  });
}

/** What is true of the density of each supplier's squares, kg/m³ at 12 % moisture, and how the squares bought came out. */
export function densityTruth(pieces: readonly Piece[]) {
  return suppliers.flatMap((supplier) =>
    (Object.keys(supplier.density) as SpeciesName[]).map((species) => {
      const truth = supplier.density[species]!;
      const values = pieces
        .filter(({lot}) => lot.supplier === supplier && lot.species === species)
        .map(({densityAt12}) => densityAt12);
      return {
        supplier: supplier.name,
        species,
        ...truth,
        sdTotal: totalSd(truth),
        shareInWindow: shareInWindow(species, truth),
        realised: {
          squares: values.length,
          mean: mean(values),
          sd: Math.sqrt(
            mean(values.map((value) => (value - mean(values)) ** 2)) * (values.length / (values.length - 1))
          ),
          shareInWindow: mean(values.map((value) => Number(inside(value, species))))
        }
      };
    })
  );
}

export function inside(densityAt12: number, species: SpeciesName): boolean {
  return densityAt12 >= windows[species].low && densityAt12 <= windows[species].high;
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
