import {check} from "../../lib/check.ts";
import type {Unit} from "../../lib/report/quantity.ts";
import type {Cell, Column, Row, Table} from "../../lib/report/table.ts";

/** How rows become a table; what is left out is worked out from the rows. */
export interface TableOptions {
  caption?: string;
  /** Which columns, in which order: keys, or keys with a heading and unit of one's own. */
  columns?: readonly (string | ColumnWish)[];
  note?: string;
}

export interface ColumnWish {
  key: string;
  heading?: string;
  unit?: Unit;
  low?: string;
  high?: string;
}

/** As many rows as a page shows of a table; the note says how many there are. */
const rowsShown = 200;

/** The ends of names that say a unit, as everywhere in this toolkit; also as the book's own columns write them. */
const units: readonly (readonly [RegExp, Unit])[] = [
  [/KgM3$/, "kg/m³"],
  [/(Mm3|_mm3)$/, "mm³"],
  [/(Mm|_mm)$/, "mm"],
  [/(?<=[a-z0-9])(G|_g)$/, "g"],
  [/(?<=[a-z])(C|_c)$/, "°C"],
  [/(Pct|_pct)$/, "percent"],
  [/Fraction$/, "fraction"],
  [/(?<=[a-z])Days$/, "days"],
  [/(?<=[a-z])Weeks$/, "weeks"],
  [/[pP]er100$/, "per 100"]
];

/**
 * The table of an array of flat rows, or of a frame or series (anything with `columns`, `index` and `values`, as danfo has); undefined for any
 * other value. A column's unit is read off its name (`massG`, `yieldFraction`) and its numbers; `yieldLow` and `yieldHigh` become
 * the interval of `yieldFraction`.
 *
 * An empty list is a table, without rows, where columns are wished for.
 *
 * @throws RangeError when a wished column is in no row of some
 */
export function tableOf(
  value: unknown,
  {caption, columns: wishes, note}: TableOptions = {}
): Omit<Table, "id"> | undefined {
  const frame = frameRows(value);
  const rows = frame?.rows ?? (wishes && Array.isArray(value) && value.length === 0 ? [] : flatRows(value));
  if (!rows) return undefined;
  const keys = frame?.keys ?? [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const named = wishes?.map((wish) => (typeof wish === "string" ? {key: wish} : wish));
  for (const {key} of named ?? [])
    check(rows.length === 0 || keys.includes(key), "show: columns", `keys of the rows (${keys.join(", ")})`, key);
  const columns = named
    ? named.map((wish) => column(wish, rows, keys))
    : keys.filter((key) => !isEnd(key, keys)).map((key) => column({key}, rows, keys));
  const left = rows.length - rowsShown;
  const notes = [note, left > 0 && `The first ${rowsShown} of ${rows.length} rows.`].filter(
    (one) => typeof one === "string"
  );
  return {
    caption: caption ?? `${rows.length} ${rows.length === 1 ? "row" : "rows"}`,
    columns,
    rows: rows.slice(0, rowsShown),
    ...(notes.length > 0 && {note: notes.join(" ")})
  };
}

function flatRows(value: unknown): Row[] | undefined {
  if (!Array.isArray(value) || value.length === 0 || !value.every(isPlain)) return undefined;
  const rows = value.map((row) => Object.entries(row).map(([key, cell]) => [key, cellOf(cell)] as const));
  if (rows.some((row) => row.some(([, cell]) => cell === notFlat))) return undefined;
  return rows.map((row) => Object.fromEntries(row) as Row);
}

function isPlain(value: unknown): value is object {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

const notFlat = Symbol("not flat");

function cellOf(value: unknown): Cell | typeof notFlat {
  if (value === undefined || value === null) return undefined;
  if (typeof value === "string" || typeof value === "number") return value;
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "bigint") return String(value);
  if (value instanceof Date && !Number.isNaN(value.getTime())) return value.toISOString().slice(0, 10);
  return notFlat;
}

/** Rows of a frame, or of a series, which has one column. An index that only counts is left out. */
function frameRows(value: unknown): {rows: Row[]; keys: string[]} | undefined {
  if (!isPlain(value)) return undefined;
  const {columns, values, index} = value as Record<string, unknown>;
  if (!Array.isArray(columns) || !Array.isArray(values)) return undefined;
  const names = columns.map(String);
  const labels = Array.isArray(index) && !index.every((label, i) => label === i) ? index : undefined;
  const keys = [...(labels ? ["index"] : []), ...names];
  const rows = values.map((row, i) => {
    const cells = [...(labels ? [labels[i]] : []), ...(Array.isArray(row) ? row : [row])];
    return Object.fromEntries(
      keys.map((key, k) => {
        const cell = cellOf(cells[k]);
        return [key, cell === notFlat ? String(cells[k]) : Number.isNaN(cell) ? undefined : cell]; // NaN is missing there
      })
    );
  });
  return {rows, keys};
}

function stem(key: string): string {
  return units.reduce((name, [end]) => (name === key ? key.replace(end, "") : name), key) || key;
}

/** Whether a column is one end of another's interval. */
function isEnd(key: string, keys: readonly string[]): boolean {
  return keys.some((other) => other !== key && ends(other, keys).includes(key));
}

function ends(key: string, keys: readonly string[]): string[] {
  const [low, high] = [
    [`${stem(key)}Low`, `${key}Low`],
    [`${stem(key)}High`, `${key}High`]
  ].map((names) => names.find((name) => keys.includes(name)));
  return low !== undefined && high !== undefined ? [low, high] : [];
}

function column(
  {key, heading = words(stem(key)), unit, low, high}: ColumnWish,
  rows: readonly Row[],
  keys: readonly string[]
): Column {
  const own = unit ?? unitOf(key, rows);
  const [ownLow, ownHigh] = ends(key, keys);
  const [from, to] = [low ?? ownLow, high ?? ownHigh];
  return {key, heading, unit: own, ...(from !== undefined && to !== undefined && {low: from, high: to})};
}

function unitOf(key: string, rows: readonly Row[]): Unit {
  const cells = rows.map((row) => row[key]).filter((cell) => cell !== undefined && !Number.isNaN(cell));
  const texts = cells.filter((cell) => typeof cell === "string");
  if (texts.length > 0)
    return texts.length === cells.length && texts.every((text) => /^\d{4}-\d{2}(-\d{2})?$/.test(text))
      ? "date"
      : "text";
  return units.find(([end]) => end.test(key))?.[1] ?? (cells.every(Number.isInteger) ? "count" : "number");
}

/** "soFarFraction" without its unit: "So far". */
function words(name: string): string {
  const text = name
    .replace(/_/g, " ")
    .replace(/(?<=[a-z])(?=[A-Z0-9])|(?<=[0-9])(?=[A-Z])/g, " ")
    .toLowerCase()
    .trim();
  return text === "" ? name : text[0]!.toUpperCase() + text.slice(1);
}
