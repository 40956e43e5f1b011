import {readFileSync} from "node:fs";
import {join} from "node:path";
import type {Sources} from "../../lib/book/faults.ts";
import {isEdited, refusedText} from "../../lib/book/mended.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {type FileName, fileNames} from "../../lib/book/records.ts";
import {decodeText} from "./decodeText.ts";
import {keepEdited, readFault, removeReport, UserError, writeReport} from "./writeReport.ts";

/**
 * The refused rows of each file, whole and untouched, each with its row, what was wrong and how to mend it: refused-lots.csv and so
 * on. Mended and put into the book's folder as mended-lots.csv they are read in the place of the rows they came from.
 *
 * Where no row of a file is refused any more, the one written before is taken away. One that was edited where it lay is neither
 * written over nor taken away, but renamed.
 *
 * @param say takes a line for each file that was renamed: its new name, and what to do with it
 * @returns the paths written
 * @throws UserError when one cannot be read, written, renamed or taken away
 */
export function writeRefused(
  folder: string,
  problems: readonly Problem[],
  sources: Sources,
  say: (line: string) => void
): string[] {
  return fileNames.flatMap((name) => {
    const refused = `refused-${name}`;
    const source = sources[name];
    const text = source && refusedText(source, problems);
    const before = textThere(join(folder, refused));
    if (before !== undefined && before !== text?.replace(/^\ufeff/, "") && isEdited(before))
      say(keptLine(keepEdited(folder, refused), name));
    if (text !== undefined) return [writeReport(folder, refused, text)];
    removeReport(folder, refused);
    return [];
  });
}

function keptLine(path: string, name: FileName): string {
  const mended = `mended-${name}`;
  const next = mended.replace(".csv", "-2.csv");
  return `Rows set aside before had been edited and are kept in ${path}. To have them read, save that file as ${mended} (${next} if there is one) in the book's folder.`;
}

function textThere(path: string): string | undefined {
  try {
    return decodeText(readFileSync(path)).text;
  } catch (error) {
    const {code = "unknown"} = error as NodeJS.ErrnoException;
    if (code === "ENOENT" || code === "ENOTDIR") return undefined;
    throw new UserError(readFault(path, code));
  }
}
