import {mkdtempSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {isDeepStrictEqual} from "node:util";
import {type FileName, fileNames, recordName} from "../../lib/book/records.ts";
import {rowAccounts} from "../../lib/book/rowAccount.ts";
import type {Random} from "../../lib/stats/random.ts";
import {bookAsOf, readBook} from "../io/readBook.ts";
import {largestSheet} from "../io/readWorkbook.ts";
import {type CellToWrite, workbookBytes} from "../io/writeWorkbook.ts";
import type {BookBytes} from "./fuzzBook.ts";
import type {Intake} from "./intake.ts";
import {byteChanges} from "./mutate.ts";

/** The promises that the same book breaks when it is read from a folder: it must be read as it was without a disk. */
export function brokenInFolder(files: BookBytes, {problems, accounts, settings}: Intake): string[] {
  return inFolder(files, (folder) => {
    const read = readBook(folder);
    const all = read.book ? bookAsOf({...read, book: read.book}).problems : read.problems;
    if (!settings) return read.book ? ["a book without settings"] : [];
    return [
      ...(isDeepStrictEqual(all, problems) ? [] : ["a folder's faults are not those found in memory"]),
      ...(isDeepStrictEqual(rowAccounts({...read, problems: all}), accounts)
        ? []
        : ["a folder's rows are not those found in memory"])
    ];
  });
}

/** The promises that the same rows break as the sheets of a workbook, half the time of one damaged on its way. */
export function brokenInWorkbook(files: BookBytes, {grids}: Intake, random: Random): string[] {
  const sheets = fileNames.flatMap((name) =>
    grids[name]
      ? [{name: recordName(name), rows: grids[name].rows.map(({cells}) => cells.map((cell) => cellOf(cell, random)))}]
      : []
  );
  if (sheets.length === 0) return [];
  const whole = workbookBytes(sheets);
  const isDamaged = random() < 0.5;
  const bytes = isDamaged ? byteChanges[Math.floor(random() * byteChanges.length)]!(whole, random) : whole;
  const isTooWide = sheets.some(({rows}) =>
    rows.some((cells) => cells.findLastIndex((cell) => cell !== "") >= largestSheet.columns)
  );
  return inFolder({"book.xlsx": bytes, "workshop.json": files["workshop.json"]!}, (folder) => {
    const read = readBook(join(folder, "book.xlsx"));
    const all = read.book ? bookAsOf({...read, book: read.book}).problems : read.problems;
    return rowAccounts({...read, problems: all}).flatMap((account) => {
      const {rows} = sheets.find(({name}) => name === recordName(account.name))!;
      const filled = rows.findLastIndex((cells) => cells.some((cell) => cell !== "")) + 1;
      const hasHeadings = rows.some((cells) =>
        cells.some((cell) => typeof cell === "number" || String(cell).trim() !== "")
      );
      const counts = JSON.stringify(account);
      return [
        ...(account.read === account.used + account.refused + account.notData
          ? []
          : [`a sheet's rows do not add up: ${counts}`]),
        ...(isDamaged || isTooWide || account.read === filled - (hasHeadings ? 1 : 0)
          ? []
          : [`of ${filled} rows of a sheet, ${counts}`])
      ];
    });
  });
}

/** A cell as a program would keep it: numbers mostly as numbers, text no longer than a sheet can hold. */
function cellOf(cell: string, random: Random): CellToWrite {
  if (/^\d+(\.\d+)?$/.test(cell) && cell.length < 16 && random() < 0.8) return Number(cell);
  return cell.slice(0, 30_000);
}

function inFolder<T>(
  files: Partial<Record<FileName | "workshop.json" | "book.xlsx", Uint8Array>>,
  work: (folder: string) => T
): T {
  const folder = mkdtempSync(join(tmpdir(), "fuzz-"));
  try {
    for (const [name, bytes] of Object.entries(files)) writeFileSync(join(folder, name), bytes);
    return work(folder);
  } finally {
    rmSync(folder, {recursive: true});
  }
}
