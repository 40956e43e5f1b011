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

/**
 * The rows of a counted list. Read are a column of square numbers and, if they are there, one of stages and one of notes, headed as
 * in events.csv or by no heading at all. The numbers are in the column that holds most numbers of the book; where none holds any, in
 * the one so headed, or the only one. Other columns are left alone.
 *
 * Every row that is neither blank nor headings is a counted row or is named in a problem: refused without a number; a doubt where
 * its stage is none of the workshop's, which is then passed over.
 *
 * Checked: tests/rack/countedRows.test.ts
 *
 * @param squares every number of the book
 * @returns no row when a problem is blocking: a quote never closed, no column of numbers, nothing in the list
 */
export function countedRows(
  grid: Grid,
  squares: readonly string[],
  settings: Settings
): {rows: Numbered<Counted>[]; problems: Problem[]} {
  const {file} = grid;
  if (grid.problems.some(({severity}) => severity === "blocking")) return {rows: [], problems: grid.problems};
  if (grid.rows.every(({cells}) => isBlank(cells))) return {rows: [], problems: [...grid.problems, empty(file)]};
  const find = squareFinder(squares);
  const {words, headings: own = {}} = habitsOf(settings, "events.csv");
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
  const numbers = holding((cell) => find(cell) !== undefined);
  const headed = placeOf("square");
  const square = most(filled, numbers, headed) ?? headed ?? (filled.length === 1 ? filled[0] : undefined);
  if (square === undefined) return {rows: [], problems: [...grid.problems, noNumbers(file, head.row)]};
  const others = filled.filter((index) => index !== square);
  const stages = settings.stages.map(({name}) => name);
  const findStage = nameFinder(stages);
  const stageWords = new Set(Object.keys(words?.stage ?? {}).map(fold));
  const isStage = (cell: string) => findStage(cell) !== undefined || stageWords.has(fold(cell));
  const stage = other(placeOf("stage"), square) ?? (isHead ? undefined : most(others, holding(isStage)));
  const rest = others.filter((index) => index !== stage);
  const note = other(placeOf("note"), square) ?? (isHead ? undefined : rest[0]);

  const cells = columns.map((index) =>
    index === square ? "square" : index === stage ? "stage" : index === note ? "note" : ""
  );
  const isAbove = ({row, cells: own}: Row) => isHead && row <= head.row && find(own[square] ?? "") === undefined;
  const data = grid.rows.filter((row) => !isAbove(row));
  const titles = grid.rows.filter((row) => isAbove(row) && row.row < head.row && !isBlank(row.cells));
  const word = isHead ? undefined : wordAbove(data, square, find);
  const body = data.filter((row) => row !== word);
  const read = readRecords({...grid, rows: [{row: 0, cells}, ...body], problems: []}, kind, {words});
  const heading = fold(headRow?.cells[square] ?? "square");
  const again = (one: Counted) => isHead && find(one.square) === undefined && fold(one.square) === heading;
  const problems = [
    ...grid.problems,
    ...[...titles, ...(word ? [word] : [])].map((row) => notCounted(file, row)),
    ...read.problems.filter(({row, code}) => row !== 0 && code !== "read-as" && code !== "row-short")
  ];
  const repeated = new Set(read.records.filter(again).map(({row}) => row));
  const odd = body.filter(({row, cells}) => repeated.has(row) && cells.some((cell) => find(cell) !== undefined));
  problems.push(...odd.map((row) => notCounted(file, row)));
  const rows = read.records
    .filter((one) => !again(one))
    .map(({stage: typed, ...one}): Numbered<Counted> => {
      if (typed === undefined) return one;
      const known = findStage(typed);
      if (known === undefined) problems.push(strangeStage(file, one.row, typed, stages));
      return known === undefined ? one : {...one, stage: known};
    });
  return {rows, problems};
}

/**
 * Finds the number of the book that is meant by one as it was typed: the same, else the only one that differs in no more than case,
 * accents, spaces and dashes, or, of numbers that are digits alone, in zeros in front, which spreadsheets drop. Returns undefined where there
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
  const alike = new Map<string, string | undefined>();
  for (const name of exact) alike.set(fold(name), alike.has(fold(name)) ? undefined : name);
  return (typed) => (exact.has(typed.trim()) ? typed.trim() : typed.length > 200 ? undefined : alike.get(fold(typed)));
}

/** Of some columns the one that has most, if any has one; where several have as many the preferred, else the first. */
function most(columns: readonly number[], count: (index: number) => number, preferred?: number): number | undefined {
  const counts = columns.map(count);
  const top = Math.max(0, ...counts);
  if (top === 0) return undefined;
  const best = columns.filter((_, i) => counts[i] === top);
  return best.find((index) => index === preferred) ?? best[0];
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
  const mend = "Head the column of the numbers “square”, or leave only that column.";
  const wanted =
    "a list with a column of square numbers: none of its columns is headed so, and none holds a number of the book";
  return {code: "heading-missing", severity: "blocking", file, row: Math.max(1, row), wanted, mend};
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
