import {isDay} from "../../lib/book/day.ts";
import type {Unit} from "../../lib/report/quantity.ts";
import type {Cell, Table} from "../../lib/report/table.ts";
import {tableCells} from "../../lib/report/tableCsv.ts";
import {type CellToWrite, workbookBytes} from "./writeWorkbook.ts";

/**
 * All tables of a report as one .xlsx workbook: a sheet that says what the others hold, then a sheet a table, with the cells of its CSV file
 * and days as dates. The same tables give the same bytes.
 */
export function tablesWorkbook(
  tables: readonly Table[],
  {currency, about}: {currency: string; about: readonly string[]}
): Uint8Array {
  const names = sheetNames(tables.map(({id}) => id));
  const list = tables.map(({caption, note = ""}, i): CellToWrite[] => [names[i]!, caption, note]);
  const readMe = [...about.map((line) => [line]), [], ["Sheet", "What it holds", "Note"], ...list];
  return workbookBytes([
    {name: "Read me", rows: readMe, widths: [32, 60, 60]},
    ...tables.map((table, i) => {
      const units = table.columns.flatMap(({unit, low, high}) =>
        low === undefined || high === undefined ? [unit] : [unit, unit, unit]
      );
      const rows = tableCells(table, {currency}).map((cells) => cells.map((cell, k) => written(cell, units[k]!)));
      return {name: names[i]!, rows, widths: rows[0]!.map((heading) => Math.max(10, String(heading).length))};
    })
  ]);
}

/** Names of at most 31 characters, no two alike whatever their case. */
function sheetNames(ids: readonly string[]): string[] {
  const taken = new Set(["read me"]);
  return ids.map((id) => {
    let name = id.slice(0, 31);
    for (let i = 2; taken.has(name.toLowerCase()); i++) name = `${id.slice(0, 28)}-${i}`;
    taken.add(name.toLowerCase());
    return name;
  });
}

function written(cell: Cell, unit: Unit): CellToWrite {
  if (cell === undefined) return "";
  return unit === "date" && typeof cell === "string" && isDay(cell) ? {date: cell} : cell;
}
