import type {Unit} from "./quantity.ts";

/** A cell: text, a number in its column's unit, or nothing. */
export type Cell = string | number | undefined;

/** One flat row of results, by column key. */
export type Row = Readonly<Record<string, Cell>>;

/**
 * A column of a table. With `low` and `high` (keys of the same row) a page shows "value (low to high)" in one cell and a CSV
 * three columns, so that the uncertainty is never lost in a download.
 */
export interface Column {
  key: string;
  heading: string;
  unit: Unit;
  low?: string;
  high?: string;
}

/** A table as it stands in a page, in a CSV beside the page and in the JSON. */
export interface Table {
  /** Letters, digits and hyphens: names the anchor and the CSV file. */
  id: string;
  caption: string;
  columns: readonly Column[];
  rows: readonly Row[];
  note?: string;
}
