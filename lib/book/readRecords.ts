import type {z} from "zod";
import {type CellHabits, type CellRead, CellReader, shouldLook} from "./cells.ts";
import {dateDoubts} from "./dateDoubts.ts";
import {isExample} from "./example.ts";
import type {Field} from "./field.ts";
import {fold} from "./fold.ts";
import {type NotData, notData} from "./footers.ts";
import type {Delimiter, Grid, Row} from "./grid.ts";
import {isBlank} from "./grid.ts";
import {type HeadingHabits, type Headings, headingTest, type Place, readHeadings} from "./headings.ts";
import {at, columnLetter, excerpt, type Problem} from "./problem.ts";
import {readAs} from "./readAs.ts";
import type {RecordKind} from "./records.ts";

/** A record together with the row it stands in, as a spreadsheet shows it. */
export type Numbered<T> = T & {row: number};

/** The cells of one file, sorted into data and what is none, so that a refused row can be written out whole. */
export interface Cells {
  file: string;
  /** Absent for a sheet of a workbook. */
  delimiter?: Delimiter;
  headings: string[];
  /** Where each column that is read stands, by our heading. */
  columns: Record<string, number>;
  /** The rows of data, sound or not. */
  rows: Row[];
  /** How many these are, and some of them by number, where `rows` are read again only when all are asked for. */
  count?: number;
  some?: (wanted: ReadonlySet<number>) => Row[];
  /** The rows that are no data, blank ones too. */
  notData: {row: number; why: NotData}[];
}

/** What was read of one file: the records, the cells they came from, and every fault found in them. */
export interface RecordsRead<T> {
  source: Cells;
  records: Numbered<T>[];
  problems: Problem[];
}

/** How many rows of data a file has. */
export function rowCount(cells: Cells): number {
  return cells.count ?? cells.rows.length;
}

/** The rows of data with these numbers, in order. */
export function someRows(cells: Cells, wanted: ReadonlySet<number>): Row[] {
  return cells.some ? cells.some(wanted) : cells.rows.filter(({row}) => wanted.has(row));
}

/** What the owner says of a file. */
export type FileHabits = HeadingHabits & CellHabits;

/**
 * The rows of a file as records of their kind. Every row is a record, or is named in a problem of severity `refused`, cell by
 * cell, or is recognised as no data and counted so; nothing is guessed. When a problem is blocking no record is returned.
 *
 * Checked: tests/book/readRecords.test.ts
 */
export function readRecords<K extends RecordKind>(
  grid: Grid,
  kind: K,
  habits: FileHabits = {}
): RecordsRead<z.infer<K["schema"]>> {
  const {file} = grid;
  const found = readHeadings(grid, kind.schema, habits);
  const isClosed = grid.problems.some(({severity}) => severity === "blocking");
  const problems = [...grid.problems, ...(isClosed ? [] : found.problems)];
  const merged = mergedRows(grid, found.headings.length);
  if (merged.has(found.row)) problems.push(mergedRow(file, found.row, "blocking"));
  const source: Cells = {
    file,
    ...(grid.delimiter && {delimiter: grid.delimiter}),
    headings: found.headings,
    columns: Object.fromEntries(found.places.map(({field, index}) => [field.heading, index])),
    rows: [],
    notData: []
  };
  const {above, below} = sorted(grid, found, source, habits);
  const known = headingTest(kind.schema, habits);
  /** Nothing of the file is read, for what stands in its way and for other headings further down, if there are any. */
  const unread = (candidates: readonly Row[]) => {
    const again = candidates.find((row) => isOtherHeadings(row, found, known));
    if (again) problems.push(otherHeadings(file, again.row));
    return {source: {...source, rows: [...above, ...below]}, records: [], problems};
  };
  if (problems.some(({severity}) => severity === "blocking")) return unread(below);

  const reader = new CellReader(below, found.places, habits, grid.exact);
  const attemptOf = (row: Row) =>
    merged.has(row.row) ? {row, problems: [mergedRow(file, row.row)]} : attempt(row, found, kind, reader, grid);
  const attempts: Attempt[] = below.map(attemptOf);
  const failed = attempts.filter(({values}) => !values).map(({row}) => row);
  if (failed.some((row) => isOtherHeadings(row, found, known))) return unread(failed);
  for (const {row, values} of above.map(attemptOf)) {
    if (values) {
      source.rows.push(row);
      problems.push(rowAbove(file, row.row, found.row));
    } else source.notData.push({row: row.row, why: "above the headings"});
  }
  const last = attempts.findLastIndex(({values}) => values !== undefined);
  const records: Numbered<z.infer<K["schema"]>>[] = [];
  attempts.forEach(({row, values, problems: faults}, index) => {
    const why = values ? undefined : notData(row, {...found, below: index > last});
    if (why) source.notData.push({row: row.row, why});
    else source.rows.push(row);
    if (values) records.push({...(values as z.infer<K["schema"]>), row: row.row});
    else if (!why) problems.push(...faults);
  });
  source.notData.sort((a, b) => a.row - b.row);
  if (kind.filled && source.rows.length === 0) problems.push(emptyFile(file));
  for (const problem of wholeFile(source, found)) problems.push(problem);
  for (const problem of dateDoubts(source, found.places, records, grid.exact)) problems.push(problem);
  const asRead = readAs(grid, found, reader.forms, habits);
  if (asRead) problems.push(asRead);
  const left = otherRows(source);
  if (left) problems.push(left);
  return {source, records, problems};
}

/** The rows above and below the headings that are neither blank nor the example; those are noted as no data. */
export function sorted(
  {rows, exact}: Grid,
  {row: headingRow, places}: Headings,
  source: Cells,
  habits: FileHabits
): {above: Row[]; below: Row[]} {
  const [above, below]: [Row[], Row[]] = [[], []];
  for (const row of rows) {
    if (isBlank(row.cells)) source.notData.push({row: row.row, why: "blank"});
    else if (row.row < headingRow) above.push(row);
    else if (row.row > headingRow) {
      if (isExample(row, places, habits, exact)) source.notData.push({row: row.row, why: "the example"});
      else below.push(row);
    }
  }
  return {above, below};
}

/** Whether a row is headings again, but not the same: what comes below would be read by the wrong ones. */
export function isOtherHeadings({cells}: Row, {headings, places}: Headings, known: (cell: string) => boolean): boolean {
  const found = cells.filter((cell) => cell !== "" && known(cell)).length;
  if (found < 3 || found * 2 < places.length) return false;
  return cells.some((cell, index) => fold(cell) !== fold(headings[index] ?? ""));
}

function otherHeadings(file: string, row: number): Problem {
  const mend = "Put what stands below them into a file or sheet of its own, or under the headings at the top.";
  return {code: "headings-again", severity: "blocking", file, row, wanted: "no row of other headings", mend};
}

function rowAbove(file: string, row: number, headings: number): Problem {
  const mend = `Move it below the headings, which stand in row ${headings}; was the sheet sorted with them?`;
  return {code: "row-above", severity: "refused", file, row, wanted: "below the headings, as it is a record", mend};
}

export interface Attempt {
  row: Row;
  values?: Record<string, unknown>;
  problems: Problem[];
}

/** A row as a record, or all that stands in the way. */
export function attempt(
  row: Row,
  {headings, places}: Headings,
  kind: RecordKind,
  reader: CellReader,
  {file, exact}: Grid
): Attempt {
  const {cells} = row;
  if (!exact && !isBlank(cells.slice(headings.length))) {
    return {row, problems: [raggedRow(file, row.row, headings.length, cells)]};
  }
  const values: Record<string, unknown> = {};
  const faults = new Map<string, Problem>();
  for (const place of places) {
    const read = reader.read(place, row);
    if ("value" in read) values[place.key] = read.value;
    else if ("fault" in read) faults.set(place.key, badCell(file, row, place, read));
  }
  kind.complete?.(values);
  const result = kind.schema.safeParse(values);
  if (result.success && faults.size === 0) return {row, values: result.data, problems: []};
  for (const {path, message} of result.error?.issues ?? []) {
    const key = String(path[0]);
    const standIn = places.find(({field}) => field.heading === insteadOf(kind, key));
    // With its stand-in given, it is missing only for another cell, which is named itself.
    if (standIn && values[standIn.key] !== undefined && values[key] === undefined) continue;
    const place = places.find((one) => one.key === key) ?? standIn;
    if (place && !faults.has(key)) {
      const mend = mendFor(cells[place.index] ?? "", place);
      faults.set(key, badCell(file, row, place, {fault: "cell-unreadable", wanted: withUnit(message, place), mend}));
    }
  }
  const inOrder = [...faults].sort(([a], [b]) => columnOf(places, a) - columnOf(places, b));
  return {row, problems: inOrder.map(([, problem]) => problem)};
}

function columnOf(places: readonly Place[], key: string): number {
  return places.findIndex((place) => place.key === key);
}

/** The rows in which cells of the table are merged. */
function mergedRows({merged = [], rows}: Grid, columns: number): Set<number> {
  const last = rows.at(-1)?.row ?? 0;
  const begun = new Int32Array(last + 2);
  for (const {firstRow, lastRow, firstColumn} of merged) {
    if (firstColumn > columns || firstRow > last) continue;
    begun[firstRow]!++;
    begun[Math.min(lastRow, last) + 1]!--;
  }
  const found = new Set<number>();
  let open = 0;
  for (let row = 0; row <= last; row++) {
    open += begun[row]!;
    if (open > 0) found.add(row);
  }
  return found;
}

function mergedRow(file: string, row: number, severity: "refused" | "blocking" = "refused"): Problem {
  const mend = "Undo the merging and fill in each cell.";
  return {
    code: "cells-merged",
    severity,
    file,
    row,
    wanted: "of single cells; some are merged into one, and to which row or column they belong cannot be told",
    mend
  };
}

function insteadOf({schema}: RecordKind, key: string): string | undefined {
  return (schema.shape[key]?.meta() as unknown as Field | undefined)?.instead;
}

/** Bounds said in the unit of the file's own column. */
function withUnit(message: string, {unit, field}: Place): string {
  return unit && unit.name !== field.unit && message.startsWith("between") ? `${message} ${field.unit}` : message;
}

function badCell(
  file: string,
  {row, cells, mark}: Row,
  {index, heading}: Place,
  {fault, wanted, mend}: Extract<CellRead, {fault: string}>
): Problem {
  const value = excerpt(cells[index] ?? "");
  const where = mark === undefined ? "" : " It stands so in the mended file.";
  return {...at(file, row, index, heading), code: fault, severity: "refused", value, wanted, mend: mend + where};
}

/** The likeliest cure of a value that its column cannot have. */
function mendFor(value: string, place: Place): string {
  const {field, unit} = place;
  if (value.trim() === "") return `Fill the cell in, like ${field.example}.`;
  const size = Number(value.trim().replace(",", "."));
  if (unit?.name === "%" && size > 0 && size < 1) {
    return `A fraction? Then it is ${Number((100 * size).toPrecision(6))} %; write it so.`;
  }
  if (unit && unit.name !== field.unit && size >= field.minimum! && size <= field.maximum!) {
    return `In ${field.unit} already? The unit of its column is “${unit.name}”.`;
  }
  if (unit?.name === "°C" && size > field.maximum!) {
    return `Fahrenheit? Then it is ${Math.round(((size - 32) * 50) / 9) / 10} °C; say the unit in the heading if the whole column is in °F.`;
  }
  if (unit?.name === "mm" && size * 25.4 >= field.minimum! && size < field.minimum!) {
    return `Inches? Then it is ${Math.round(size * 254) / 10} mm; say the unit in the heading if the whole column is in inches.`;
  }
  return shouldLook(place);
}

function raggedRow(file: string, row: number, headings: number, cells: readonly string[]): Problem {
  const value = excerpt(cells.slice(headings).join(","));
  const mend = "A stray comma in a note? Put the note in quotation marks.";
  const wanted = `at most ${headings} cells, one a heading`;
  return {code: "row-ragged", severity: "refused", file, row, value, wanted, mend};
}

export function emptyFile(file: string): Problem {
  const wanted = "filled with at least one row below its headings";
  return {code: "file-empty", severity: "doubt", file, wanted, mend: "Enter the first row."};
}

/** Doubts about the shape of a file: short rows, columns without heading, characters that were lost. */
export function wholeFile({file, headings, rows, delimiter}: Cells, {row}: Headings): Problem[] {
  const problems: Problem[] = [];
  // A row of a sheet ends with its last filled cell, so it is never short.
  const short = delimiter === undefined ? [] : rows.filter(({cells}) => cells.length < headings.length);
  if (short.length > 0) {
    const value = `${short[0]!.cells.length} cells${short.length > 1 ? `, and ${short.length - 1} more such rows` : ""}`;
    const mend = "What is missing at the end is taken for blank.";
    problems.push({
      code: "row-short",
      severity: "doubt",
      file,
      row: short[0]!.row,
      value,
      wanted: `${headings.length} cells long, one a heading`,
      mend
    });
  }
  const width =
    delimiter === undefined
      ? rows.reduce((most, {cells}) => Math.max(most, cells.length), headings.length)
      : headings.length;
  for (let index = 0; index < width; index++) {
    if ((headings[index] ?? "") !== "") continue;
    const first = rows.find(({cells}) => (cells[index] ?? "").trim() !== "");
    if (!first) continue;
    const mend = `Column ${columnLetter(index)} is left as it is and not read. Give it a heading if it matters.`;
    problems.push({
      ...at(file, row, index, ""),
      heading: `column ${columnLetter(index)}`,
      code: "heading-empty",
      severity: "doubt",
      value: excerpt(first.cells[index]!),
      wanted: "headed if anything stands in it",
      mend
    });
  }
  for (const {row, cells} of rows) {
    const index = cells.findIndex((cell) => cell.includes("\ufffd"));
    if (index < 0) continue;
    const mend = "A character was lost when the file was saved (“\ufffd”). Correct it, and save as “CSV UTF-8”.";
    problems.push({
      ...at(file, row, index, headings[index] ?? ""),
      code: "cell-damaged",
      severity: "doubt",
      value: excerpt(cells[index]!),
      wanted: "whole",
      mend
    });
  }
  return problems;
}

/** What was taken for no data, apart from what is so plainly: blank rows and the example of a new book. */
export function otherRows({file, notData: rows}: Cells): Problem | undefined {
  const others = rows.filter(({why}) => why !== "blank" && why !== "the example");
  if (others.length === 0) return undefined;
  const named = others
    .slice(0, 6)
    .map(({row, why}) => `row ${row} (${why})`)
    .join(", ");
  const more = others.length > 6 ? ` and ${others.length - 6} more` : "";
  const one = others.length === 1;
  return {
    code: "rows-not-data",
    severity: "note",
    file,
    wanted: `taken to have ${one ? "a row that is" : "rows that are"} no data: ${named}${more}`,
    mend: ""
  };
}
