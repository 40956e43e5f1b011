import type {z} from "zod";
import {CellReader} from "./cells.ts";
import {dateDoubts, isAnyApart} from "./dateDoubts.ts";
import {dayNumber, dayText} from "./day.ts";
import {notData} from "./footers.ts";
import type {Grid, Row} from "./grid.ts";
import {headingTest} from "./headings.ts";
import {noDay, type PlainColumn, type PlainTable, rowCells} from "./plainTable.ts";
import type {Problem} from "./problem.ts";
import {readAs} from "./readAs.ts";
import {
  type Attempt,
  attempt,
  type Cells,
  emptyFile,
  type FileHabits,
  isOtherHeadings,
  type Numbered,
  otherRows,
  type RecordsRead,
  rowCount,
  sorted,
  wholeFile
} from "./readRecords.ts";
import type {RecordKind} from "./records.ts";

/** A file in the plain form, with a way to its bytes: for the few rows that are to be shown or written out. */
export interface PlainFile {
  file: string;
  table: PlainTable;
  /** Bytes of the file. */
  size: number;
  /** The bytes from one place to another. */
  bytes: (from: number, to: number) => Uint8Array;
  decode: (bytes: Uint8Array) => string | undefined;
}

/** Whether the owner says nothing of a file that the plain form does not know. */
export function isPlainHabit(habits: FileHabits): boolean {
  const {headings = {}, units = {}, words = {}, decimal, dates, serialsFrom} = habits;
  const said = [headings, units, words].some((one) => Object.keys(one).length > 0);
  return !said && decimal === undefined && dates === undefined && serialsFrom === undefined;
}

/**
 * What `readRecords` reads of the same file, to the last record and problem; some ten times faster, as only odd rows are looked at one by one.
 *
 * Checked: tests/book/readPlain.test.ts, against `readRecords` on many thousand hostile files
 *
 * @param options.onlyOdd whether only odd rows are made records; the others are then to be had from the table
 * @returns undefined where other headings stand further down: then no row is read, and `readRecords` says why
 */
export function readPlain<K extends RecordKind>(
  plain: PlainFile,
  kind: K,
  habits: FileHabits = {},
  {onlyOdd = false} = {}
): RecordsRead<z.infer<K["schema"]>> | undefined {
  const {file, table} = plain;
  const {found, rows} = table;
  const grid: Grid = {file, rows: table.odd.map(({row}) => row), delimiter: ",", problems: []};
  const cells: Cells = {
    file,
    delimiter: ",",
    headings: found.headings,
    columns: Object.fromEntries(found.places.map(({field, index}) => [field.heading, index])),
    rows: [],
    notData: []
  };
  const {below} = sorted(grid, found, cells, habits);
  const reader = new CellReader(below, found.places, habits, false, table.decimals);
  const known = headingTest(kind.schema, habits);
  const attempts = new Map(below.map((row) => [row.row, attempt(row, found, kind, reader, grid)]));
  const isOdd = new Uint8Array(rows);
  for (const {place} of table.odd) isOdd[place] = 1;
  let last = rows - 1;
  while (last >= 0 && isOdd[last] === 1 && !attempts.get(last + 2)?.values) last--;

  const record = recordOf<z.infer<K["schema"]>>(kind, table);
  const records: Numbered<z.infer<K["schema"]>>[] = [];
  const problems: Problem[] = [];
  for (let place = 0; place < rows; place++) {
    if (isOdd[place] === 0) {
      if (!onlyOdd) records.push(record(place));
      continue;
    }
    const tried = attempts.get(place + 2);
    if (!tried) continue;
    const {row, values, problems: faults} = tried;
    if (!values && isOtherHeadings(row, found, known)) return undefined;
    const why = values ? undefined : notData(row, {...found, below: place > last});
    if (why) cells.notData.push({row: row.row, why});
    else cells.rows.push(row);
    if (values) records.push({...(values as z.infer<K["schema"]>), row: row.row});
    else if (!why) problems.push(...faults);
  }
  cells.notData.sort((a, b) => a.row - b.row);
  /** The records with their days, of which some are years apart. */
  const daysToTell = (key: string) => {
    if (!onlyOdd) return records;
    const column = table.columns.get(key);
    const day = column ? cellValue(column) : () => undefined;
    const plainly = Array.from({length: rows}, (_, place) => place).filter((place) => isOdd[place] === 0);
    return [...plainly.map((place) => ({row: place + 2, [key]: day(place)})), ...records].sort((a, b) => a.row - b.row);
  };
  const source = lazily(cells, plain);
  if (kind.filled && rowCount(source) === 0) problems.push(emptyFile(file));
  problems.push(...wholeFile(cells, found));
  for (const place of found.places.filter(({field}) => field.kind === "date")) {
    const ofOdd = oddDays(attempts.values(), place.key);
    const all = daysOf(table, isOdd, place.key, ofOdd);
    const own = all.length === ofOdd.length ? cells : {...cells, rows: []};
    problems.push(...dateDoubts(own, [place], isAnyApart(all) ? daysToTell(place.key) : []));
  }
  const asRead = readAs(grid, found, reader.forms, habits);
  if (asRead) problems.push(asRead);
  const left = otherRows(cells);
  if (left) problems.push(left);
  return {source, records, problems};
}

/** Makes the record of a plain row: the keys in the order of the schema, blank ones left out. */
export function recordOf<T>(kind: RecordKind, {columns}: PlainTable): (place: number) => Numbered<T> {
  const readers = Object.keys(kind.schema.shape).flatMap((key) => {
    const column = columns.get(key);
    return column ? [[key, cellValue(column)] as const] : [];
  });
  return (place) => {
    const record: Record<string, unknown> = {};
    for (const [key, value] of readers) {
      const own = value(place);
      if (own !== undefined) record[key] = own;
    }
    record.row = place + 2;
    return record as Numbered<T>;
  };
}

/** The value of a cell as a record has it. */
export function cellValue(column: PlainColumn): (place: number) => string | number | undefined {
  if (column.kind === "number") {
    const {values} = column;
    return (place) => (Number.isNaN(values[place]!) ? undefined : values[place]);
  }
  if (column.kind === "text") {
    const {places, names} = column;
    return (place) => names[places[place]!];
  }
  const {values} = column;
  const texts = new Map<number, string>();
  return (place) => {
    const day = values[place]!;
    if (day === noDay) return undefined;
    const before = texts.get(day);
    if (before !== undefined) return before;
    const text = dayText(day);
    texts.set(day, text);
    return text;
  };
}

/** The days of the plain rows of a column, and others behind them. */
function daysOf({columns, rows}: PlainTable, isOdd: Uint8Array, key: string, others: readonly number[]): Int32Array {
  const column = columns.get(key);
  const days = new Int32Array(rows + others.length);
  let count = 0;
  if (column?.kind === "day")
    for (let place = 0; place < rows; place++)
      if (isOdd[place] === 0 && column.values[place] !== noDay) days[count++] = column.values[place]!;
  days.set(others, count);
  return days.subarray(0, count + others.length);
}

/** The days of the odd rows that are records after all. */
function oddDays(attempts: Iterable<Attempt>, key: string): number[] {
  return [...attempts].flatMap(({values}) => {
    const day = values?.[key];
    return typeof day === "string" ? [dayNumber(day)] : [];
  });
}

/** The rows of a file, each read from its bytes again when it is asked for. */
function lazily(cells: Cells, {table, bytes, decode}: PlainFile): Cells {
  // Not the table itself, or its columns would stay in memory as long as the cells do.
  const {rows: count, starts} = table;
  const none = new Set(cells.notData.map(({row}) => row));
  const odd = new Map(table.odd.map(({row}) => [row.row, row]));
  const isData = (row: number) => row >= 2 && row < count + 2 && !none.has(row);
  const rowAt = (row: number): Row => {
    const [from, to] = [starts[row - 2]!, starts[row - 1]!];
    return odd.get(row) ?? {row, cells: rowCells(bytes(from, to), decode)!};
  };
  let all: Row[] | undefined;
  return {
    ...cells,
    get rows() {
      all ??= Array.from({length: count}, (_, place) => place + 2)
        .filter(isData)
        .map(rowAt);
      return all;
    },
    count: count - none.size,
    some: (wanted) =>
      [...wanted]
        .filter(isData)
        .sort((a, b) => a - b)
        .map(rowAt)
  };
}
