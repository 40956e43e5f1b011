import {byImportance, type Problem, problemSentence} from "../lib/book/problem.ts";
import {alike} from "../lib/report/faultList.ts";

/** So many places of one fault are named before the rest are only counted. */
const placesNamed = 8;

/** The faults, most important first; the same fault in many rows of one column is said once, with the places of the others. */
export function faultLines(problems: readonly Problem[]): string[] {
  return alike(byImportance(problems)).flatMap(([first, ...others]) => {
    const line = `${first!.severity.padEnd(8)} ${problemSentence(first!)}`;
    if (others.length === 0) return [line];
    const named = others
      .slice(0, placesNamed)
      .map(({cell, row, file}) => cell ?? (row === undefined ? file : `row ${row}`));
    const rest = others.length > placesNamed ? ", …" : "";
    return [line, `${" ".repeat(9)}and ${others.length} more like this: ${named.join(", ")}${rest}`];
  });
}

/** "1 row", "2 rows". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
