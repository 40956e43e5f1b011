import Papa from "papaparse";
import type {Cells} from "../../lib/book/cells.ts";
import {type Problem, problemSentence} from "../../lib/book/problem.ts";
import {writeReport} from "./writeReport.ts";

/**
 * The refused rows of each file, whole and untouched, each with its row, what was wrong and how to mend it: refused-lots.csv and so on.
 *
 * @returns the paths written
 */
export function writeRefused(
  folder: string,
  problems: readonly Problem[],
  sources: Readonly<Record<string, Cells | undefined>>
): string[] {
  const refused = problems.filter(
    ({severity, row, file}) => severity === "refused" && row !== undefined && sources[file]
  );
  return [...new Set(refused.map(({file}) => file))].map((file) => {
    const {headings, rows} = sources[file]!;
    const lines = rows.flatMap(({row, cells}) => {
      const own = refused.filter((problem) => problem.file === file && problem.row === row);
      const padded = headings.map((_, i) => cells[i] ?? "");
      return own.length === 0
        ? []
        : [[...padded, String(row), own.map(problemSentence).join(" "), ...cells.slice(headings.length)]];
    });
    const text = Papa.unparse([[...headings, "_row", "_problem"], ...lines], {newline: "\r\n"});
    return writeReport(folder, `refused-${file}`, `\ufeff${text}\r\n`);
  });
}
