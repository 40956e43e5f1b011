import {CholeskyDecomposition, Matrix, SingularValueDecomposition} from "ml-matrix";
import {check} from "../check.ts";
import {sum} from "./numbers.ts";

export interface PoissonRegression {
  /** One for each column of the design, on the log scale: exp of it is a factor on the mean. */
  coefficients: number[];
  /** Of the coefficients, if the counts scatter no more than chance; multiply by pearson/df if they do. */
  covariance: number[][];
  /** Expected count of each row. */
  fitted: number[];
  /** 2 Σ x ln(x/m) − (x − m), and Σ (x − m)²/m: about `df` when the model holds. */
  deviance: number;
  pearson: number;
  /** Rows less columns. */
  df: number;
}

/**
 * Poisson regression: how an expected count depends on what is known of each row, with a log link.
 *
 *   ln mᵢ = offsetᵢ + Σ x_ij·b_j        counts ~ Poisson(mᵢ), b by iteratively reweighted least squares
 *
 * A column of ones is the general level; ln of the exposure (days open, squares looked at) goes into the offset. When
 * one value of a column has only zero counts its coefficient runs off to −∞: the variance is then huge, and says so.
 *
 * Source: McCullagh and Nelder (1989), Generalized Linear Models, 2nd ed., section 2.5 and chapter 6.
 * Checked: tests/reference/poissonRegression.test.ts, against a published example of R's glm and further R runs.
 *
 * @param design one array of numbers for each count, all of one length
 * @returns undefined when all counts are 0, when 100 rounds do not settle, or when the equations cannot be solved
 * @throws RangeError unless lengths agree, counts are 0 or more, and no column is a combination of others
 */
export function poissonRegression(
  design: readonly (readonly number[])[],
  counts: readonly number[],
  {offset = counts.map(() => 0)}: {offset?: readonly number[]} = {}
): PoissonRegression | undefined {
  checkInputs(design, counts, offset);
  if (!counts.some((count) => count > 0)) return undefined;
  const x = new Matrix(design.map((row) => [...row]));
  let fitted = counts.map((count) => count + 0.1);
  let deviance = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 100; round++) {
    const working = counts.map((count, i) => Math.log(fitted[i]!) - offset[i]! + count / fitted[i]! - 1);
    const weighted = x.clone().mulColumnVector(fitted);
    const right = weighted.transpose().mmul(Matrix.columnVector(working));
    const equations = information(x, fitted);
    if (equations === undefined) return undefined;
    const coefficients = equations.solve(right).to1DArray();
    fitted = offset.map((known, i) => Math.exp(known + dot(design[i]!, coefficients)));
    const before = deviance;
    deviance = sum(counts.map((count, i) => devianceTerm(count, fitted[i]!)));
    if (Math.abs(deviance - before) > 1e-12 * (deviance + 0.1)) continue;
    const covariance = information(x, fitted)?.solve(Matrix.eye(x.columns)).to2DArray();
    if (covariance === undefined) return undefined;
    const pearson = sum(counts.map((count, i) => (count - fitted[i]!) ** 2 / fitted[i]!));
    return {coefficients, covariance, fitted, deviance, pearson, df: x.rows - x.columns};
  }
  return undefined;
}

/**
 * XᵀWX, W the fitted counts, ready to solve with; as (√W X)ᵀ(√W X) it is symmetric to the last bit, as asked. Undefined when the counts pull
 * a coefficient so far out that it cannot be solved: as for months of which one alone has any.
 */
function information(x: Matrix, fitted: number[]): CholeskyDecomposition | undefined {
  if (!fitted.every(Number.isFinite)) return undefined;
  const scaled = x.clone().mulColumnVector(fitted.map(Math.sqrt));
  const decomposed = new CholeskyDecomposition(scaled.transpose().mmul(scaled));
  return decomposed.isPositiveDefinite() ? decomposed : undefined;
}

function devianceTerm(count: number, mean: number): number {
  return 2 * ((count === 0 ? 0 : count * Math.log(count / mean)) - (count - mean));
}

function dot(a: readonly number[], b: readonly number[]): number {
  return sum(a.map((value, i) => value * b[i]!));
}

function checkInputs(design: readonly (readonly number[])[], counts: readonly number[], offset: readonly number[]) {
  const columns = design[0]?.length ?? 0;
  check(columns > 0, "poissonRegression: design", "rows of at least one column", columns);
  check(design.length === counts.length, "poissonRegression: design", `${counts.length} rows`, design.length);
  check(offset.length === counts.length, "poissonRegression: offset", `${counts.length} numbers`, offset.length);
  for (const row of design)
    check(row.length === columns, "poissonRegression: design", `${columns} columns`, row.length);
  const numbers = [...design.flat(), ...offset];
  for (const value of numbers) check(Number.isFinite(value), "poissonRegression: design", "finite numbers", value);
  for (const count of counts) {
    check(Number.isFinite(count) && count >= 0, "poissonRegression: counts", "0 or more", count);
  }
  const rank = new SingularValueDecomposition(new Matrix(design.map((row) => [...row])), {autoTranspose: true}).rank;
  check(rank === columns, "poissonRegression: design", `of ${columns} independent columns`, rank);
}
