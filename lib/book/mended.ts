import Papa from "papaparse";
import {fold} from "./fold.ts";
import {type Grid, isBlank, type Row, readGrid} from "./grid.ts";
import {ownHeadings} from "./headings.ts";
import {type Problem, problemSentence} from "./problem.ts";
import {type Cells, someRows} from "./readRecords.ts";

/**
 * A mark by which a row is known again when the rows above it have moved: FNV-1a, 32 bits, of its cells, eight hexadecimal
 * digits behind an m, so that no spreadsheet takes 1234e567 for a number. Blank cells at the end do not count.
 */
export function rowMark(cells: readonly string[]): string {
  const last = cells.findLastIndex((cell) => cell.trim() !== "");
  const text = cells.slice(0, last + 1).join("\u001f");
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return `m${(hash >>> 0).toString(16).padStart(8, "0")}`;
}

/**
 * The refused rows of a file as the text of a CSV file: the cells untouched, with what stood between them, then the row each
 * stood in, its mark, and what was wrong with it. `withMended` reads it back once mended.
 *
 * A cell that a spreadsheet would take for a formula gets an apostrophe in front, which reading back takes away again; a
 * number, and a text that is one, never does.
 *
 * A row that was mended before and is refused again keeps its first mark, then a point and the mark of its cells now.
 *
 * @returns undefined when no row was refused
 */
export function refusedText(source: Cells, problems: readonly Problem[]): string | undefined {
  const {file, headings, delimiter = ","} = source;
  const faults = new Map<number, Problem[]>();
  for (const problem of problems) {
    if (problem.file !== file || problem.row === undefined || problem.severity !== "refused") continue;
    faults.set(problem.row, [...(faults.get(problem.row) ?? []), problem]);
  }
  const lines = someRows(source, new Set(faults.keys())).flatMap(({row, cells, mark}) => {
    const own = faults.get(row);
    if (!own) return [];
    const now = rowMark(cells);
    const padded = headings.map((_, index) => cells[index] ?? "");
    const beside = [
      String(row),
      mark === undefined ? now : `${mark}.${now}`,
      guarded(own.map(problemSentence).join(" "))
    ];
    return [[...padded.map(guarded), ...beside, ...cells.slice(headings.length).map(guarded)]];
  });
  if (lines.length === 0) return undefined;
  const text = Papa.unparse([[...headings.map(guarded), ...ownHeadings], ...lines], {newline: "\r\n", delimiter});
  return `\ufeff${text}\r\n`;
}

/** The cells that a guard is put before: what a spreadsheet takes for a formula, and what looks guarded already. */
function guarded(cell: string): string {
  return /^([=@\t\r]|[+-](?![.,]*\d[\d.,]*$)|'+[=+\-@\t\r])/.test(cell) ? `'${cell}` : cell;
}

function unguarded(cell: string): string {
  return /^'+[=+\-@\t\r]/.test(cell) ? cell.slice(1) : cell;
}

/**
 * A file's rows with those put in that were mended in another one: a row of `refusedText`, corrected and saved, takes the place
 * of the row it came from. That row is known by its number and its mark, or by its mark alone where rows have moved.
 *
 * @returns the grid with the mended rows, and the mended rows whose original is not there any more, as problems
 */
export function withMended(grid: Grid, mended: Grid): Grid {
  const head = mended.rows.find(({cells}) => cells.some((cell) => cell.trim() === "_mark"));
  if (!head) return {...grid, problems: [...grid.problems, ...mended.problems, withoutMarks(mended.file)]};
  const names = head.cells.map((cell) => unguarded(cell).trim());
  // The last, as the owner may have a column so named too.
  const [atRow, atMark, atProblem] = ownHeadings.map((name) => names.lastIndexOf(name)) as [number, number, number];
  const headings = grid.rows.find(({cells}) => isHeadingOf(cells, names))?.cells ?? names.slice(0, atRow);
  const width = Math.max(headings.findLastIndex((cell) => cell.trim() !== "") + 1, atRow);
  const sourceOf = sourceColumns(
    Array.from({length: width}, (_, index) => headings[index] ?? ""),
    names
  );
  const rows = new Map(grid.rows.map((row) => [row.row, row]));
  const byMark = new Map<string, Row[]>();
  for (const row of grid.rows) {
    if (isBlank(row.cells)) continue;
    const mark = row.mark ?? rowMark(row.cells);
    const alike = byMark.get(mark);
    if (alike) alike.push(row);
    else byMark.set(mark, [row]);
  }
  const problems = [...grid.problems, ...mended.problems];
  let count = 0;
  for (const {row, cells} of mended.rows) {
    if (row <= head.row || isBlank(cells)) continue;
    const [mark = ""] = (cells[atMark] ?? "").trim().toLowerCase().split(".");
    const alike = byMark.get(mark) ?? [];
    const original = alike.find((one) => String(one.row) === (cells[atRow] ?? "").trim()) ?? alike[0];
    if (!original) {
      problems.push(lost(mended.file, row, grid.file));
      continue;
    }
    byMark.set(
      mark,
      alike.filter((one) => one !== original)
    );
    const own = sourceOf.map((index) => unguarded(cells[index] ?? ""));
    const more = cells.slice(Math.max(atProblem, atRow, atMark) + 1).map(unguarded);
    rows.set(original.row, {
      row: original.row,
      cells: isBlank(more) ? own : [...own, ...more],
      // What came through a CSV file is text, whatever it was in the sheet.
      ...(grid.exact && {texts: own.map((_, index) => index)}),
      mark
    });
    count++;
  }
  if (count > 0) problems.push(note(grid.file, mended.file, count));
  return {...grid, rows: [...rows.values()], problems};
}

/** Whether anything was changed in a text that `refusedText` made: then it holds an owner's work, and is not to be written over. */
export function isEdited(text: string): boolean {
  const {rows, problems} = readGrid(text, "refused rows", {known: (cell) => ownHeadings.includes(cell)});
  const head = rows[0]?.cells ?? [];
  const atRow = head.lastIndexOf(ownHeadings[0]!);
  if (problems.length > 0 || atRow < 0 || ownHeadings.some((name, index) => head[atRow + index] !== name)) return true;
  return rows.slice(1).some(({cells}) => {
    const own = [...cells.slice(0, atRow), ...cells.slice(atRow + ownHeadings.length)].map(unguarded);
    return cells[atRow + 1]?.split(".").at(-1) !== rowMark(own);
  });
}

/** Where each column stands in the mended file: where it stood, else wherever a column is headed so that is not taken yet. */
function sourceColumns(headings: readonly string[], names: readonly string[]): number[] {
  const [wanted, found] = [headings.map(fold), names.map(fold)];
  const taken = new Set(wanted.flatMap((name, index) => (found[index] === name ? [index] : [])));
  return wanted.map((name, index) => {
    if (found[index] === name) return index;
    const other = found.findIndex((one, at) => one === name && !taken.has(at));
    taken.add(other);
    return other;
  });
}

function isHeadingOf(cells: readonly string[], mended: readonly string[]): boolean {
  const known = new Set(mended.map(fold));
  const filled = cells.filter((cell) => cell.trim() !== "");
  return filled.length > 1 && filled.every((cell) => known.has(fold(cell)));
}

function withoutMarks(file: string): Problem {
  const mend = "Save it from the refused rows without taking those columns out.";
  return {
    code: "heading-missing",
    severity: "blocking",
    file,
    row: 1,
    wanted: "a file with the columns _row and _mark",
    mend
  };
}

function lost(file: string, row: number, from: string): Problem {
  const mend = `Its original in ${from} was changed or taken out since. Take this row out, or enter it there.`;
  return {code: "mended-lost", severity: "refused", file, row, wanted: `the mended form of a row of ${from}`, mend};
}

function note(file: string, mended: string, count: number): Problem {
  const wanted = `read with ${count === 1 ? "one row" : `${count} rows`} as mended in ${mended}`;
  return {code: "rows-mended", severity: "note", file, wanted, mend: ""};
}
