import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {brownForsythe} from "../stats/brownForsythe.ts";
import {fewestClusters, lotInterval, type Resampling} from "../stats/lotInterval.ts";
import {lotSums, sdOfSums, weightedSums} from "./densityBySupplier.ts";

/** Whose density is tighter, of two suppliers of one species. */
export interface SpreadRatio {
  tighter: string;
  wider: string;
  /** Standard deviation of the tighter ÷ of the wider. */
  ratio: number;
  ratioLow?: number;
  ratioHigh?: number;
  verdict: "tighter" | "cannot tell";
}

export interface SpreadComparison {
  species: string;
  suppliers: number;
  squares: number;
  /** Brown–Forsythe test that all spreads are equal; takes squares as independent, so its p is too small when lots differ. */
  f?: number;
  df1?: number;
  df2?: number;
  p?: number;
  pairs: SpreadRatio[];
}

/**
 * Spreads of density (standard deviations, kg/m³ at 12 %) compared within each species: each pair's ratio with an interval that resamples
 * whole lots of both, and the Brown–Forsythe test over all. "tighter" where the interval lies below 1; "cannot tell" where it does not or
 * where one of the two has fewer than six lots.
 *
 * Source: Brown & Forsythe (1974), JASA 69:364–367. Checked: tests/reference (NIST GEAR.DAT), tests/density/compareSpread.test.ts
 */
export function compareSpread({pieces}: Pick<Histories, "pieces">, resampling: Resampling): SpreadComparison[] {
  return [...groupBy(pieces, ({species}) => species)].sort().map(([species, own]) => {
    const groups = [...groupBy(own, ({supplier}) => supplier)].flatMap(([supplier, some]) => {
      const lots = [...groupBy(some, ({lot}) => lot).values()].map((lot) =>
        lot.map(({densityAt12KgM3}) => densityAt12KgM3)
      );
      const sums = lots.map((lot) => lotSums(lot));
      const sd = sdOfSums(
        weightedSums(
          sums,
          sums.map(() => 1)
        )
      );
      return sd !== undefined && sd > 0 ? [{supplier, values: lots.flat(), sums, sd}] : [];
    });
    groups.sort((a, b) => a.sd - b.sd);
    const test = groups.length > 1 ? brownForsythe(groups.map(({values}) => values)) : undefined;
    const pairs = groups.flatMap((a, i) =>
      groups.slice(i + 1).map((b): SpreadRatio => {
        const enough = Math.min(a.sums.length, b.sums.length) >= fewestClusters;
        const statistic = (weights: readonly number[]) => {
          const sdA = sdOfSums(weightedSums(a.sums, weights.slice(0, a.sums.length)));
          const sdB = sdOfSums(weightedSums(b.sums, weights.slice(a.sums.length)));
          return sdA === undefined || sdB === undefined || sdB === 0 ? undefined : sdA / sdB;
        };
        const strata = [a.sums.length, b.sums.length];
        const interval = enough ? lotInterval(strata, statistic, resampling) : undefined;
        const verdict = interval && interval.high < 1 ? "tighter" : "cannot tell";
        const ends = interval && {ratioLow: interval.low, ratioHigh: interval.high};
        return {tighter: a.supplier, wider: b.supplier, ratio: a.sd / b.sd, ...ends, verdict};
      })
    );
    return {species, suppliers: groups.length, squares: own.length, ...test, pairs};
  });
}
