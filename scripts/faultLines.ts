import {byImportance, excerpt, onOneLine, type Problem, problemSentence} from "../lib/book/problem.ts";
import {ofOneKind} from "../lib/report/faultList.ts";

/** So many places of one fault are named before the rest are only counted. */
const placesNamed = 8;

/** So many faults of one kind are told, each with its own mend, before the rest are only counted. */
const mendsNamed = 4;

/**
 * The faults, most important first. Those of one column that are told and mended alike are said once, with the places of the others; of one
 * kind that is mended in many ways the first are told.
 *
 * @returns `isWhole`: whether every fault was told or named by its place and found value
 */
export function faultLines(problems: readonly Problem[]): {lines: string[]; isWhole: boolean} {
  let isWhole = true;
  const places = (rest: readonly Problem[]) => {
    if (rest.length > placesNamed) isWhole = false;
    const named = rest.slice(0, placesNamed).map(place);
    return `${named.join(", ")}${rest.length > placesNamed ? ", …" : ""}`;
  };
  /** The first of faults told and mended in the same words, and where the others are. */
  const alike = ([first, ...others]: readonly Problem[]) => [
    `${first!.severity.padEnd(8)} ${problemSentence(first!)}`,
    ...(others.length > 0 ? [`${indent}and ${others.length} more like this: ${places(others)}`] : [])
  ];
  const lines = ofOneKind(byImportance(problems)).flatMap((mends) => {
    // One alone takes no more room told than counted.
    const told = mends.length === mendsNamed + 1 ? mends : mends.slice(0, mendsNamed);
    const rest = mends.slice(told.length).flat();
    if (rest.length > 0) isWhole = false;
    return [
      ...told.flatMap(alike),
      ...(rest.length > 0 ? [`${indent}and ${rest.length} more of this kind: ${places(rest)}`] : [])
    ];
  });
  return {lines, isWhole};
}

const indent = " ".repeat(9);

function place({cell, row, file, value}: Problem): string {
  const where = cell ?? (row === undefined ? file : `row ${row}`);
  return onOneLine(value === undefined ? where : `${where} (“${excerpt(value)}”)`);
}

/** "1 row", "2 rows". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
