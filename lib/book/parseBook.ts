import type {Day} from "./day.ts";
import {type EventColumns, eventColumns} from "./eventColumns.ts";
import type {Sources} from "./faults.ts";
import {type Grid, readGrid} from "./grid.ts";
import {headingTest} from "./headings.ts";
import type {PlainTable} from "./plainTable.ts";
import type {Problem} from "./problem.ts";
import {type PlainFile, readPlain} from "./readPlain.ts";
import {type Cells, type FileHabits, type Numbered, readRecords} from "./readRecords.ts";
import {
  type Advice,
  type Event,
  type FileName,
  fileNames,
  files,
  type Lot,
  type Order,
  type Reading,
  type RecordKind,
  recordName,
  type Square
} from "./records.ts";
import type {Habits, Settings} from "./settings.ts";
import {type Asked, type BookRecords, type KnownNumbers, soundRows, soundSquares} from "./soundRows.ts";
import {columnsOfSquares, type SquareColumns, squareColumns} from "./squareColumns.ts";

/** A workshop's history: sound rows only, each with the row it stands in. */
export interface Book extends BookRecords {
  settings: Settings;
  /** The cells of every file that was there, so that a refused row can be written out whole. */
  sources: Sources;
}

/** The squares and events of a book as columns. */
export interface BookColumns {
  squares: SquareColumns;
  events: EventColumns;
}

/** A book, if it can be used, and every fault found on the way. */
export interface BookParsed {
  book?: Book;
  /** Squares and events, where they were asked for as columns and the events' file is plain; then the book itself has none of either. */
  columns?: BookColumns;
  problems: Problem[];
  sources: Sources;
}

/** What is said of how the files of a kind are kept, for that kind or else for all, column by column. */
export function habitsOf(settings: Settings, file: FileName): Habits & FileHabits {
  const {all = {}, [recordName(file)]: own = {}} = settings.reading;
  const words = Object.keys({...all.words, ...own.words}).map((heading) => [
    heading,
    {...all.words?.[heading], ...own.words?.[heading]}
  ]);
  return {
    ...all,
    ...own,
    headings: {...all.headings, ...own.headings},
    units: {...all.units, ...own.units},
    words: Object.fromEntries(words),
    currency: settings.money.currency
  };
}

/** A text as a grid, divided by what its own headings show. */
export function gridOf(text: string, file: FileName, settings: Settings, label: string = file): Grid {
  const habits = habitsOf(settings, file);
  return readGrid(text, label, {delimiter: habits.delimiter, known: headingTest(files[file].schema, habits)});
}

/**
 * The book from the texts of its files, or from their grids. Every row is used, or is named in a problem, or is recognised as no
 * data; rows that refer to each other must fit: numbers are given once, lots, squares and orders exist, species, stages and
 * defects are those of the settings. A row that falls only because another one did says so.
 *
 * What happened to a piece in which order is not looked at here: see `histories`.
 *
 * Checked: tests/book/parseBook.test.ts
 *
 * @param texts the text, the grid or the columns of each file by its name, e.g. `{"lots.csv": "lot,bought_on,…"}`
 * @param options.asColumns whether squares and events may be given as columns, which takes much less time and room
 * @param today rows of a later day are refused; without it no day is too late
 * @returns no book when a problem is blocking: a file or a column is missing
 */
export function parseBook(
  texts: Partial<Record<FileName, string | Grid | PlainFile>>,
  settings: Settings,
  {today, asColumns = false}: {today?: Day | undefined; asColumns?: boolean} = {}
): BookParsed {
  const read = (file: FileName, onlyOdd = false) => readFile(texts[file], file, settings, onlyOdd);
  const events = read("events.csv", asColumns);
  const squares = read("squares.csv", events.table !== undefined);
  const found: Record<FileName, FileRead> = {
    "lots.csv": read("lots.csv"),
    "squares.csv": squares,
    "orders.csv": read("orders.csv"),
    "events.csv": events,
    "climate.csv": read("climate.csv"),
    "advice.csv": read("advice.csv")
  };
  const problems: Problem[] = [];
  const sources: Sources = {};
  for (const [file, {source, problems: ofFile}] of Object.entries(found)) {
    if (source) sources[file as FileName] = source;
    for (const problem of ofFile) problems.push(problem);
  }
  if (problems.some(({severity}) => severity === "blocking")) return {problems, sources};

  const recordsOf = <T>(file: FileName) => found[file].records as Numbered<T>[];
  const records = {
    lots: recordsOf<Lot>("lots.csv"),
    squares: recordsOf<Square>("squares.csv"),
    orders: recordsOf<Order>("orders.csv"),
    events: recordsOf<Event>("events.csv"),
    climate: recordsOf<Reading>("climate.csv"),
    advice: recordsOf<Advice>("advice.csv")
  };
  const columns: Partial<BookColumns> = {};
  const asked = {
    squares: (lots: Numbered<Lot>[], asked: Asked) => {
      columns.squares = squares.table
        ? squareColumns(squares.table, records.squares, lots, asked)
        : columnsOfSquares(soundSquares(records.squares, lots, asked), lots, settings);
      return columns.squares;
    },
    events: (known: KnownNumbers, asked: Asked) => {
      columns.events = eventColumns(events.table!, records.events, known, asked);
    }
  };
  const sound = soundRows(records, {settings, today, sources, problems, ...(events.table && {columns: asked})});
  if (sound.lots.length === 0) {
    const {file} = sources["lots.csv"]!;
    const others = problems.filter((one) => one.code !== "file-empty" || one.file !== file);
    return {problems: [...others, noLots(file)], sources};
  }
  const book = {settings, ...sound, sources};
  return {book, ...(events.table && {columns: columns as BookColumns}), problems, sources};
}

/** What was read of one file of a book. */
interface FileRead {
  source?: Cells;
  records: Numbered<object>[];
  /** The columns, where only odd rows were made records. */
  table?: PlainTable;
  problems: Problem[];
}

function readFile(
  given: string | Grid | PlainFile | undefined,
  file: FileName,
  settings: Settings,
  onlyOdd: boolean
): FileRead {
  const kind: RecordKind = files[file];
  if (given === undefined) return {records: [], problems: kind.required ? [missingFile(file)] : []};
  const habits = habitsOf(settings, file);
  const plain = typeof given !== "string" && "table" in given ? given : undefined;
  const columns = plain && readPlain(plain, kind, habits, {onlyOdd});
  if (columns) return {...columns, ...(onlyOdd && {table: plain.table})};
  const gridFrom = () => {
    if (plain) return gridOf(plain.decode(plain.bytes(0, plain.size))!, file, settings, plain.file);
    return typeof given === "string" ? gridOf(given, file, settings) : (given as Grid);
  };
  return readRecords(gridFrom(), kind, habits);
}

function missingFile(file: FileName): Problem {
  const others = fileNames.filter((name) => name !== file && files[name].required).map(recordName);
  return {
    code: "file-missing",
    severity: "blocking",
    file,
    wanted: "in the book's folder, or a sheet of its workbook",
    mend: `Add ${file}, with its headings at least, or a sheet “${recordName(file)}” beside ${others.join(", ")}.`
  };
}

function noLots(file: string): Problem {
  return {
    code: "file-empty",
    severity: "blocking",
    file,
    wanted: "filled with at least one sound purchase",
    mend: "Enter the first purchase, or mend the rows listed."
  };
}
