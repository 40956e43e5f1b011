import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {brownForsythe} from "../stats/brownForsythe.ts";
import {clusterLogInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {logSd, lotSums, sdOfSums, weightedSums} from "./densityBySupplier.ts";

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
 * Spreads of density (standard deviations, kg/m³ at 12 %) compared within each species: each pair's ratio with an interval from how the lots
 * of both differ (`clusterLogInterval` of ln SD − ln SD), and the Brown–Forsythe test over all. "tighter" where the interval lies below 1;
 * "cannot tell" where it does not or where one of the two has fewer than four lots.
 *
 * Source: Brown & Forsythe (1974), JASA 69:364–367. Checked: tests/reference (NIST GEAR.DAT), tests/density/compareSpread.test.ts;
 * coverage in the contributor's guide
 */
export function compareSpread({pieces}: Pick<Histories, "pieces">): SpreadComparison[] {
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
      const [ofLogSd] = clusterJackknife(sums.length, (weights) => [logSd(weightedSums(sums, weights))]);
      return sd !== undefined && sd > 0 ? [{supplier, values: lots.flat(), sd, ofLogSd}] : [];
    });
    groups.sort((a, b) => a.sd - b.sd);
    const test = groups.length > 1 ? brownForsythe(groups.map(({values}) => values)) : undefined;
    const pairs = groups.flatMap((a, i) =>
      groups.slice(i + 1).map((b): SpreadRatio => {
        const interval =
          a.ofLogSd && b.ofLogSd && clusterLogInterval([a.ofLogSd, {...b.ofLogSd, estimate: -b.ofLogSd.estimate}]);
        const verdict = interval && interval.high < 1 ? "tighter" : "cannot tell";
        const ends = interval && {ratioLow: interval.low, ratioHigh: interval.high};
        return {tighter: a.supplier, wider: b.supplier, ratio: a.sd / b.sd, ...ends, verdict};
      })
    );
    return {species, suppliers: groups.length, squares: own.length, ...test, pairs};
  });
}
