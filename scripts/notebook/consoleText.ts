import {cellInterval, cellText, headingText} from "../../lib/report/cell.ts";
import type {Table} from "../../lib/report/table.ts";
import {type ShowOptions, shown} from "./shown.ts";

/** A value as the console gets to see it, when a notebook is run without the runner. A figure is told by its words and its table. */
export function consoleText(value: unknown, options: ShowOptions): string {
  const what = shown(value, options);
  if (what.kind === "table") return tableText(what.table);
  if (what.kind === "figure") return `${what.figure.title}\n${what.figure.subtitle}\n${tableText(what.figure.table)}`;
  if (what.kind === "plot") return `(a plot${typeof what.options.title === "string" ? `: ${what.options.title}` : ""})`;
  return what.text;
}

function tableText({caption, columns, rows, note}: Omit<Table, "id">): string {
  const lines = [
    columns.map((column) => headingText(column)),
    ...rows.map((row) =>
      columns.map((column) => {
        const interval = cellInterval(row, column);
        return cellText(row[column.key], column.unit) + (interval === undefined ? "" : ` (${interval})`);
      })
    )
  ];
  const widths = columns.map((_, i) => Math.max(...lines.map((line) => line[i]!.length)));
  const aligned = lines.map((line) =>
    line
      .map((text, i) => (isText(columns[i]!.unit) ? text.padEnd(widths[i]!) : text.padStart(widths[i]!)))
      .join("  ")
      .trimEnd()
  );
  return [caption, ...aligned, ...(note === undefined ? [] : [note])].join("\n");
}

function isText(unit: string): boolean {
  return unit === "text" || unit === "date";
}
