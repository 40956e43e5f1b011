import {existsSync, readFileSync, statSync} from "node:fs";
import {basename, dirname, join} from "node:path";
import {isDeepStrictEqual} from "node:util";
import Papa from "papaparse";
import type {Day} from "../../lib/book/day.ts";
import {fields} from "../../lib/book/field.ts";
import {type Book, gridOf, habitsOf} from "../../lib/book/parseBook.ts";
import {readRecords} from "../../lib/book/readRecords.ts";
import {type Advice, files} from "../../lib/book/records.ts";
import type {ShareExpected} from "../../lib/buying/usableShare.ts";
import {bookFolder} from "./bookFiles.ts";
import {decodeText} from "./decodeText.ts";
import {realPlace} from "./realPlace.ts";
import {readFault, UserError, writeReport} from "./writeReport.ts";

/** What the plan of one species says, as far as it is kept. */
export interface AdviceGiven {
  species: string;
  squares: number;
  /** Within 1 % of the best expected profit. */
  bandLow: number;
  bandHigh: number;
  orders: readonly {supplier: string; squares: number}[];
  /** Shafts still to be ordered until the season's last day; open orders are not in it. */
  demand: {mean: number; low: number; high: number};
  /** Share of the squares advised that is expected to become usable; none where none are to be bought. */
  usable?: ShareExpected | undefined;
  profit: number;
  expectedShort: number;
  expectedLeftover: number;
  /** Chance that every order can be served, fraction of 1. */
  service: number;
}

/** The values of a row by the keys of the record. */
type Cells = Record<string, string | number | undefined>;

const file = "advice.csv";
const columns = fields(files[file].schema);

/**
 * The advice of a day as rows of advice.csv, numbers rounded as the file shows them.
 *
 * @param later whether the book went on after that day when the advice was made
 */
export function adviceRows(
  given: readonly AdviceGiven[],
  {advisedOn, season, later = false}: {advisedOn: Day; season: {startsOn: Day; endsOn: Day}; later?: boolean}
): Advice[] {
  const tenth = (value: number) => Math.round(value * 10) / 10;
  return given.map(({species, squares, bandLow, bandHigh, orders, demand, usable, ...plan}) => ({
    advisedOn,
    species,
    seasonFrom: season.startsOn,
    seasonTo: season.endsOn,
    squares,
    squaresLow: bandLow,
    squaresHigh: bandHigh,
    ...(orders.length > 0 && {whom: orders.map((order) => `${order.squares} ${order.supplier}`).join(" + ")}),
    shaftsWanted: tenth(demand.mean),
    shaftsWantedLow: tenth(demand.low),
    shaftsWantedHigh: tenth(demand.high),
    ...(usable && {
      usablePct: tenth(100 * usable.mean),
      usableLowPct: tenth(100 * usable.low),
      usableHighPct: tenth(100 * usable.high)
    }),
    profit: Math.round(plan.profit),
    shaftsShort: tenth(plan.expectedShort),
    shaftsLeftOver: tenth(plan.expectedLeftover),
    servicePct: tenth(100 * plan.service),
    ...(later && {note: "made afterwards from what was known that day"})
  }));
}

/** How a file is written: how many columns it has, where ours stand, what stands between cells and in decimals. */
interface Form {
  headings: number;
  at: (heading: string) => number | undefined;
  delimiter?: string;
  comma?: boolean;
}

/** Each row as a line, without its end. */
function lines(rows: readonly Advice[], {headings, at, delimiter = ",", comma = false}: Form): string[] {
  return rows.map((row) => {
    const cells = new Array<string>(headings).fill("");
    for (const [key, {heading}] of columns) {
      const index = at(heading);
      const value = (row as Cells)[key];
      if (index === undefined || value === undefined) continue;
      cells[index] = typeof value === "number" && comma ? String(value).replace(".", ",") : String(value);
    }
    return Papa.unparse([cells], {delimiter, newline: "\n"});
  });
}

const ours: Form = {
  headings: columns.length,
  at: (heading: string) => columns.findIndex(([, own]) => own.heading === heading)
};

const headingLine = (between: string) => columns.map(([, {heading}]) => heading).join(between);

/** The rows as a whole CSV file, with headings. */
export function adviceCsv(rows: readonly Advice[]): string {
  return `${[headingLine(","), ...lines(rows, ours)].join("\n")}\n`;
}

/** What became of advice that was to be kept: sentences, and the rows to paste where the toolkit does not write them. */
export interface AdviceKept {
  said: string[];
  kept: Advice[];
  paste?: string;
}

/**
 * Adds rows to the advice.csv of a book, in that file's own way: its separator, line ends, decimal mark and order of columns. What
 * stands there stays, byte for byte; a species that has advice of that day already gets no second one. The file is made if there is
 * none. What is to be written is first read as the book would be, then written beside its place and moved there.
 *
 * A workbook, and a file to which no row can be added safely, is left alone: then the rows are given to be pasted. Nothing else of
 * the book is written to.
 *
 * Checked: tests/scripts/io/keepAdvice.test.ts
 *
 * @param place the book's folder or workbook, as the owner named it
 * @throws UserError when the file cannot be read or written
 */
export function keepAdvice(place: string, book: Book, rows: readonly Advice[]): AdviceKept {
  const before = (row: Advice) =>
    book.advice.find((one) => one.advisedOn === row.advisedOn && one.species === row.species);
  const said = rows.flatMap((row) => {
    const first = before(row);
    return first
      ? [
          `The advice on ${row.species} of ${row.advisedOn} is kept already (row ${first.row}): nothing was replaced. Take that row out if the new one is wanted.`
        ]
      : [];
  });
  const wanted = rows.filter((row) => !before(row));
  if (wanted.length === 0) return {said, kept: []};
  const paste = (where: string, why: string): AdviceKept => ({
    said: [
      ...said,
      `The advice cannot be kept in ${where}: ${why}. Nothing was changed there. Paste the rows yourself.`
    ],
    kept: [],
    paste: adviceCsv(wanted)
  });
  const name = nameIn(place, book);
  if (name === undefined)
    return paste(book.sources[file]?.file ?? basename(place), "a workbook is read, never written to");
  const path = realPlace(join(bookFolder(place), name));
  const {delimiter = ","} = habitsOf(book.settings, file);
  const start = existsSync(path) ? bytesOf(path) : Buffer.from(`${headingLine(delimiter)}\n`);
  const bytes = added(start, name, book, wanted);
  if (typeof bytes === "string") return paste(name, bytes);
  writeReport(dirname(path), basename(path), bytes);
  const which = wanted.map(({species}) => species).join(" and ");
  return {said: [...said, `Kept the advice on ${which} of ${wanted[0]!.advisedOn} in ${path}.`], kept: wanted};
}

/** The name of the file in the book's folder that holds the advice, or will; none where it is, or would be, a sheet. */
function nameIn(place: string, {sources, settings}: Book): string | undefined {
  if (!statSync(place).isDirectory()) return undefined;
  const isSheet = (name: string) => /\.xlsx(, sheet |$)/i.test(name);
  const known = sources[file]?.file;
  if (known !== undefined) return isSheet(known) ? undefined : known;
  const {file: wanted = file, sheet} = habitsOf(settings, file);
  const own = settings.reading.advice?.file;
  return isSheet(wanted) || (wanted !== file && wanted !== own) || (sheet !== undefined && own === undefined)
    ? undefined
    : wanted;
}

function bytesOf(path: string): Buffer {
  try {
    return readFileSync(path);
  } catch (error) {
    throw new UserError(readFault(path, (error as NodeJS.ErrnoException).code ?? "unknown"));
  }
}

/** The bytes of a file with rows added at its end, or why none can be. */
function added(bytes: Buffer, name: string, {settings}: Book, rows: readonly Advice[]): Buffer | string {
  const {text, encoding} = decodeText(bytes);
  if (encoding !== "UTF-8") return `its letters are ${encoding}; save it as “CSV UTF-8” first`;
  const read = (whole: string) =>
    readRecords(gridOf(whole, file, settings, name), files[file], habitsOf(settings, file));
  const {records, source} = read(text);
  const {headings, columns: places, delimiter = ","} = source;
  const end = text.match(/\r\n|\n|\r/g)?.at(-1) ?? "\n";
  const gap = text === "" || /[\r\n]$/.test(text) ? "" : end;
  const present = ({...row}: Advice) =>
    Object.fromEntries(
      columns.flatMap(([key, {heading}]) => (heading in places && key in row ? [[key, (row as Cells)[key]]] : []))
    );
  const wanted = rows.map(present);
  for (const comma of delimiter === ";" ? [true, false] : [false, true]) {
    const form = {headings: headings.length, at: (heading: string) => places[heading], delimiter, comma};
    const more =
      gap +
      lines(rows, form)
        .map((line) => line + end)
        .join("");
    const again = read(text + more).records;
    const without = again.map(({row: _, ...values}) => values);
    if (
      isDeepStrictEqual(again.slice(0, records.length), records) &&
      isDeepStrictEqual(without.slice(records.length), wanted)
    )
      return Buffer.concat([bytes, Buffer.from(more)]);
  }
  return "a row added at its end would not be read as it was written, or others would be read otherwise";
}
