import {fold} from "../book/fold.ts";
import {delimiters, type Grid, isBlank, type Row, readGrid} from "../book/grid.ts";
import {headingTest, readHeadings} from "../book/headings.ts";
import {didYouMean} from "../book/nearest.ts";
import {habitsOf} from "../book/parseBook.ts";
import {excerpt, type Problem} from "../book/problem.ts";
import {type Numbered, readRecords} from "../book/readRecords.ts";
import {Event} from "../book/records.ts";
import type {Settings} from "../book/settings.ts";

/** A piece seen at a stocktake: its number as the list has it, and, where somebody wrote it down, the stage it was at. */
export interface Counted {
  square: string;
  stage?: string | undefined;
  note?: string | undefined;
}

/** The columns of a counted list, the same as in events.csv. */
const Seen = Event.pick({square: true, stage: true, note: true});
const kind = {schema: Seen, required: true, filled: true, rowIs: "a piece seen"};

/**
 * A counted text as a grid, divided as two or more headings of one line show; else by the comma, semicolon, tab or bar that most lines have.
 */
export function countGrid(text: string, file: string): Grid {
  const known = headingTest(Seen);
  const grid = readGrid(text, file, {known});
  if (/^\ufeff?"?sep=/i.test(text) || grid.rows.some(({cells}) => cells.filter(known).length > 1)) return grid;
  const lines = text.split(/[\r\n]+/);
  const counts = delimiters.map((delimiter) => lines.filter((line) => line.includes(delimiter)).length);
  return readGrid(text, file, {delimiter: delimiters[counts.indexOf(Math.max(...counts))], known});
}

/** What a list was read as: the headings of its columns, or where they stand. */
export interface CountedColumns {
  square: string;
  stage?: string;
  note?: string;
  /** Filled, and not read. */
  unread: string[];
}

/**
 * The rows of a counted list. Read are a column of square numbers and, if they are there, one of stages and one of notes, headed as
 * in events.csv or by no heading at all. The numbers are in the column so headed, if it holds any of the book, else in the column that
 * holds most. Other columns are left alone, and named in `columns`.
 *
 * A cell that begins with a number of the book is that number: several are several pieces, a stage behind it is its stage, other words
 * are a note.
 *
 * Every row that is neither blank nor headings is a counted row or is named in a problem: refused without a number; a doubt where
 * its stage is none of the workshop's, which is then passed over, or where numbers of the book stand in another column with a heading.
 *
 * Checked: tests/rack/countedRows.test.ts
 *
 * @param squares every number of the book
 * @returns no row when a problem is blocking: a quote never closed, nothing in the list, no number of the book in it, or numbers of the
 *   book in more columns than one without a heading that says which to take
 */
export function countedRows(
  grid: Grid,
  squares: readonly string[],
  settings: Settings
): {rows: Numbered<Counted>[]; problems: Problem[]; columns?: CountedColumns} {
  const {file} = grid;
  const blocked = (problem?: Problem) => ({rows: [], problems: [...grid.problems, ...(problem ? [problem] : [])]});
  if (grid.problems.some(({severity}) => severity === "blocking")) return blocked();
  if (grid.rows.every(({cells}) => isBlank(cells))) return blocked(empty(file));
  const find = squareFinder(squares);
  const {words, headings: own = {}} = habitsOf(settings, "events.csv");
  const stages = settings.stages.map(({name}) => name);
  const findStage = nameFinder(stages);
  const stageWords = new Set(Object.keys(words?.stage ?? {}).map(fold));
  const isStage = (cell: string) => findStage(cell) !== undefined || stageWords.has(fold(cell));
  const apart = (cell: string) => takeApart(cell, find, isStage);
  const top = new Set(grid.rows.slice(0, 20).flatMap(({cells}) => cells.map(fold)));
  // The owner's heading of a column stands for ours only where the list has it.
  const headings = Object.fromEntries(Object.entries(own).filter(([, heading]) => top.has(fold(heading))));
  const head = readHeadings(grid, Seen, {headings});
  const headRow = grid.rows.find(({row}) => row === head.row);
  const isHead = head.places.length > 0 && !headRow!.cells.some((cell) => find(cell) !== undefined);
  const placeOf = (key: string) => (isHead ? head.places.find((place) => place.key === key)?.index : undefined);

  const width = grid.rows.reduce((most, {cells}) => Math.max(most, cells.length), 0);
  const columns = Array.from({length: width}, (_, index) => index);
  const filled = columns.filter((index) => grid.rows.some(({cells}) => (cells[index] ?? "").trim() !== ""));
  const holding = (fits: (cell: string) => boolean) => (index: number) =>
    grid.rows.reduce((count, {cells}) => count + (fits(cells[index] ?? "") ? 1 : 0), 0);
  const numbers = holding((cell) => apart(cell).squares.length > 0);
  const headed = placeOf("square");
  const square = headed !== undefined && numbers(headed) > 0 ? headed : most(filled, numbers);
  if (square === undefined) return blocked(noNumbers(file, head.row));
  const others = filled.filter((index) => index !== square);
  const stage = other(placeOf("stage"), square) ?? (isHead ? undefined : most(others, holding(isStage)));
  const rest = others.filter((index) => index !== stage);
  const note = other(placeOf("note"), square) ?? (isHead ? undefined : rest[0]);

  const isAbove = ({row, cells: own}: Row) => isHead && row <= head.row && find(own[square] ?? "") === undefined;
  const data = grid.rows.filter((row) => !isAbove(row));
  const titles = grid.rows.filter((row) => isAbove(row) && row.row < head.row && !isBlank(row.cells));
  const word = isHead ? undefined : wordAbove(data, square, find);
  const nameOf = (index: number) =>
    ((isHead ? headRow : word)?.cells[index] ?? "").trim() === ""
      ? `column ${index + 1}`
      : `“${excerpt((isHead ? headRow : word)!.cells[index]!.trim())}”`;
  const besides = others.flatMap((index) => {
    const rows = data.filter(({cells}) => find(cells[index] ?? "") !== undefined).map(({row}) => row);
    if (rows.length === 0) return [];
    const isNamed = headed === square && (headRow!.cells[index] ?? "").trim() !== "";
    return [otherNumbers(file, {name: nameOf(index), square: nameOf(square), rows, isNamed})];
  });
  const blocking = besides.find(({severity}) => severity === "blocking");
  if (blocking) return blocked(blocking);

  // A stage or a note behind a number in one cell gets a column of its own, where there is none.
  const [stageAt, noteAt] = [stage ?? width, note ?? width + 1];
  const cells = Array.from({length: width + 2}, (_, index) =>
    index === square ? "square" : index === stageAt ? "stage" : index === noteAt ? "note" : ""
  );
  const heading = fold(headRow?.cells[square] ?? "");
  const haveDigits = squares.every((one) => /\d/.test(one));
  const isTotal = (cell: string) =>
    find(cell) === undefined && ((isHead && fold(cell) === heading) || (haveDigits && !/\d/.test(cell)));
  const hasStage = (row: Row) => (row.cells[stageAt] ?? "").trim() !== "";
  const totals = data.filter(
    (row) => row !== word && (row.cells[square] ?? "").trim() !== "" && isTotal(row.cells[square]!) && !hasStage(row)
  );
  const body = data.filter((row) => row !== word && !totals.includes(row));
  const pieces = body.flatMap((row): Row[] => {
    const {squares: each, stage: behind, note: noted} = apart(row.cells[square] ?? "");
    if (each.length === 0) return [row];
    return each.map((one) => {
      const all = Array.from({length: width + 2}, (_, index) => row.cells[index] ?? "");
      all[square] = one;
      if (behind !== undefined && all[stageAt]!.trim() === "") all[stageAt] = behind;
      if (noted !== undefined) all[noteAt] = [noted, all[noteAt]!.trim()].filter((text) => text !== "").join("; ");
      return {...row, cells: all};
    });
  });
  const read = readRecords({...grid, rows: [{row: 0, cells}, ...pieces], problems: []}, kind, {words});
  const problems = [
    ...grid.problems,
    ...[...titles, ...(word ? [word] : []), ...totals].map((row) => notCounted(file, row)),
    ...besides,
    ...read.problems.filter(({row, code}) => row !== 0 && code !== "read-as" && code !== "row-short")
  ];
  const rows = read.records.map(({stage: typed, ...one}): Numbered<Counted> => {
    if (typed === undefined) return one;
    const known = findStage(typed);
    if (known === undefined) problems.push(strangeStage(file, one.row, typed, stages));
    return known === undefined ? one : {...one, stage: known};
  });
  return {
    rows,
    problems,
    columns: {
      square: nameOf(square),
      ...(stage !== undefined && {stage: nameOf(stage)}),
      ...(note !== undefined && {note: nameOf(note)}),
      unread: others.filter((index) => index !== stage && index !== note).map(nameOf)
    }
  };
}

/**
 * The numbers of the book that a cell begins with, and what stands behind them. Digits alone are taken from a longer cell only before a stage
 * or other numbers: "2 pieces" is not square 2.
 */
function takeApart(
  typed: string,
  find: (cell: string) => string | undefined,
  isStage: (cell: string) => boolean
): {squares: string[]; stage?: string; note?: string} {
  const cell = typed.replaceAll(/(?![\t\r\n])\p{Cc}/gu, "").trim();
  if (find(cell) !== undefined) return {squares: [cell]};
  const words = cell.split(/[\s,;|]+/).filter((word) => word !== "");
  const squares: string[] = [];
  let at = 0;
  for (let length = 3; length > 0; length--) {
    const number = words.slice(at, at + length).join(" ");
    if (at + length > words.length || find(number) === undefined) continue;
    squares.push(number);
    at += length;
    length = 4;
  }
  const rest = words.slice(at).join(" ");
  if (rest === "") return {squares};
  if (isStage(rest)) return {squares, stage: rest};
  return squares.every((square) => /^\d+$/.test(square)) ? {squares: []} : {squares, note: rest};
}

/**
 * Finds the number of the book that is meant by one as it was typed: the same, else the only one that differs in no more than case,
 * accents, spaces and dashes, else in whether there are any, or, of numbers that are digits alone, in zeros in front, which spreadsheets drop. Returns undefined where there
 * is none, or more than one.
 *
 * @example squareFinder(["L031-07", "0007"])("l031 07") // "L031-07"
 */
export function squareFinder(squares: readonly string[]): (typed: string) => string | undefined {
  const find = nameFinder(squares);
  const digits = squares.filter((square) => /^\d+$/.test(square));
  const bare = (number: string) => number.trim().replace(/^0+(?=\d)/, "");
  const whole = new Map<string, string | undefined>();
  for (const number of digits) whole.set(bare(number), whole.has(bare(number)) ? undefined : number);
  return (typed) => find(typed) ?? (/^\s*\d+\s*$/.test(typed) ? whole.get(bare(typed)) : undefined);
}

function nameFinder(names: readonly string[]): (typed: string) => string | undefined {
  const exact = new Set(names);
  const alike = onlyOnes(exact, fold);
  const bare = onlyOnes(exact, squeezed);
  return (typed) => {
    if (exact.has(typed.trim())) return typed.trim();
    return typed.length > 200 ? undefined : (alike.get(fold(typed)) ?? bare.get(squeezed(typed)));
  };
}

const squeezed = (name: string) => fold(name).replaceAll(" ", "");

/** Names by their key; undefined where two have the same, and none without a key. */
function onlyOnes(names: Iterable<string>, keyOf: (name: string) => string): Map<string, string | undefined> {
  const only = new Map<string, string | undefined>();
  for (const name of names) only.set(keyOf(name), only.has(keyOf(name)) ? undefined : name);
  only.delete("");
  return only;
}

/** Of some columns the first that has most, if any has one. */
function most(columns: readonly number[], count: (index: number) => number): number | undefined {
  const counts = columns.map(count);
  const top = Math.max(0, ...counts);
  return top === 0 ? undefined : columns[counts.indexOf(top)];
}

function other(index: number | undefined, square: number): number | undefined {
  return index === square ? undefined : index;
}

/** A first row without headings that we know, but with a word over the numbers in place of a number: a heading of the owner's own. */
function wordAbove(rows: readonly Row[], square: number, find: (cell: string) => string | undefined): Row | undefined {
  const first = rows.find(({cells}) => !isBlank(cells));
  const cell = first?.cells[square] ?? "";
  const isWord = cell.trim() !== "" && !/\d/.test(cell) && find(cell) === undefined;
  return isWord && rows.some(({cells}) => find(cells[square] ?? "") !== undefined) ? first : undefined;
}

function empty(file: string): Problem {
  const mend = "Write the number of each square seen into it, one a line.";
  return {code: "file-empty", severity: "blocking", file, wanted: "filled with the numbers of the squares seen", mend};
}

function noNumbers(file: string, row: number): Problem {
  const mend = "Look whether this is the right list, and the right book.";
  const wanted = "a list with a column of square numbers: none of its columns holds a number of the book";
  return {code: "heading-missing", severity: "blocking", file, row: Math.max(1, row), wanted, mend};
}

/** Numbers of the book in another column than the one that is read. */
function otherNumbers(
  file: string,
  {name, square, rows, isNamed}: {name: string; square: string; rows: readonly number[]; isNamed: boolean}
): Problem {
  const more = rows.length > 10 ? ` and ${rows.length - 10} more` : "";
  const place = `${rows
    .slice(0, 10)
    .map((row) => `row ${row}`)
    .join(", ")}${more}`;
  const wanted = `one column of square numbers: ${square} is one, and ${name} holds numbers of the book too, in ${place}`;
  const code = "heading-twice";
  if (isNamed) return {code, severity: "doubt", file, wanted, mend: `Numbers were taken from ${square} alone.`};
  const mend = "Write one number a line, or give each column its heading, that of the numbers “square”.";
  return {code, severity: "blocking", file, row: rows[0]!, wanted, mend};
}

function notCounted(file: string, {row, cells}: Row): Problem {
  const value = excerpt(cells.filter((cell) => cell.trim() !== "").join(" "));
  const wanted = `taken for a title or a heading, not for a square: row ${row}, “${value}”`;
  return {code: "rows-not-data", severity: "note", file, wanted, mend: ""};
}

function strangeStage(file: string, row: number, value: string, stages: readonly string[]): Problem {
  const mend = `${didYouMean(value, stages)}The square counts as seen, its stage as not noted.`;
  return {
    code: "stage-unknown",
    severity: "doubt",
    file,
    row,
    heading: "stage",
    value: excerpt(value),
    wanted: `one of ${stages.join(", ")}`,
    mend
  };
}
