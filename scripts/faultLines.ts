import {byImportance, excerpt, onOneLine, type Problem, problemSentence} from "../lib/book/problem.ts";
import {ofOneKind} from "../lib/report/faultList.ts";

/** So many places of one fault are named before the rest are only counted. */
const placesNamed = 8;

/** So many faults of one kind are told, each with its own mend, before the rest are only counted. */
const mendsNamed = 4;

/**
 * The faults, most important first. Those of one column that are told and mended alike are said once, with the places of the others; of one
 * kind that is mended in many ways the first are told.
 */
export function faultLines(problems: readonly Problem[]): string[] {
  return ofOneKind(byImportance(problems)).flatMap((mends) => {
    const rest = mends.slice(mendsNamed).flat();
    return [
      ...mends.slice(0, mendsNamed).flatMap(alike),
      ...(rest.length > 0 ? [`${indent}and ${rest.length} more of this kind: ${places(rest)}`] : [])
    ];
  });
}

/** Under the words of a fault. */
export const indent = " ".repeat(9);

/** The first of faults told and mended in the same words, and where the others are. */
function alike([first, ...others]: readonly Problem[]): string[] {
  const line = `${first!.severity.padEnd(8)} ${problemSentence(first!)}`;
  return others.length === 0 ? [line] : [line, `${indent}and ${others.length} more like this: ${places(others)}`];
}

function places(problems: readonly Problem[]): string {
  const named = problems.slice(0, placesNamed).map(place);
  return `${named.join(", ")}${problems.length > placesNamed ? ", …" : ""}`;
}

function place({cell, row, file, value}: Problem): string {
  const where = cell ?? (row === undefined ? file : `row ${row}`);
  return onOneLine(value === undefined ? where : `${where} (“${excerpt(value)}”)`);
}

/** "1 row", "2 rows". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
