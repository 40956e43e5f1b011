import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {mean} from "../stats/mean.ts";
import {sum} from "../stats/numbers.ts";
import {toleranceFactor} from "../stats/toleranceFactor.ts";
import {varianceComponents} from "../stats/varianceComponents.ts";

/** Between which densities nearly all squares of a supplier lie, kg/m³ at 12 %. */
export interface DensityRange {
  species: string;
  supplier: string;
  squares: number;
  lots: number;
  lowKgM3: number;
  highKgM3: number;
  /** How many independent squares tell as much. */
  effective: number;
}

/** The share of squares that the range is for: 19 of 20. */
const coverage = 0.95;

/** Fewer independent squares say nothing of a range: the factor k is 9 at three and 37 at two, and the range would go below 0. */
const fewestEffective = 4;

/**
 * The range in which, with 95 % certainty, at least 19 of 20 squares of a supplier lie, those of lots to come as well, kg/m³ at 12 % moisture
 * (tolerance interval):
 *
 *   mean of lots ∓ k(n*) · √(σ²_lots + σ²_within)        n* the lesser of N/(1 + (m − 1) ρ) and (σ²_lots + σ²_within)/Var(mean of lots)
 *   ρ = σ²_lots/(σ²_lots + σ²_within), m = Σ nᵢ²/N, Var(mean of lots) = (σ²_lots + σ²_within · mean of 1/nᵢ)/k lots
 *
 * k the exact factor for independent values of a bell curve, N squares in lots of nᵢ, σ² from `varianceComponents`. Squares of one lot are alike,
 * so N of them tell as much as n*; lots of very unlike sizes tell less.
 *
 * Range: suppliers with four lots or more whose n* is 4 or more, the others have no row (one big lot and a few tiny ones tell as little as two
 * squares); densities that scatter like a bell curve. Approximate, as n* stands for a sample of lots and ρ is itself estimated: in 1000
 * simulated suppliers of each kind it held 19 of 20 squares in 90 (lots that differ as much as their squares) to 96 of 100 with four like lots,
 * in 96 with eight, in 97 to 100 with lots of very unlike sizes.
 * Source: `toleranceFactor`; n* is the design effect of cluster samples, Kish (1965), Survey Sampling, §5.4 (from memory).
 * Checked: tests/density/densityRange.test.ts (simulated suppliers: how often the range holds 19 of 20)
 */
export function densityRange({pieces}: Pick<Histories, "pieces">): DensityRange[] {
  const groups = groupBy(pieces, ({species, supplier}) => JSON.stringify([species, supplier]));
  return [...groups.values()].flatMap((own) => {
    const {species, supplier} = own[0]!;
    const lots = [...groupBy(own, ({lot}) => lot).values()].map((lot) =>
      lot.map(({densityAt12KgM3}) => densityAt12KgM3)
    );
    const parts = varianceComponents(lots);
    if (lots.length < 4 || !parts) return [];
    const total = parts.between + parts.within;
    if (total === 0) return [];
    const usual = sum(lots.map((lot) => lot.length ** 2)) / own.length;
    const likeness = parts.between / total;
    const middle = mean(lots.map((lot) => mean(lot)!))!;
    const variance = (parts.between + parts.within * mean(lots.map((lot) => 1 / lot.length))!) / lots.length;
    const effective = Math.floor(Math.min(own.length / (1 + (usual - 1) * likeness), total / variance) + 1e-9);
    if (effective < fewestEffective) return [];
    const half = toleranceFactor({n: effective, coverage}) * Math.sqrt(total);
    return [
      {
        species,
        supplier,
        squares: own.length,
        lots: lots.length,
        lowKgM3: middle - half,
        highKgM3: middle + half,
        effective
      }
    ];
  });
}
