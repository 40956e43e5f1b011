import {Matrix, solve} from "ml-matrix";
import {check} from "../check.ts";

/**
 * The coefficients b of the sums Σ x_ij b_j that come nearest to the values: those with the least Σ (yᵢ − Σ x_ij b_j)², by QR decomposition.
 *
 * Range: at least as many rows as columns, no column a combination of the others.
 * Source: Golub & Van Loan, Matrix Computations, section 5.3 (from memory). Checked: tests/stats/leastSquares.test.ts, by hand
 *
 * @param design one array of numbers for each value, all of one length
 * @throws RangeError unless there is a row for each value and there are as many rows as columns
 */
export function leastSquares(design: readonly (readonly number[])[], values: readonly number[]): number[] {
  const columns = design[0]?.length ?? 0;
  check(design.length === values.length, "leastSquares: design", `${values.length} rows`, design.length);
  check(columns > 0 && design.length >= columns, "leastSquares: design", "at least as many rows as columns", columns);
  return solve(new Matrix(design.map((row) => [...row])), Matrix.columnVector([...values])).to1DArray();
}
