import {groupBy as grouped} from "../../lib/book/spells.ts";
import {check} from "../../lib/check.ts";
import {deviation} from "../../lib/stats/deviation.ts";
import {mean} from "../../lib/stats/mean.ts";
import {sum} from "../../lib/stats/numbers.ts";
import {build, checkColumns, type Frame, keyOf, type Name, rowsOf, type Value} from "./frame.ts";

/** How the values of a group become one. Missing values are left out: `count` counts those that are there, `sd` divides by n − 1. */
export type How = "mean" | "sum" | "count" | "min" | "max" | "sd";

/** What comes of values of type V, when there is one or more. */
type Result<V, H extends How> = H extends "sum" | "count"
  ? number
  : H extends "min" | "max"
    ? V
    : H extends "mean"
      ? number | Extract<V, undefined>
      : number | undefined;

type Row = Readonly<Record<string, Value>>;

/**
 * One row for each group, in the order in which the groups first come: its keys, then its measures. A missing key is a group of its own.
 * Of values all missing, `count` and `sum` are 0 and the rest missing; so is the `sd` of one value.
 *
 * Traps of danfo's `groupby`, which is not used: a missing value makes the mean NaN and is counted; the deviation of one value is 0;
 * keys run together (see `keyOf`); several keys come nested, numeric ones ascending; a key "constructor" and a frame without rows throw.
 *
 * @throws RangeError for a column that is not there, and for the mean, sum or sd of what is no number
 * @example await groupBy(df, ["species"], {squares: ["massG", "count"], meanMassG: ["massG", "mean"]})
 */
export async function groupBy<
  R,
  K extends Name<R>,
  const M extends Readonly<Record<string, readonly [column: Name<R>, how: How]>>
>(
  df: Frame<R>,
  keys: readonly K[],
  measures: M
): Promise<Frame<Pick<R, K> & {-readonly [N in keyof M]: Result<R[M[N][0] & keyof R], M[N][1]>}>> {
  const wanted = Object.entries(measures);
  checkColumns(df, [...keys, ...wanted.map(([, [column]]) => column)], "groupBy");
  const groups = grouped(rowsOf(df) as Row[], (row) => keyOf(row, keys));
  const rows = [...groups.values()].map((own) => ({
    ...own[0],
    ...Object.fromEntries(
      wanted.map(([name, [column, how]]) => [name, aggregate(own, column, how, `groupBy: ${name}`)])
    )
  }));
  return build([...keys, ...wanted.map(([name]) => name)], rows, "groupBy");
}

/**
 * One row for each group of `rows`, one column for each value of `columns`, both in the order in which they first come; in each cell
 * `values` taken together as `how` says, of no rows too. danfo has no pivot.
 *
 * @throws RangeError as `groupBy`, and where `columns` is missing or has a value that cannot name a column
 * @example await pivot(df, {rows: ["supplier"], columns: "species", values: "massG", how: "mean"})
 */
export async function pivot<R, K extends Name<R>, V extends Name<R>, H extends How>(
  df: Frame<R>,
  {rows: keys, columns, values, how}: {rows: readonly K[]; columns: Name<R>; values: V; how: H}
): Promise<Frame<Pick<R, K> & {[label: string]: Result<R[V] | undefined, H>}>> {
  checkColumns(df, [...keys, columns, values], "pivot");
  const all = rowsOf(df) as Row[];
  for (const [i, row] of all.entries()) {
    const cell = `pivot: ${columns} of row ${i}`;
    check(row[columns] !== undefined, cell, "there to name a column (give missing ones a name first)", row[columns]);
  }
  const labels = [...grouped(all, (row) => String(row[columns])).keys()];
  const rows = [...grouped(all, (row) => keyOf(row, keys)).values()].map((own) => {
    const cells = grouped(own, (row) => String(row[columns]));
    return {
      ...own[0],
      ...Object.fromEntries(
        labels.map((label) => [label, aggregate(cells.get(label) ?? [], values, how, "pivot: cell")])
      )
    };
  });
  return build([...keys, ...labels], rows, "pivot");
}

function aggregate(rows: readonly Row[], column: string, how: How, where: string): Value {
  const values = rows.map((row) => row[column]).filter((value) => value !== undefined);
  if (how === "count") return values.length;
  if (how === "min" || how === "max") {
    return values.length === 0 ? undefined : values.reduce((a, b) => ((how === "min" ? b < a : b > a) ? b : a));
  }
  const numbers = values.map((value) => {
    check(typeof value === "number", where, `the ${how} of a column of numbers, and ${column} holds others`, value);
    return value;
  });
  return {mean, sum, sd: deviation}[how](numbers);
}
