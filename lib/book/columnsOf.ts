import {noDay, type PlainTable} from "./plainTable.ts";

/** Stands for the place of a name where a cell is blank. */
export const noPlace = -1;
/** And where nobody knows the name. */
export const unknownPlace = -2;

/** The place of each name in a list. */
export function placesOf(names: readonly string[]): Map<string, number> {
  return new Map(names.map((name, place) => [name, place]));
}

/** By row the place of a column's name among those known, `noPlace` or `unknownPlace`; worked out once for each name. */
export function nameColumn({columns, rows}: PlainTable, key: string, known: ReadonlyMap<string, number>): Int32Array {
  const column = columns.get(key);
  const found = new Int32Array(rows).fill(noPlace);
  if (column?.kind !== "text") return found;
  const placeOf = Int32Array.from(column.names.map((name) => known.get(name) ?? unknownPlace));
  const {places} = column;
  for (let row = 0; row < rows; row++) if (places[row]! >= 0) found[row] = placeOf[places[row]!]!;
  return found;
}

/** By row the number of a column, NaN where it is blank. */
export function numberColumn({columns, rows}: PlainTable, key: string): Float64Array {
  const column = columns.get(key);
  return column?.kind === "number" ? column.values : new Float64Array(rows).fill(Number.NaN);
}

/** By row the day number of a column, `noDay` where it is blank. */
export function dayColumn({columns, rows}: PlainTable, key: string): Int32Array {
  const column = columns.get(key);
  return column?.kind === "day" ? column.values : new Int32Array(rows).fill(noDay);
}
