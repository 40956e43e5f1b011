import {linearSumAssignment} from "linear-sum-assignment";
import {check} from "../check.ts";
import {sum} from "./numbers.ts";

/** Who gets what. */
export interface Assignment {
  /** For each row the column it gets; undefined when it gets none. */
  columns: (number | undefined)[];
  /** Costs of the pairs made, added up, in the unit of the costs. */
  total: number;
  /** True when every row got a column, or every column a row. */
  complete: boolean;
}

/**
 * Assignment of rows (orders) to columns (shafts), each at most once: as many pairs as can be made, and of all such
 * ways one of least total cost, in the unit of the costs. A pair that must not be made has cost undefined.
 *
 *   maximise the number of pairs, then minimise Σ cost[row][column]
 *
 * When several ways are equally good, which of them comes out is not promised. The price put on a forbidden pair
 * inside is larger than any sum of true costs, and never enters the total.
 *
 * Source: Jonker and Volgenant (1987), Computing 38:325–340, by way of Crouse (2016), IEEE Trans. Aerosp. Electron.
 * Syst. 52:1679–1696; npm package linear-sum-assignment.
 * Checked: tests/reference/assignment.test.ts, against enumeration in R; tests/stats/assign.test.ts, against
 * enumeration here.
 *
 * @param costs one array a row, all of one length; costs may be negative
 * @throws RangeError unless rows have one length and costs are finite or undefined
 * @example assign([[4, 1, 3], [2, 0, 5], [3, 2, 2]]) // {columns: [1, 0, 2], total: 5, complete: true}
 */
export function assign(costs: readonly (readonly (number | undefined)[])[]): Assignment {
  const width = costs[0]?.length ?? 0;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const row of costs) {
    check(row.length === width, "assign: costs", `rows of ${width}`, row.length);
    for (const cost of row) {
      if (cost === undefined) continue;
      if (!Number.isFinite(cost)) check(false, "assign: costs", "finite", cost);
      low = Math.min(low, cost);
      high = Math.max(high, cost);
    }
  }
  if (low > high) return {columns: costs.map(() => undefined), total: 0, complete: costs.length * width === 0};
  const forbidden = (high - low + 1) * (Math.min(costs.length, width) + 1);
  const priced = costs.map((row) => row.map((cost) => (cost === undefined ? forbidden : cost - low)));
  const {rowAssignments} = linearSumAssignment(priced, {maximaze: false});
  const columns = costs.map((row, i) => {
    const column = rowAssignments[i]!;
    return column >= 0 && row[column] !== undefined ? column : undefined;
  });
  const made = columns.filter((column) => column !== undefined).length;
  const total = sum(columns.map((column, i) => (column === undefined ? 0 : costs[i]![column]!)));
  return {columns, total, complete: made === Math.min(costs.length, width)};
}
