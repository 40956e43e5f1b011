import {cellData} from "./cell.ts";
import {unitSymbol} from "./quantity.ts";
import type {Cell, Column, Table} from "./table.ts";

/** A table as the JSON file beside a page holds it: the numbers rounded as they are shown, null where there is none. */
export interface TableData {
  id: string;
  caption: string;
  note: string | null;
  /** `unit` is the unit of the numbers as written here: a fraction is already in percent. */
  columns: {key: string; heading: string; unit: string; low?: string; high?: string}[];
  rows: Record<string, Exclude<Cell, undefined> | null>[];
}

/** The table with its numbers rounded once, as plain data for JSON: every value agrees with page and CSV. */
export function tableData(table: Table, {currency = ""} = {}): TableData {
  return {
    id: table.id,
    caption: table.caption,
    note: table.note ?? null,
    columns: table.columns.map((column) => ({...column, unit: unitSymbol(column.unit, currency)})),
    rows: table.rows.map((row) =>
      Object.fromEntries(
        table.columns.flatMap((column) => keys(column).map((key) => [key, cellData(row[key], column.unit) ?? null]))
      )
    )
  };
}

function keys({key, low, high}: Column): string[] {
  return [key, low, high].filter((name) => name !== undefined);
}
