import {writeFileSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath} from "node:url";
import {style, workbookOf} from "../scripts/io/workbookOf.ts";

// The workbook of tests/books/workbook. Written anew with: npx tsx tests/books/makeWorkbook.ts

/** A cell: text, a number, or XML of its own. */
type Cell = string | number | undefined | ((reference: string) => string);

/** Days are counted from 1899-12-30: 45698 is 2025-02-10. */
const day =
  (serial: number): Cell =>
  (reference) =>
    `<c r="${reference}" s="${style.date}"><v>${serial}</v></c>`;
const percent =
  (share: number): Cell =>
  (reference) =>
    `<c r="${reference}" s="${style.percent}"><v>${share}</v></c>`;
/** A formula with the value last calculated; without one where no program calculated it. */
const formula =
  (text: string, value?: number, format: number = style.general): Cell =>
  (reference) =>
    `<c r="${reference}" s="${format}"><f>${text}</f>${value === undefined ? "" : `<v>${value}</v>`}</c>`;
const error =
  (code: string): Cell =>
  (reference) =>
    `<c r="${reference}" t="e"><v>${code}</v></c>`;

/** The XML of a sheet of these rows; an empty row is blank. */
function sheet(rows: readonly (readonly Cell[])[], merged?: string): string {
  const lines = rows.map((cells, row) => {
    const written = cells.map((cell, column) => cellXml(cell, `${String.fromCharCode(65 + column)}${row + 1}`));
    return cells.length === 0 ? "" : `<row r="${row + 1}">${written.join("")}</row>`;
  });
  const merges = merged === undefined ? "" : `<mergeCells count="1"><mergeCell ref="${merged}"/></mergeCells>`;
  return `<sheetData>${lines.join("")}</sheetData>${merges}`;
}

function cellXml(cell: Cell, reference: string): string {
  if (cell === undefined) return "";
  if (typeof cell === "function") return cell(reference);
  if (typeof cell === "number") return `<c r="${reference}"><v>${cell}</v></c>`;
  return `<c r="${reference}" t="inlineStr"><is><t>${cell}</t></is></c>`;
}

const none = undefined;

const lots = sheet([
  ["Timber bought"],
  ["by hand since 2024, here since 2025"],
  [],
  ["Lot", "Date bought", "Yard", "Wood", "Squares", "Price", "Carriage", "Note"],
  ["M1", day(45698), "Fennel Bridge Sawmill", "ash", 4, formula("50/4", 12.5), 38],
  ["M2", day(45748), "Upper Sallow Yard", "maple", 2, 13.75, none, "two of a fence post"],
  [],
  ["Prices are without carriage; cash unless noted"]
]);

const squares = sheet(
  [
    ["Squares on the rack"],
    [
      "Square no",
      "Lot no",
      "Length (mm)",
      "Width (mm)",
      "Thickness (mm)",
      "Gross (g)",
      "Tare (g)",
      "Mass (g)",
      "MC",
      "Note"
    ],
    ["M1-1", "M1", 1500, 40, 40, 1730, 30, formula("F3-G3", 1700), percent(0.12)],
    ["M1-2", "M1", 1502, 40.2, 39.9, 1688.5, 30, formula("F4-G4", 1658.5), percent(0.135)],
    ["M1-3", "M1", 1500, 40, 40, 1650, 30, formula("F5-G5"), percent(0.13)],
    ["M1-4", "M1", "went into the stove before it was measured"],
    [],
    ["M2-1", "M2", 1510, 41, 40.5, 1775, 30, formula("F8-G8", 1745), percent(0.085)],
    ["M2-2", "M2", 1508, 41, 41, 1785, 30, formula("F9-G9", 1755), percent(0.09), "2 knots"],
    [],
    [none, none, none, none, none, none, none, formula("SUM(H3:H9)", 6858.5)]
  ],
  "C6:J6"
);

const events = sheet([
  ["Date", "Square", "Event", "Stage", "Mass (g)", "Diameter (mm)", "Defect", "Order"],
  [day(45800), "M1-1", "turned", "rough-round", 1100, 37.2],
  [day(45828), "M1-1", "weighed", none, 1090],
  [day(45800), "M1-2", "turned", "rough-round", error("#DIV/0!"), 37],
  [day(45828), "M1-3", "discarded", none, none, none, "split"],
  [day(45842), "M1-1", "discarded", "rough-round", none, none, "check"],
  [day(45870), "M2-1", "turned", "Rough round", 1150.25, 37.4],
  [day(45884), "M2-1", "weighed", "second-round", 1149],
  [],
  ["31 Aug 2025", "M2-2", "turned", "rough-round", 1160]
]);

const orders = sheet([
  ["Order no", "Ordered", "Due date", "Timber", "Quantity", "Price"],
  ["W-1", day(45870), day(45900), "ash", 1, 150],
  ["W-2", day(45900), day(45870), "maple", 2, 155]
]);

const climate = sheet([
  ["Date", "Temperature (°C)", "RH (%)"],
  [day(45828), 16.5, percent(0.61)],
  [day(45910), 14, percent(0.69)],
  ["Mean", formula("AVERAGE(B2:B3)", 15.25), formula("AVERAGE(C2:C3)", 0.65, style.percent)]
]);

/** The bytes of the workbook; packed as this Node packs, so compare what is in them. */
export function workbookBytes(): Buffer {
  return workbookOf([
    {name: "Lots", xml: lots},
    {name: "Squares", xml: squares},
    {name: "Events", xml: events},
    {name: "Orders", xml: orders},
    {name: "Climate", xml: climate}
  ]);
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  writeFileSync(join(import.meta.dirname, "workbook", "book", "stock.xlsx"), workbookBytes());
