import {existsSync, readdirSync, rmdirSync, rmSync} from "node:fs";
import {basename, resolve} from "node:path";
import {Command, CommanderError, Option} from "commander";
import {aboutFile, aboutRows, aboutText, emptyCsv, emptyTable} from "../lib/book/emptyBook.ts";
import {emptySettings} from "../lib/book/emptySettings.ts";
import {ownFileNames, recordName} from "../lib/book/records.ts";
import {settingsFile} from "../lib/book/settings.ts";
import {exitCodes, relative, say, tell} from "./command.ts";
import {aboutSheet} from "./io/bookFiles.ts";
import {newFile, readFault, UserError} from "./io/writeReport.ts";
import {workbookBytes} from "./io/writeWorkbook.ts";

type NewFile = [name: string, data: string | Uint8Array];

try {
  const program = new Command("new-book")
    .description("Begin a book of your own: its files with headings and an example row, and the settings.")
    .argument("<folder>", "the folder to make, like my-book")
    .option("--workbook", "one workbook with a sheet for each kind of record, instead of CSV files")
    .addOption(
      new Option(
        "--semicolons",
        "CSV files with semicolons and decimal commas, for spreadsheets that write 12,5"
      ).conflicts("workbook")
    )
    .showHelpAfterError("Name the folder to make, like: npx tsx scripts/new-book.ts my-book")
    .exitOverride()
    .parse();
  process.exitCode = begin(program.args[0]!, program.opts<{workbook?: boolean; semicolons?: boolean}>());
} catch (error) {
  if (error instanceof UserError) say(error.message);
  else if (!(error instanceof CommanderError)) throw error;
  process.exitCode = error instanceof CommanderError && error.exitCode === 0 ? exitCodes.done : exitCodes.usage;
}

function begin(given: string, {workbook = false, semicolons = false}): number {
  if (given.trim() === "") throw new UserError(`The folder must be named, like my-book, got “${given}”.`);
  const folder = resolve(given);
  const wanted = workbook ? inWorkbook(folder) : inCsv(semicolons);
  const names = wanted.map(([name]) => name.toLowerCase());
  const there = namesIn(folder).filter((name) => names.includes(name.toLowerCase()));
  if (there.length > 0) {
    say(
      `${given} has ${there.join(", ")} already; nothing was written and nothing changed. Choose another folder, or move what is there away.`
    );
    return exitCodes.usage;
  }
  for (const path of made(folder, wanted)) tell(relative(path));
  const named = /^[\w./\\:-]+$/.test(given) ? given : `"${given}"`;
  say(`Write over the example rows, then: npx tsx scripts/check.ts --book ${named}`);
  return exitCodes.done;
}

function inCsv(semicolons: boolean): NewFile[] {
  return [
    ...ownFileNames.map((file): NewFile => [file, emptyCsv(file, {semicolons})]),
    [settingsFile, emptySettings()],
    [aboutFile, aboutText()]
  ];
}

function inWorkbook(folder: string): NewFile[] {
  const tables = ownFileNames.map((file) => {
    const rows = emptyTable(file);
    const widths = rows[0]!.map((_, column) => 2 + Math.max(...rows.map((row) => lengthOf(row[column]!))));
    return {name: recordName(file), rows, widths};
  });
  const about = {name: aboutSheet, rows: aboutRows(), widths: [20, 8, 9, 72, 20]};
  return [
    [settingsFile, emptySettings()],
    [`${basename(folder) || "book"}.xlsx`, workbookBytes([about, ...tables])]
  ];
}

function lengthOf(cell: ReturnType<typeof emptyTable>[number][number]): number {
  return typeof cell === "object" ? cell.date.length : String(cell).length;
}

/** The names in a folder; none where there is no folder yet. */
function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch (error) {
    const {code = "unknown"} = error as NodeJS.ErrnoException;
    if (code === "ENOENT") return [];
    throw new UserError(readFault(folder, code));
  }
}

/** Writes all files, or none: where one cannot be written, those before it are taken away again. Returns their paths. */
function made(folder: string, wanted: readonly NewFile[]): string[] {
  const isNew = !existsSync(folder);
  const paths: string[] = [];
  try {
    for (const [name, data] of wanted) paths.push(newFile(folder, name, data));
  } catch (error) {
    for (const path of paths) rmSync(path, {force: true});
    if (isNew && existsSync(folder) && readdirSync(folder).length === 0) rmdirSync(folder);
    throw error;
  }
  return paths;
}
