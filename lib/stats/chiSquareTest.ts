import chiSquareCdf from "@stdlib/stats-base-dists-chisquare-cdf";
import {checkTable} from "./fisherExact.ts";
import {sum} from "./numbers.ts";

export interface ChiSquareTest {
  chiSquare: number;
  df: number;
  p: number;
  /** Of all cells; below 5 the p is rough: use `fisherExact`. A count. */
  smallestExpected: number;
}

/**
 * Pearson's test that rows (suppliers) share one distribution over columns (discarded, kept): p is the chance of a
 * difference as large if they did, a fraction of 1. No continuity correction.
 *
 *   χ² = Σ (x − e)²/e    e = row sum · column sum / N    df = (rows − 1)(columns − 1)
 *
 * It takes pieces as independent; pieces of one lot are alike, and then p is too small.
 *
 * Source: Pearson (1900); Fleiss (1981), Statistical Methods for Rates and Proportions, 2nd ed., chapter 9.
 * Checked: tests/reference/equalRates.test.ts, against Fleiss' table of smokers and R's chisq.test.
 *
 * @returns undefined below two rows or columns with counts: there is nothing to compare
 * @throws RangeError unless all are counts in rows of one length
 */
export function chiSquareTest(table: readonly (readonly number[])[]): ChiSquareTest | undefined {
  checkTable(table, "chiSquareTest");
  const rows = table.map((row) => sum(row));
  const columns = table[0]?.map((_, j) => sum(table.map((row) => row[j]!))) ?? [];
  const total = sum(rows);
  const df = (rows.filter((n) => n > 0).length - 1) * (columns.filter((n) => n > 0).length - 1);
  if (df < 1 || total === 0) return undefined;
  const cells = table.flatMap((row, i) => row.map((x, j) => ({x, expected: (rows[i]! * columns[j]!) / total})));
  const used = cells.filter(({expected}) => expected > 0);
  const chiSquare = sum(used.map(({x, expected}) => (x - expected) ** 2 / expected));
  const smallestExpected = Math.min(...used.map(({expected}) => expected));
  return {chiSquare, df, p: 1 - chiSquareCdf(chiSquare, df), smallestExpected};
}
