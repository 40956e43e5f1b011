import {existsSync, readFileSync, statSync} from "node:fs";
import {basename, dirname, join, resolve} from "node:path";
import {addCounts, type NamedCounts} from "../../lib/book/addCounts.ts";
import type {BookCounts} from "../../lib/book/bookCounts.ts";
import {type CountFile, countFiles, countsFile, countTables, parseCounts} from "../../lib/book/countFiles.ts";
import {csvText} from "../../lib/report/csvText.ts";
import {faultLines} from "../faultLines.ts";
import {decodeText} from "./decodeText.ts";
import {readFault, UserError, writeReport} from "./writeReport.ts";

/** The files of a folder of counts. */
const names = [...(Object.keys(countFiles) as CountFile[]), countsFile] as const;

/** Writes counts as files that `readCounts` and any spreadsheet read. Returns the paths. */
export function writeCounts(folder: string, counts: BookCounts): string[] {
  const {tables, json} = countTables(counts);
  return [
    ...Object.entries(tables).map(([file, lines]) => writeReport(folder, file, csvText(lines))),
    writeReport(folder, countsFile, json)
  ];
}

/** What is wrong with counts, fault by fault. */
export class CountsUnusable extends Error {}

/**
 * The counts of one folder, or of several added up as one.
 *
 * @throws CountsUnusable with every fault, where a file is missing or a row does not fit, or the counts cannot be added up
 * @throws UserError where a folder is not there or cannot be read
 */
export function readCounts(folders: readonly string[]): {counts: BookCounts; workshops: string[]} {
  const workshops = workshopNames(folders);
  const named = folders.map((folder, index): NamedCounts => ({name: workshops[index]!, counts: countsOf(folder)}));
  if (named.length === 1) return {counts: named[0]!.counts, workshops};
  const sum = addCounts(named);
  if ("why" in sum) throw new CountsUnusable(sum.why);
  return {counts: sum.counts, workshops};
}

function countsOf(folder: string): BookCounts {
  if (!existsSync(folder) || !statSync(folder).isDirectory())
    throw new UserError(`--from must name a folder of counts that exists, got “${folder}”. Look for a typing error.`);
  const within = join(folder, "counts");
  if (!existsSync(join(folder, countsFile)) && existsSync(join(within, countsFile)))
    throw new UserError(`--from must name the folder of the counts itself, got “${folder}”. Did you mean ${within}?`);
  const texts: Partial<Record<(typeof names)[number], string>> = {};
  for (const name of names) {
    const path = join(folder, name);
    if (!existsSync(path)) continue;
    try {
      texts[name] = decodeText(readFileSync(path)).text;
    } catch (error) {
      throw new UserError(readFault(path, (error as NodeJS.ErrnoException).code ?? "unknown"));
    }
  }
  const {counts, problems} = parseCounts(texts);
  if (counts) return counts;
  throw new CountsUnusable(
    [
      ...faultLines(problems).lines,
      `The counts in ${folder} cannot be used as they are: nothing was made of them.`
    ].join("\n")
  );
}

/**
 * The name of each workshop: the last part of its folder's path, or the part before it where all end alike (north/counts, south/counts).
 *
 * @throws UserError where two are still alike
 */
export function workshopNames(folders: readonly string[]): string[] {
  let paths = folders.map((folder) => resolve(folder));
  const endings = () => new Set(paths.map((path) => basename(path)));
  while (folders.length > 1 && endings().size === 1 && paths.some((path) => dirname(path) !== path))
    paths = paths.map((path) => dirname(path));
  if (endings().size < paths.length)
    throw new UserError(
      `The folders of counts must have names of their own, as these name the workshops, got ${folders.join(", ")}. Name each folder once, or rename one.`
    );
  return paths.map((path) => basename(path));
}
