import chiSquareCdf from "@stdlib/stats-base-dists-chisquare-cdf";
import {Matrix, pseudoInverse, SingularValueDecomposition} from "ml-matrix";
import {eventTable, riskSets, type Spell} from "./eventTable.ts";
import {allEvents} from "./kaplanMeier.ts";
import {sum} from "./numbers.ts";

export interface LogRankTest {
  chiSquare: number;
  df: number;
  p: number;
  /** Events seen and events expected if all groups were alike, one for each group. */
  observed: number[];
  expected: number[];
}

/**
 * Log-rank test that groups (suppliers) reach the event, of whatever cause, at one pace: p is the chance of a
 * difference as large if they did, a fraction of 1.
 *
 *   E_g = Σ d·n_g/n    V_gh = Σ d(n − d)/(n − 1)·(n_g/n)·([g = h] − n_h/n)    χ² = (O − E)ᵀV⁺(O − E)
 *   d events and n pieces at risk at each event time, n_g of them in group g; df = rank of V
 *
 * It takes pieces as independent; pieces of one lot are alike, and then p is too small.
 *
 * Source: Mantel (1966), Cancer Chemother. Rep. 50:163–170; Klein and Moeschberger (2003), section 7.3.
 * Checked: tests/reference/kaplanMeier.test.ts, against Freireich's data and R's survdiff.
 *
 * @returns undefined below two groups that are at risk together at some event
 * @throws RangeError on impossible spells (see `eventTable`)
 */
export function logRank(groups: readonly (readonly Spell[])[]): LogRankTest | undefined {
  const pooled = eventTable(groups.flat());
  const deaths = allEvents(pooled);
  const atRisk = groups.map((spells) => riskSets(spells, pooled.times));
  const overTimes = (value: (d: number, n: number, row: number) => number) =>
    sum(pooled.atRisk.map((n, row) => value(deaths[row]!, n, row)));
  const observed = groups.map((spells) => spells.filter((spell) => spell.cause !== undefined).length);
  const expected = atRisk.map((own) => overTimes((d, n, row) => (d * own[row]!) / n));
  const covariance = atRisk.map((own, g) =>
    atRisk.map((other, h) =>
      overTimes((d, n, row) => {
        const share = (own[row]! / n) * ((g === h ? 1 : 0) - other[row]! / n);
        return n === d ? 0 : ((d * (n - d)) / (n - 1)) * share;
      })
    )
  );
  if (groups.length < 2) return undefined;
  const df = new SingularValueDecomposition(new Matrix(covariance)).rank;
  if (df === 0) return undefined;
  const excess = Matrix.columnVector(observed.map((count, g) => count - expected[g]!));
  const chiSquare = excess
    .transpose()
    .mmul(pseudoInverse(new Matrix(covariance)))
    .mmul(excess)
    .get(0, 0);
  return {chiSquare, df, p: 1 - chiSquareCdf(chiSquare, df), observed, expected};
}
