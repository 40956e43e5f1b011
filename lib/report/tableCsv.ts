import {cellData, headingText} from "./cell.ts";
import {csvText} from "./csvText.ts";
import type {Cell, Column, Table} from "./table.ts";

/**
 * A table as the text of a CSV file: the unit in each heading, the interval as two more columns, numbers rounded as they are
 * shown and written without grouping. Returns the text.
 *
 * @example tableCsv({id, caption, columns: [{key: "density", heading: "Density", unit: "kg/m³"}], rows: [{density: 650.4}]})
 * // "\ufeffDensity (kg/m³)\r\n650\r\n"
 */
export function tableCsv(table: Table, {currency = ""} = {}): string {
  return csvText(tableCells(table, {currency}));
}

/**
 * A table as the cells of a file, headings first: the unit in each heading, the interval as two more columns, numbers rounded as they are
 * shown. Returns rows of text, numbers, and undefined where there is nothing.
 */
export function tableCells(table: Table, {currency = ""} = {}): Cell[][] {
  const heading = table.columns.flatMap((column) =>
    parts(column).map(({part}) => headingText(column, {currency, part}))
  );
  const rows = table.rows.map((row) =>
    table.columns.flatMap((column) => parts(column).map(({key}) => cellData(row[key], column.unit)))
  );
  return [heading, ...rows];
}

function parts({key, low, high}: Column): {key: string; part: string}[] {
  const value = {key, part: ""};
  return low === undefined || high === undefined
    ? [value]
    : [value, {key: low, part: "low"}, {key: high, part: "high"}];
}
