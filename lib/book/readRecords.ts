import type {z} from "zod";
import {type Cells, readCells} from "./cells.ts";
import type {FieldMeta} from "./field.ts";
import {columnLetter, type Problem} from "./problem.ts";

/** A record together with the row it stands in, as a spreadsheet shows it. */
export type Numbered<T> = T & {row: number};

/** What was read of one file: the records, the text they came from, and every fault found in the cells. */
export interface RecordsRead<T> {
  source: Cells;
  records: Numbered<T>[];
  problems: Problem[];
}

interface Place {
  key: string;
  index: number;
  meta: FieldMeta;
}

/**
 * The rows of a CSV text as records of a schema. Every row is either a record or is named in a problem of severity
 * `refused`, cell by cell; nothing is guessed.
 *
 * Checked: tests/book/readRecords.test.ts
 */
export function readRecords<S extends z.ZodObject>(text: string, file: string, schema: S): RecordsRead<z.infer<S>> {
  const source = readCells(text, file);
  const {places, problems: headingProblems} = placeColumns(source.headings, file, schema);
  const problems = [...source.problems, ...headingProblems];
  const records: Numbered<z.infer<S>>[] = [];
  if (!problems.some(({severity}) => severity === "blocking")) {
    if (source.rows.length === 0) problems.push(emptyFile(file));
    for (const {row, cells} of source.rows) {
      const ragged = cells.slice(source.headings.length).some((cell) => cell.trim() !== "");
      if (ragged) {
        problems.push(raggedRow(file, row, source.headings.length, cells));
        continue;
      }
      const result = schema.safeParse(Object.fromEntries(places.map(({key, index}) => [key, cells[index] ?? ""])));
      if (result.success) records.push({...(result.data as z.infer<S>), row});
      else
        for (const {place, wanted} of faultyCells(result.error, places))
          problems.push(badCell(file, row, place, cells, wanted));
    }
  }
  return {source, records, problems};
}

/** Where each field of the schema stands among the headings. */
function placeColumns(
  headings: readonly string[],
  file: string,
  schema: z.ZodObject
): {places: Place[]; problems: Problem[]} {
  const places: Place[] = [];
  const problems: Problem[] = [];
  const known = new Set<string>();
  for (const [key, field] of Object.entries(schema.shape)) {
    const meta = field.meta() as unknown as FieldMeta & {optional?: boolean};
    known.add(meta.heading);
    const index = headings.indexOf(meta.heading);
    if (index >= 0) places.push({key, index, meta});
    else if (!meta.optional) problems.push(missingHeading(file, meta.heading, headings));
    const second = headings.indexOf(meta.heading, index + 1);
    if (index >= 0 && second >= 0) problems.push(headingTwice(file, meta.heading, index, second));
  }
  headings.forEach((heading, index) => {
    if (heading !== "" && !known.has(heading)) problems.push(unknownHeading(file, heading, index));
  });
  return {places, problems};
}

/** The first fault of each faulty cell. */
function faultyCells(error: z.ZodError, places: readonly Place[]): {place: Place; wanted: string}[] {
  const found = new Map<Place, string>();
  for (const issue of error.issues) {
    const place = places.find(({key}) => key === issue.path[0]);
    if (place && !found.has(place)) found.set(place, issue.message);
  }
  return [...found].map(([place, wanted]) => ({place, wanted}));
}

function badCell(file: string, row: number, {index, meta}: Place, cells: readonly string[], wanted: string): Problem {
  const value = cells[index] ?? "";
  return {
    ...at(file, row, index, meta.heading),
    code: "cell-unreadable",
    severity: "refused",
    value,
    wanted,
    mend: mendFor(value, meta)
  };
}

/** The likeliest cure of an unreadable cell. */
function mendFor(value: string, {example}: FieldMeta): string {
  if (value.trim() === "") return `Fill the cell in, like ${example}.`;
  if (/^\d+,\d+$/.test(value.trim())) return `Write a decimal point: ${value.trim().replace(",", ".")}.`;
  if (/^[\d.]*[oOlI][\d.oOlI]*$/.test(value.trim())) {
    return `Letter for a digit? Type ${value.trim().replace(/[oO]/g, "0").replace(/[lI]/g, "1")}.`;
  }
  return `Correct the cell; it should look like ${example}.`;
}

/** Where a cell stands, in a spreadsheet's terms. */
export function at(file: string, row: number, index: number, heading: string) {
  const column = columnLetter(index);
  return {file, row, column, cell: `${column}${row}`, heading};
}

function missingHeading(file: string, heading: string, headings: readonly string[]): Problem {
  const value = headings.join(", ").slice(0, 200);
  const mend = `Add a column headed ${heading}, or correct the spelling of its heading.`;
  return {
    code: "heading-missing",
    severity: "blocking",
    file,
    row: 1,
    heading,
    value,
    wanted: "among the headings",
    mend
  };
}

function headingTwice(file: string, heading: string, first: number, second: number): Problem {
  const value = `${columnLetter(first)} and ${columnLetter(second)}`;
  const mend = "Take one of the two columns out or give it another heading.";
  return {
    ...at(file, 1, second, heading),
    code: "heading-twice",
    severity: "blocking",
    value,
    wanted: "the heading of one column",
    mend
  };
}

function unknownHeading(file: string, heading: string, index: number): Problem {
  const mend = "It is left as it is and not read. Correct the heading if it was meant to be read.";
  return {
    ...at(file, 1, index, heading),
    code: "heading-unknown",
    severity: "doubt",
    wanted: "a heading of this file to be read",
    mend
  };
}

function raggedRow(file: string, row: number, headings: number, cells: readonly string[]): Problem {
  const value = cells.slice(headings).join(",").slice(0, 80);
  const mend = "A stray comma in a note? Put the note in quotation marks.";
  return {
    code: "row-ragged",
    severity: "refused",
    file,
    row,
    value,
    wanted: `at most ${headings} cells, one a heading`,
    mend
  };
}

function emptyFile(file: string): Problem {
  return {
    code: "file-empty",
    severity: "doubt",
    file,
    wanted: "filled with at least one row below its headings",
    mend: "Enter the first row."
  };
}
