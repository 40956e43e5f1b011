import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {brownForsytheOf, distancesFrom} from "../stats/brownForsythe.ts";
import {clusterDifferenceChance} from "../stats/clusterDifferenceChance.ts";
import {clusterLogInterval} from "../stats/clusterInterval.ts";
import {type ClusterEstimate, clusterJackknife} from "../stats/clusterJackknife.ts";
import {holm} from "../stats/holm.ts";
import {studentFactor} from "../stats/interval.ts";
import {noncentralTCdf} from "../stats/noncentralT.ts";
import {sum} from "../stats/numbers.ts";
import {spreadSampleSize} from "../stats/spreadPower.ts";
import {logSd, lotSums, sdOfSums, weightedSums} from "./densityBySupplier.ts";
import {densitiesOf, type SupplierDensities} from "./supplierDensities.ts";

/** Whose density is tighter, of two suppliers of one species. */
export interface SpreadRatio {
  tighter: string;
  wider: string;
  /** Standard deviation of the tighter ÷ of the wider. */
  ratio: number;
  ratioLow?: number;
  ratioHigh?: number;
  /** How often lots that spread alike would differ so much by chance, adjusted for the number of pairs of the species; from how lots differ. */
  chance?: number;
  /** The same by the Brown–Forsythe test of the two, which takes squares as independent. */
  chanceBySquares?: number;
  /** Independent squares of each with which an F test of this pair alone, at 5 %, would tell such spreads apart 4 times in 5. */
  squaresToTell?: number;
  /** Where the verdict is "cannot tell": lots still to buy of each, 1 or more, until such spreads are told apart 4 times in 5 by lots. */
  moreLots?: number;
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

/** Below this chance two spreads are called different. */
const level = 0.05;
/** How often a difference such as the one found should be told. */
const power = 0.8;
/** No one buys more: beyond it the spreads are as good as alike. */
const mostLots = 1000;

/**
 * Spreads of density (standard deviations, kg/m³ at 12 %) compared within each species: each pair's ratio with an interval from how the lots
 * of both differ (`clusterLogInterval` of ln SD − ln SD), and the Brown–Forsythe test over all. Pair by pair
 *
 *   t = (ln SD₁ − ln SD₂)/√(v₁ + v₂)        v from leaving out lots, Satterthwaite's degrees of freedom; two-sided
 *
 * with the chances adjusted by Holm's rule for the pairs of the species, so that among many pairs that spread alike one is called different in
 * 5 of 100 books. "tighter" where that chance is below 0.05; "cannot tell" where it is not or where one of the two has fewer than four lots. The
 * interval is that of the one pair, not adjusted. `squaresToTell` by `spreadSampleSize`: a floor, as squares of a lot are alike and it knows one
 * pair only. `moreLots` is what the verdict asks for: the fewest lots x more of each, one at least, with
 *
 *   P(|t| > t₍α₎) ≥ 0.8        t noncentral, δ = |ln SD₁ − ln SD₂|/√V, V = v₁ k₁/(k₁ + x) + v₂ k₂/(k₂ + x), α = 0.05 ÷ pairs not told yet
 *
 * were the ratio found the true one and lots to come like those of now, k the lots now. Absent where told, where one of the two has fewer than four lots, and
 * where a thousand lots would not do.
 *
 * Source: Brown & Forsythe (1974), JASA 69:364–367. Checked: tests/reference (NIST GEAR.DAT), tests/density/compareSpread.test.ts;
 * coverage in the contributor's guide
 */
export function compareSpread({pieces}: Pick<Histories, "pieces">): SpreadComparison[] {
  return countedSpread(densitiesOf(pieces));
}

/** The same from the densities of each lot: the comparison depends on a book by these alone. */
export function countedSpread(suppliers: readonly SupplierDensities[]): SpreadComparison[] {
  return [...groupBy(suppliers, ({species}) => species)].sort().map(([species, own]) => {
    const groups = own.flatMap(({supplier, lots}) => {
      const sums = lots.map((lot) => lotSums(lot));
      const sd = sdOfSums(
        weightedSums(
          sums,
          sums.map(() => 1)
        )
      );
      const [ofLogSd] = clusterJackknife(sums.length, (weights) => [logSd(weightedSums(sums, weights))]);
      if (sd === undefined || sd <= 0) return [];
      return [{supplier, distances: distancesFrom("median", lots.flat()), sd, ofLogSd}];
    });
    groups.sort((a, b) => a.sd - b.sd);
    const test = groups.length > 1 ? brownForsytheOf(groups.map(({distances}) => distances)) : undefined;
    const found = groups.flatMap((a, i) =>
      groups.slice(i + 1).map((b) => {
        const interval =
          a.ofLogSd && b.ofLogSd && clusterLogInterval([a.ofLogSd, {...b.ofLogSd, estimate: -b.ofLogSd.estimate}]);
        const ends = interval && {ratioLow: interval.low, ratioHigh: interval.high};
        const squaresToTell = spreadSampleSize({ratio: a.sd / b.sd});
        return {
          pair: {tighter: a.supplier, wider: b.supplier, ratio: a.sd / b.sd, ...ends},
          logs: a.ofLogSd && b.ofLogSd && ([a.ofLogSd, b.ofLogSd] as const),
          chance: a.ofLogSd && b.ofLogSd && clusterDifferenceChance(a.ofLogSd, b.ofLogSd),
          bySquares: brownForsytheOf([a.distances, b.distances])?.p,
          squaresToTell
        };
      })
    );
    const chances = adjusted(found.map(({chance}) => chance));
    const bySquares = adjusted(found.map((one) => one.bySquares));
    const untold = chances.filter((chance) => chance !== undefined && chance >= level).length;
    const pairs = found.map(({pair, squaresToTell, logs}, i): SpreadRatio => {
      const [chance, chanceBySquares] = [chances[i], bySquares[i]];
      const told = chance !== undefined && chance < level;
      const moreLots = told || !logs ? undefined : lotsToTell(logs, level / untold);
      return {
        ...pair,
        ...(chance !== undefined && {chance}),
        ...(chanceBySquares !== undefined && {chanceBySquares}),
        ...(squaresToTell !== undefined && {squaresToTell}),
        ...(moreLots !== undefined && {moreLots}),
        verdict: told ? "tighter" : "cannot tell"
      };
    });
    return {
      species,
      suppliers: groups.length,
      squares: sum(own.map(({lots}) => sum(lots.map((lot) => lot.length)))),
      ...test,
      pairs
    };
  });
}

/** The fewest lots more of each with which the test by lots tells the two apart 4 times in 5; undefined where a thousand would not do. */
function lotsToTell([a, b]: readonly [ClusterEstimate, ClusterEstimate], alpha: number): number | undefined {
  const gap = Math.abs(a.estimate - b.estimate);
  const enough = (more: number) => {
    const known = [a, b].map(({variance, clusters}) => ({
      v: (variance * clusters) / (clusters + more),
      freedom: clusters + more - 1
    }));
    const total = sum(known.map(({v}) => v));
    const freedom = 1 / sum(known.map((one) => (one.v / total) ** 2 / one.freedom));
    const [delta, limit] = [gap / Math.sqrt(total), studentFactor(1 - alpha, freedom, "compareSpread")];
    return 1 - noncentralTCdf(limit, freedom, delta) + noncentralTCdf(-limit, freedom, delta) >= power;
  };
  if (!enough(mostLots)) return undefined;
  let [low, high] = [0, mostLots];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Chances adjusted by Holm's rule; one that is missing stays so and does not count. */
function adjusted(chances: readonly (number | undefined)[]): (number | undefined)[] {
  const known = holm(chances.filter((chance) => chance !== undefined));
  let next = 0;
  return chances.map((chance) => (chance === undefined ? undefined : known[next++]));
}
