import type {DataFrame, Series} from "danfojs";
import {check} from "../../lib/check.ts";

/** What a cell of a flat row may hold. Days are text, "2026-10-31". */
export type Value = number | string | boolean | undefined;

/** A row with every field flat; `undefined` is a missing value. */
export type Flat<R> = {[K in keyof R]: Value};

export type Name<R> = Extract<keyof R, string>;

/** A row as it comes back from a frame: each column is there, `undefined` where its value is missing. */
export type Filled<R> = {[K in keyof Required<R>]: R[K]};

/** Only for the compiler: carries the type of the rows. */
declare const rowType: unique symbol;

/**
 * A danfo DataFrame of rows R, for looking at. The type names only the members that give right numbers.
 *
 * Left out on purpose: arithmetic of whole frames (`mul`, `add`, `tensor` …), which rounds to 32 bits; `describe` and `groupby`, which
 * one missing value spoils; `sortValues`, wrong and slow with missing values; `toCSV`, which does not quote. Sort, filter and calculate on
 * the rows, before `frame` or after `rowsOf`.
 */
export interface Frame<R> extends Pick<DataFrame, "shape" | "dtypes" | "values" | "print" | "toString"> {
  readonly columns: Name<R>[];
  column(name: Name<R>): Series;
  head(rows?: number): Frame<R>;
  tail(rows?: number): Frame<R>;
  readonly [rowType]?: R;
}

/**
 * A danfo DataFrame of flat result rows: one column for each field, in the order in which the fields first come.
 *
 * A column holds numbers, text or booleans, never two of them. Missing is NaN in all three, the mark that danfo's own `isNa`, `dropNa`,
 * `fillNa` and joins know. Numbers stay 64-bit: danfo's "float32" is only its name for a column of numbers, there is no other. Days stay
 * text, as danfo's dates move with the time zone. Rows without a single row make a frame without columns.
 *
 * Trap: danfo takes the values of row objects in the order of each row's fields, so that a field can land in another's column, and
 * guesses types from the first 20 rows. So it gets columns, and their types.
 *
 * @throws RangeError for a cell that is neither number, text nor boolean, for NaN, and for a column of two types
 */
export async function frame<R extends Flat<R>>(rows: readonly R[]): Promise<Frame<R>> {
  const names = new Set(rows.flatMap((row) => Object.keys(row)));
  return build<R>([...names], rows, "frame");
}

/** The rows of a frame, the inverse of `frame`. Columns named by whole numbers come first, as in every object. */
export function rowsOf<R>(df: Frame<R>): Filled<R>[] {
  const cells = df.values as unknown as (Value | null)[][];
  const row = (values: (Value | null)[]) => df.columns.map((name, i) => [name, present(values[i])]);
  return cells.map((values) => Object.fromEntries(row(values)));
}

function present(value: Value | null): Value {
  return value === null || Number.isNaN(value) ? undefined : value;
}

/** A frame of these columns of the rows; `where` is the function that errors name. */
export async function build<R>(names: readonly string[], rows: readonly object[], where: string): Promise<Frame<R>> {
  const {DataFrame, tensorflow} = await import("danfojs");
  // Without this the first calculation prints a banner.
  tensorflow.enableProdMode();
  const members = new DataFrame([]);
  for (const name of names) {
    const named = names.filter((other) => other === name).length;
    check(named === 1, `${where}: column ${name}`, "the only one of that name (rename one first)", named);
    check(!(name in members), `${where}: column`, "no member of a DataFrame (rename it: the unit helps)", name);
  }
  check(names.length > 0 || rows.length === 0, `${where}: rows`, "of one field or more", "no field");
  const columns = names.map((name) => column(name, rows as Readonly<Record<string, unknown>>[], where));
  // Rows of cells with names beside them, as an object of columns would put those named by whole numbers first.
  const cells = rows.map((_, i) => columns.map(({values}) => values[i]!));
  return new DataFrame(cells, {columns: [...names], dtypes: columns.map(({dtype}) => dtype)}) as unknown as Frame<R>;
}

/** danfo's name for each type; a column of missing values counts as numbers. */
const dtypes: Readonly<Record<string, string>> = {
  number: "float32",
  string: "string",
  boolean: "boolean",
  undefined: "float32"
};

const words: Readonly<Record<string, string>> = {number: "a number", string: "text", boolean: "true or false"};

function column(name: string, rows: readonly Readonly<Record<string, unknown>>[], where: string) {
  const first = rows.findIndex((row) => row[name] !== undefined);
  const type = typeof rows[first]?.[name];
  const values = rows.map((row, i) => {
    const value = row[name];
    const cell = `${where}: rows[${i}].${name}`;
    if (value === undefined) return Number.NaN;
    check((typeof value) in words, cell, "a number, text, boolean or undefined (take lists and objects apart)", value);
    const like = `${words[type]} as rows[${first}].${name} is (a column has one type: convert one of them)`;
    check(typeof value === type, cell, like, value);
    check(!Number.isNaN(value), cell, "a number, or undefined where it is missing", value);
    return value as number | string | boolean;
  });
  return {dtype: dtypes[type]!, values};
}

/** Refuses names that are no columns. A frame made of no rows knows no columns, and takes every name. */
export function checkColumns(df: {readonly columns: readonly string[]}, names: readonly string[], where: string): void {
  if (df.columns.length === 0) return;
  for (const name of names)
    check(df.columns.includes(name), `${where}: column`, `one of ${df.columns.join(", ")}`, name);
}

/**
 * A text that is the same for two rows only if these columns hold the same.
 *
 * Trap: danfo joins keys by "-" in groups and by "_" in merges, so that ("a-b", "c") and ("a", "b-c") are one, as are 1 and "1".
 */
export function keyOf(row: object, names: readonly string[]): string {
  const cells = names.map((name) => (row as Record<string, Value>)[name]);
  return cells.map((cell) => (typeof cell === "string" ? JSON.stringify(cell) : String(cell))).join();
}
