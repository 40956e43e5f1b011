import gammaln from "@stdlib/math-base-special-gammaln";
import {check} from "../check.ts";
import {sum} from "./numbers.ts";

/** Tables as likely as the observed one count with it, rounding apart. */
const slack = 1e-7;

/** More tables than this are not gone through one by one. */
const mostTables = 300_000;

/**
 * Fisher's exact test that rows (suppliers) share one distribution over columns (discarded, kept), given the margins:
 * p, the chance of a table no more likely than the observed one, a fraction of 1. For counts too small for
 * `chiSquareTest`.
 *
 *   P(table) = ∏ row sums! · ∏ column sums! / ( N! · ∏ cells! )    p = Σ P(t) over tables t with P(t) ≤ P(observed)
 *   with `side`, for 2 × 2 only: Σ over tables whose first cell is at least ("greater") or at most ("less") its own
 *
 * All tables with these margins are gone through; rows of no count and columns of no count are left out.
 *
 * Source: Fisher (1935), The Design of Experiments, chapter 2; Freeman and Halton (1951), Biometrika 38:141–149.
 * Checked: tests/reference/equalRates.test.ts, against Fisher's tea table (34/70, 17/70) and R's fisher.test.
 *
 * @param table rows of counts, all of one length
 * @returns 1 when the margins leave no choice; undefined when the tables are too many to go through (over 300 000)
 * @throws RangeError unless all are counts in rows of one length, and `side` only with 2 × 2
 */
export function fisherExact(
  table: readonly (readonly number[])[],
  {side = "both"}: {side?: "both" | "greater" | "less"} = {}
): number | undefined {
  checkTable(table, "fisherExact");
  const isSquare = table.length === 2 && table[0]!.length === 2;
  check(side === "both" || isSquare, "fisherExact: side", '"both" unless the table is 2 × 2', side);
  const rows = table.map((row) => sum(row));
  const columns = table[0]?.map((_, j) => sum(table.map((row) => row[j]!))) ?? [];
  const margins = sum([...rows, ...columns].map(logFactorial)) - logFactorial(sum(rows));
  const observed = margins - sum(table.flat().map(logFactorial));
  const counts = (logP: number, firstCell: number) => {
    if (side === "greater") return firstCell >= table[0]![0]!;
    if (side === "less") return firstCell <= table[0]![0]!;
    return logP <= observed + slack;
  };
  // The longer side is gone along, the shorter is shared out: fewer, deeper choices.
  const flip = columns.length < rows.length;
  const [along, shared] = flip ? [rows, columns] : [columns, rows];
  let total = 0;
  let seen = 0;
  const visit = (step: number, left: readonly number[], logP: number, firstCell: number): boolean => {
    if (step === along.length - 1) {
      const last = logP - sum(left.map(logFactorial));
      if (counts(last, step === 0 ? left[0]! : firstCell)) total += Math.exp(last);
      return ++seen <= mostTables;
    }
    return shares(along[step]!, left, (cells) => {
      const rest = left.map((count, i) => count - cells[i]!);
      return visit(step + 1, rest, logP - sum(cells.map(logFactorial)), step === 0 ? cells[0]! : firstCell);
    });
  };
  if (along.length === 0) return 1;
  return visit(0, shared, margins, 0) ? Math.min(1, total) : undefined;
}

/** Calls `use` with every way to take `total` out of what is `left`; stops, and returns false, when `use` does. */
function shares(total: number, left: readonly number[], use: (cells: number[]) => boolean): boolean {
  const cells: number[] = [];
  const place = (index: number, rest: number): boolean => {
    if (index === left.length - 1) return rest > left[index]! || use([...cells, rest]);
    for (let count = Math.min(rest, left[index]!); count >= 0; count--) {
      cells[index] = count;
      if (!place(index + 1, rest - count)) return false;
    }
    return true;
  };
  return place(0, total);
}

/**
 * Refuses a table that is not of counts in rows of one length.
 *
 * Checked: tests/stats/fisherExact.test.ts
 */
export function checkTable(table: readonly (readonly number[])[], where: string): void {
  const width = table[0]?.length ?? 0;
  for (const row of table) {
    check(row.length === width, `${where}: table`, `rows of ${width}`, row.length);
    for (const count of row) check(Number.isInteger(count) && count >= 0, `${where}: table`, "counts", count);
  }
}

function logFactorial(count: number): number {
  return gammaln(count + 1);
}
