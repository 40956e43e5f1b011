import {existsSync, rmSync} from "node:fs";
import {join} from "node:path";
import {refusedText} from "../../lib/book/mended.ts";
import type {Sources} from "../../lib/book/parseBook.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {fileNames} from "../../lib/book/records.ts";
import {writeReport} from "./writeReport.ts";

/**
 * The refused rows of each file, whole and untouched, each with its row, what was wrong and how to mend it: refused-lots.csv and so
 * on. Mended and put into the book's folder as mended-lots.csv they are read in the place of the rows they came from.
 *
 * Where no row of a file is refused any more, the one written before is taken away.
 *
 * @returns the paths written
 */
export function writeRefused(folder: string, problems: readonly Problem[], sources: Sources): string[] {
  return fileNames.flatMap((name) => {
    const source = sources[name];
    const text = source && refusedText(source, problems);
    if (text !== undefined) return [writeReport(folder, `refused-${name}`, text)];
    const before = join(folder, `refused-${name}`);
    if (existsSync(before)) rmSync(before);
    return [];
  });
}
