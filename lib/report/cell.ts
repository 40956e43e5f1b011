import {rounded, shown, shownInterval, type Unit, unitSymbol} from "./quantity.ts";
import type {Cell, Column, Row} from "./table.ts";

/** A cell as a person reads it, without its unit, which stands in the heading. Returns the text; nothing is an en dash. */
export function cellText(cell: Cell, unit: Unit): string {
  if (typeof cell === "string") return cell;
  if (cell !== undefined && (unit === "text" || unit === "date")) return String(cell);
  return shown(cell, unit, {bare: true});
}

/** The interval that belongs to a column's value in this row, as "10.1 to 15.0"; undefined where the column or row has none. */
export function cellInterval(row: Row, column: Column): string | undefined {
  if (column.low === undefined || column.high === undefined) return undefined;
  const [low, high] = [row[column.low], row[column.high]];
  if (typeof low !== "number" || typeof high !== "number") return undefined;
  return shownInterval({low, high}, column.unit, {bare: true});
}

/** A cell as a file holds it: text as it is, a number rounded once in its column's unit; undefined where there is nothing. */
export function cellData(cell: Cell, unit: Unit): Cell {
  if (typeof cell === "string" || cell === undefined) return cell;
  return unit === "text" || unit === "date" ? cell : rounded(cell, unit);
}

/** A column's heading with its unit, as "Density (kg/m³)"; `part` names an end of the interval, as "Density low (kg/m³)". */
export function headingText(column: Column, {currency = "", part = ""} = {}): string {
  const symbol = unitSymbol(column.unit, currency);
  const name = part === "" ? column.heading : `${column.heading} ${part}`;
  return symbol === "" ? name : `${name} (${symbol})`;
}
