/** A row as it will stand in a file: heading to cell; a heading not named is a blank cell. */
export type Row = Record<string, string>;

export const headings = {
  "lots.csv": [
    "lot",
    "bought_on",
    "supplier",
    "species",
    "squares_bought",
    "squares_looked_at",
    "price_each",
    "carriage",
    "drying",
    "note"
  ],
  "squares.csv": [
    "square",
    "lot",
    "measured_on",
    "length_mm",
    "width_mm",
    "thickness_mm",
    "mass_g",
    "mc_pct",
    "rings_per_25mm",
    "grain_one_in",
    "colour",
    "note"
  ],
  "events.csv": [
    "date",
    "square",
    "event",
    "stage",
    "mass_g",
    "mc_pct",
    "diameter_mm",
    "deflection_mm",
    "defect",
    "order",
    "note"
  ],
  "orders.csv": [
    "order",
    "ordered_on",
    "wanted_by",
    "species",
    "length_mm",
    "tip_mm",
    "mass_min_g",
    "mass_max_g",
    "deflection_min_mm",
    "deflection_max_mm",
    "grain_one_in",
    "colour",
    "quantity",
    "lost",
    "price_each",
    "note"
  ],
  "climate.csv": ["date", "temperature_c", "humidity_pct"]
} as const;

export type TableName = keyof typeof headings;
export type Tables = Record<TableName, Row[]>;

/** A table as CSV text: commas, LF, quotes only where a cell needs them. */
export function csv(name: TableName, rows: readonly Row[]): string {
  return `${[headings[name].join(","), ...rows.map((row) => csvLine(name, row))].join("\n")}\n`;
}

/** A row of a table as a line, without its end. */
export function csvLine(name: TableName, row: Row): string {
  return headings[name].map((heading) => quoted(row[heading] ?? "")).join(",");
}

function quoted(cell: string): string {
  return /[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
