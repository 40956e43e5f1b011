import {createHash} from "node:crypto";
import {readdirSync, readFileSync, statSync} from "node:fs";
import {basename, dirname, extname, join} from "node:path";
import {fold} from "../../lib/book/fold.ts";
import type {Grid} from "../../lib/book/grid.ts";
import {withMended} from "../../lib/book/mended.ts";
import {didYouMean, nearest} from "../../lib/book/nearest.ts";
import {gridOf, habitsOf} from "../../lib/book/parseBook.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {isPlainHabit, type PlainFile} from "../../lib/book/readPlain.ts";
import {type FileName, fileNames, files, recordName} from "../../lib/book/records.ts";
import {parseSettings, type Settings, settingsFile} from "../../lib/book/settings.ts";
import {decodeText} from "./decodeText.ts";
import {type PlainFileRead, readPlainFile} from "./readPlainFile.ts";
import {readWorkbook, type WorkbookSheet} from "./readWorkbook.ts";
import {readFault, UserError} from "./writeReport.ts";

/** A file of the book as found on the disk. */
export interface FileFound {
  name: string;
  bytes: number;
  sha256: string;
}

/** The files of a book as grids, nothing of them understood yet. */
export interface BookFiles {
  folder: string;
  files: FileFound[];
  settings?: Settings;
  grids: Partial<Record<FileName, Grid | PlainFile>>;
  problems: Problem[];
}

/** The name of a new book's sheet that explains the others. */
export const aboutSheet = "about this book";

/**
 * The files of a book: a folder of CSV files, of workbooks, or of both, or one workbook by its own name; the settings beside them.
 * Names are matched whatever their case and however their accents are stored. Faults are returned, not thrown. What a program
 * leaves beside an open or copied file ("~$lots.xlsx", "._lots.csv") is passed over.
 *
 * @throws UserError when nothing is there, or the folder cannot be listed
 */
export function bookFiles(place: string): BookFiles {
  const {folder, names} = listed(place);
  const found: FileFound[] = [];
  const problems: Problem[] = [];
  const bytesOf = (name: string): Uint8Array | undefined => {
    try {
      const bytes = readFileSync(join(folder, name));
      found.push({name, bytes: bytes.length, sha256: createHash("sha256").update(bytes).digest("hex")});
      return bytes;
    } catch (error) {
      const [what = "", ...mend] = readFault(name, (error as NodeJS.ErrnoException).code ?? "unknown").split(": ");
      const why = mend.join(": ");
      problems.push(unreadable(name, what, why.charAt(0).toUpperCase() + why.slice(1)));
      return undefined;
    }
  };

  const [settingsName, otherSettings] = names.filter((name) => sameName(name, settingsFile));
  if (otherSettings !== undefined) {
    const problem = doubled(settingsFile, [settingsName!, otherSettings], "Take all but one away.");
    return {folder, files: found, grids: {}, problems: [problem]};
  }
  const settingsBytes = settingsName === undefined ? undefined : bytesOf(settingsName);
  const {settings, problems: ofSettings} = parseSettings(settingsBytes ? decodeText(settingsBytes).text : "");
  problems.push(...ofSettings);
  if (!settings) return {folder, files: found, grids: {}, problems};

  const books = workbooks(names, bytesOf, problems);
  const grids: Partial<Record<FileName, Grid | PlainFile>> = {};
  const used = new Set<string>([settingsName ?? ""]);
  const places = new Map<string, Place>();
  for (const file of fileNames) {
    const candidates: Candidate[] = [...sheetsOf(file, books, settings), ...textOf(file, settings, names)];
    const [first, second] = candidates;
    const {file: own} = settings.reading[recordName(file)] ?? {};
    if (!first && own !== undefined) problems.push(notThere(own, `reading.${recordName(file)}.file`, names));
    if (!first) continue;
    for (const candidate of candidates) used.add(placeOf(candidate));
    if (second) problems.push(twice(file, candidates));
    else {
      const place = placeOf(first);
      places.set(place, {...first, files: [...(places.get(place)?.files ?? []), file]});
    }
  }
  const {file: all} = settings.reading.all ?? {};
  if (all !== undefined && !names.some((name) => sameName(name, all)))
    problems.push(notThere(all, "reading.all.file", names));

  for (const {name, sheet, files: kinds} of places.values()) {
    const file = kinds[0]!;
    if (kinds.length > 1) {
      problems.push(shared(name, sheet, kinds));
      continue;
    }
    const mended = mendedNames(file, names);
    for (const one of mended) used.add(one);
    const alike = mended.filter((one) => mended.some((other) => other !== one && sameName(one, other)));
    if (alike.length > 0) problems.push(doubled(`mended-${file}`, alike, "Give each a number of its own."));
    const read = sheet || mended.length > 0 ? undefined : plainFile(join(folder, name), file, settings);
    if (read) {
      const {plain, sha256} = read;
      found.push({name, bytes: plain.size, sha256});
      grids[file] = plain;
      continue;
    }
    const bytes = sheet ? undefined : bytesOf(name);
    const grid = sheet ? sheetGrid(name, sheet) : bytes && textGrid(name, file, settings, bytes);
    if (!grid || alike.length > 0) continue;
    grids[file] = mended.reduce((before, one) => {
      const own = bytesOf(one);
      return own ? withMended(before, textGrid(one, file, settings, own)) : before;
    }, grid);
  }
  problems.push(...unread(names, books, used));
  const isWhole = fileNames.every((file) => grids[file] || !files[file].required);
  return {folder, files: found, settings, grids, problems: isWhole ? problems.map(withoutBlocking) : problems};
}

/** A workbook that cannot be read blocks nothing where every record was found elsewhere. */
function withoutBlocking(problem: Problem): Problem {
  const isNeedless = problem.code === "file-unreadable" && /\.xlsx$/i.test(problem.file);
  return isNeedless ? {...problem, severity: "doubt"} : problem;
}

interface Candidate {
  name: string;
  sheet?: WorkbookSheet;
}

/** Where records were found, with every kind of record that is to be read from there. */
interface Place extends Candidate {
  files: FileName[];
}

const placeOf = ({name, sheet}: Candidate) => (sheet ? `${name} ${sheet.name}` : name);

/** Whether two names are one to a reader: some disks and archives store "ä" as "a" and a mark, and change the case. */
export function sameName(one: string, other: string): boolean {
  const plain = (name: string) => name.normalize("NFC").toLowerCase();
  return plain(one) === plain(other);
}

/** The files of mended rows of a kind of record, in order: mended-lots.csv, mended-lots-2.csv, mended-lots-10.csv. */
function mendedNames(file: FileName, names: readonly string[]): string[] {
  const kind = new RegExp(`^mended-${recordName(file)}.*\\.csv$`, "i");
  const {compare} = new Intl.Collator("en", {numeric: true});
  const stem = (name: string) => basename(name, extname(name));
  return names.filter((name) => kind.test(name)).sort((one, other) => compare(stem(one), stem(other)));
}

/**
 * The folder in which a book lies: the place itself, or of a workbook the folder it is in.
 *
 * @throws UserError when nothing is there, or a file that is no workbook
 */
export function bookFolder(place: string): string {
  return listed(place).folder;
}

function listed(place: string): {folder: string; names: string[]} {
  if (isFolder(place)) return {folder: place, names: namesIn(place).filter((name) => !/^(\.|~\$)/.test(name))};
  if (extname(place).toLowerCase() !== ".xlsx") {
    throw new UserError(
      `--book must be a folder, or a workbook saved as .xlsx, got “${place}”. Name the folder the file lies in.`
    );
  }
  const folder = dirname(place);
  const beside = namesIn(folder).filter((name) => sameName(name, settingsFile) || /^mended-.*\.csv$/i.test(name));
  return {folder, names: [basename(place), ...beside]};
}

function isFolder(place: string): boolean {
  try {
    return statSync(place).isDirectory();
  } catch (error) {
    const {code = "unknown"} = error as NodeJS.ErrnoException;
    if (code !== "ENOENT") throw new UserError(readFault(place, code));
    throw new UserError(
      `--book must be a folder or a workbook that exists, got “${place}”. Look for a typing error, or name the folder of your files.`
    );
  }
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder).sort();
  } catch (error) {
    throw new UserError(readFault(folder, (error as NodeJS.ErrnoException).code ?? "unknown"));
  }
}

/** The sheets of every workbook of a folder. */
function workbooks(names: readonly string[], bytesOf: (name: string) => Uint8Array | undefined, problems: Problem[]) {
  const books = new Map<string, WorkbookSheet[]>();
  for (const name of names.filter((one) => /\.xlsx$/i.test(one))) {
    const bytes = bytesOf(name);
    if (!bytes) continue;
    const read = readWorkbook(bytes);
    if ("fault" in read)
      problems.push(unreadable(name, read.fault, "Save it again as .xlsx, without a password, or as CSV files."));
    else books.set(name, read.sheets);
  }
  return books;
}

/** The sheets that may hold a kind of record: one so named in any workbook, or the first of a workbook so named. */
function sheetsOf(file: FileName, books: ReadonlyMap<string, WorkbookSheet[]>, settings: Settings): Candidate[] {
  const habits = habitsOf(settings, file);
  const wanted = fold(habits.sheet ?? recordName(file));
  return [...books].flatMap(([name, sheets]) => {
    if (habits.file !== undefined && !sameName(habits.file, name)) return [];
    const named = sheets.filter((sheet) => fold(sheet.name) === wanted);
    if (named.length > 0) return named.map((sheet) => ({name, sheet}));
    const own =
      fold(basename(name, extname(name))) === recordName(file) ||
      settings.reading[recordName(file)]?.file !== undefined;
    const first = sheets.find(({hidden}) => !hidden);
    return own && first && habits.sheet === undefined ? [{name, sheet: first}] : [];
  });
}

/**
 * The texts that may hold a kind of record, as .csv, or .tsv or .txt as some spreadsheets save text: two where names differ only
 * in case; none where the settings name a sheet.
 */
function textOf(file: FileName, settings: Settings, names: readonly string[]): Candidate[] {
  const {file: own, sheet} = habitsOf(settings, file);
  if (sheet !== undefined && own === undefined) return [];
  const wanted = own === undefined ? [".csv", ".tsv", ".txt"].map((end) => recordName(file) + end) : [own];
  return names
    .filter((name) => wanted.some((one) => sameName(one, name)) && !/\.xlsx$/i.test(name))
    .map((name) => ({name}));
}

/** A file as columns, where it is kept in the plain form and can be read. */
function plainFile(path: string, file: FileName, settings: Settings): PlainFileRead | undefined {
  const habits = habitsOf(settings, file);
  if (!isPlainHabit(habits) || (habits.delimiter ?? ",") !== ",") return undefined;
  try {
    return readPlainFile(path, files[file]);
  } catch (error) {
    // A file that cannot be opened is told where it is read as a whole.
    if ((error as NodeJS.ErrnoException).code === undefined) throw error;
    return undefined;
  }
}

function textGrid(name: string, file: FileName, settings: Settings, bytes: Uint8Array): Grid {
  const {text, encoding} = decodeText(bytes);
  const grid = gridOf(text, file, settings, name);
  return encoding === "UTF-8" ? grid : {...grid, how: [`${encoding} letters`]};
}

function sheetGrid(name: string, {name: sheet, rows, merged, formulas, uncalculated}: WorkbookSheet): Grid {
  const file = `${name}, sheet ${sheet}`;
  const how =
    formulas > 0
      ? [
          formulas === 1
            ? "a formula at its last calculated value"
            : `${formulas} formulas at their last calculated values`
        ]
      : [];
  if (uncalculated > 0)
    how.push(
      uncalculated === 1 ? "a formula without a value as blank" : `${uncalculated} formulas without a value as blanks`
    );
  return {file, rows, exact: true, merged, problems: [], ...(how.length > 0 && {how})};
}

function twice(file: FileName, candidates: readonly Candidate[]): Problem {
  const places = candidates.map(({name, sheet}) => (sheet ? `${name}, sheet ${sheet.name}` : name));
  const mend = `Take all but one away, or say under reading.${recordName(file)} in ${settingsFile} which file or sheet it is.`;
  return doubled(file, places, mend);
}

function doubled(file: string, places: readonly string[], mend: string): Problem {
  const value = places.join(" and ");
  return {code: "file-twice", severity: "blocking", file, value, wanted: "kept in one place", mend};
}

/** One file or sheet that is to be read as several kinds of record. */
function shared(file: string, sheet: WorkbookSheet | undefined, kinds: readonly FileName[]): Problem {
  const what = sheet ? "sheet" : "file";
  const value = `${kinds.map(recordName).join(" and ")}${sheet ? ` in sheet ${sheet.name}` : ""}`;
  const wanted = `read as one kind of record, each kept in a ${what} of its own`;
  const mend = `Give each its own, and say under reading in ${settingsFile} which ${what} it is.`;
  return {code: "file-twice", severity: "blocking", file, value, wanted, mend};
}

function notThere(own: string, setting: string, names: readonly string[]): Problem {
  const wanted = `in the book's folder, as ${setting} in ${settingsFile} says`;
  const mend = `${didYouMean(own, names)}Correct the name there, or add the file.`;
  return {code: "file-missing", severity: "blocking", file: own, wanted, mend};
}

function unreadable(file: string, value: string, mend: string): Problem {
  return {code: "file-unreadable", severity: "blocking", file, value, wanted: "readable", mend};
}

/** Sheets and tables that lie in the book and are none of its records. */
function unread(
  names: readonly string[],
  books: ReadonlyMap<string, WorkbookSheet[]>,
  used: ReadonlySet<string>
): Problem[] {
  const problems: Problem[] = [];
  const known = fileNames.map(recordName);
  const add = (file: string, name: string, mend: string, ending = "") => {
    const near = nearest(name, known);
    const meant = near === undefined ? "" : ` Is it “${near}”? Then name it ${near}${ending}.`;
    problems.push({
      code: "file-unread",
      severity: "doubt",
      file,
      wanted: `named like one of the book's records (${known.join(", ")}) to be read`,
      mend: `${mend}${meant}`
    });
  };
  for (const [name, sheets] of books) {
    const wanted = sheets.filter(
      (sheet) => !used.has(`${name} ${sheet.name}`) && fold(sheet.name) !== aboutSheet && sheet.rows.length > 0
    );
    for (const sheet of wanted)
      add(`${name}, sheet ${sheet.name}`, sheet.name, "This sheet is left as it is and not read.");
  }
  for (const name of names) {
    // A .txt may be anything; it is a table only if it is nearly named like one.
    const isTable =
      /\.(csv|tsv|xls|ods|numbers)$/i.test(name) ||
      (/\.txt$/i.test(name) && nearest(basename(name, extname(name)), known));
    if (!isTable || used.has(name)) continue;
    const old = /\.(xls|ods|numbers)$/i.test(name);
    add(
      name,
      basename(name, extname(name)),
      old ? "Save it as .xlsx or as CSV to have it read." : "This file is left as it is and not read.",
      old ? ".xlsx" : ".csv"
    );
  }
  return problems;
}
