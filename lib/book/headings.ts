import type {z} from "zod";
import {type Field, fields} from "./field.ts";
import {fold} from "./fold.ts";
import {type Grid, headRows, isBlank, type Row} from "./grid.ts";
import {nearest} from "./nearest.ts";
import {at, columnLetter, type Problem} from "./problem.ts";
import {type baseUnits, type Unit, unitOf} from "./units.ts";

/** Where a field of a record stands in a file, and in which unit. */
export interface Place {
  key: string;
  index: number;
  /** The heading as the file has it. */
  heading: string;
  field: Field;
  /** The unit of the column; absent for columns without unit and for money. */
  unit?: Unit;
}

/** The headings of a file and where each field stands. */
export interface Headings {
  /** The row they stand in; 0 where the file has no row. */
  row: number;
  headings: string[];
  places: Place[];
  problems: Problem[];
}

/** What the owner says of the headings of a file. */
export interface HeadingHabits {
  /** The owner's heading of a column, by ours. */
  headings?: Readonly<Record<string, string>> | undefined;
  /** The unit of a column, by our heading, where the file does not say it. */
  units?: Readonly<Record<string, string>> | undefined;
}

/** Headings that the rows written back for mending have and that are not read. */
export const ownHeadings = ["_row", "_mark", "_problem"];

/** A heading as its name and the unit that it states, in brackets or as its last word: "Dia (in)", "length_mm". */
interface Stated {
  name: string;
  unit?: Unit | undefined;
  /** What stands in the brackets, or as the last word. */
  unitText?: string;
}

/** A name and the unit that ends it: "Weight oz", "Weight/g", "MC%". */
const endings = [
  /^(.*[^\s_,])[\s_,]+([^\s_,]+)$/s,
  /^(.*[^\s/:\-–—])[\s/:\-–—]+([^/:\-–—]+)$/s,
  /^(.*[^\s%°])([%°].*)$/s
];

function readings(heading: string): Stated[] {
  const text = heading.trim().slice(0, 200);
  const bracketed = /^([^()[\]]*)[([]([^()[\]]*)[)\]]$/.exec(text);
  if (bracketed) {
    const [, base = "", unitText = ""] = bracketed;
    return [
      {name: fold(text.replaceAll(/[()[\]]/g, " "))},
      {name: fold(base), unit: unitOf(unitText.replace(/^\s*in\s+/i, "")), unitText: unitText.trim()}
    ];
  }
  const ended = endings.flatMap((ending) => {
    const [, base = "", unitText = ""] = ending.exec(text) ?? [];
    const unit = unitOf(unitText);
    // "Length in mm" is the length.
    return unit ? [{name: fold(base).replace(/ in$/, ""), unit, unitText: unitText.trim()}] : [];
  });
  return [{name: fold(text)}, ...ended];
}

/** The names a field goes by, folded: its heading, its heading without unit, and what else it is called. */
function names({heading, also = [], unit}: Field): {own: string; others: string[]} {
  const own = fold(heading);
  const bare = unit === undefined || unit === "money" ? own : own.replace(/ (mm|g|pct|c|kgm3)$/, "");
  return {own, others: [bare, ...also.map(fold)]};
}

/** Whether a cell can be a heading of a schema's file. */
export function headingTest(schema: z.ZodObject, {headings = {}}: HeadingHabits = {}): (cell: string) => boolean {
  const known = new Set(Object.values(headings).map(fold));
  for (const [, field] of fields(schema)) {
    const {own, others} = names(field);
    for (const name of [own, ...others]) known.add(name);
  }
  return (cell) => cell.length < 200 && readings(cell).some(({name}) => name !== "" && known.has(name));
}

/**
 * The row of the headings and where each field of a schema stands. Headings are matched whatever their case, accents, spaces
 * and dashes; a unit is read from brackets or from the last word; the owner's own headings come first, then ours, then what
 * else a column is called.
 *
 * Checked: tests/book/headings.test.ts
 */
export function readHeadings({rows, file}: Grid, schema: z.ZodObject, habits: HeadingHabits = {}): Headings {
  const head = headingRow(rows, headingTest(schema, habits));
  if (!head) return {row: 0, headings: [], places: [], problems: [noHeadings(file, schema)]};
  const {row} = head;
  const headings = head.cells.map((cell) => cell.trim());
  const stated = headings.map(readings);
  const places: Place[] = [];
  const problems: Problem[] = [];
  const taken = new Set<number>();
  const strangeUnit = new Set<string>();
  const wanted = fields(schema);
  const matchesOf = new Map(wanted.map(([key, field]) => [key, matches(field, headings, stated, habits)]));
  for (const rank of [0, 1, 2] as const) {
    for (const [key, field] of wanted) {
      if (places.some((place) => place.key === key)) continue;
      const found = matchesOf.get(key)![rank].filter(({index}) => !taken.has(index));
      const [first, second] = found;
      if (!first) continue;
      taken.add(first.index);
      if (second) problems.push(headingTwice(file, row, headings, first.index, second.index));
      const heading = headings[first.index]!;
      const {unit, problem} = unitOfPlace(field, first.stated, habits.units?.[field.heading]);
      if (problem) problems.push({...at(file, row, first.index, heading), ...problem});
      if (problem?.code === "heading-unit") {
        strangeUnit.add(key);
        continue;
      }
      places.push({key, index: first.index, heading, field, ...(unit && {unit})});
    }
  }
  for (const [key, field] of wanted) {
    if (places.some((place) => place.key === key) || field.optional || strangeUnit.has(key)) continue;
    const stand = wanted.find(([, other]) => other.heading === field.instead)?.[0];
    if (stand && places.some((place) => place.key === stand)) continue;
    problems.push(missingHeading(file, row, field.heading, headings, habits.headings?.[field.heading]));
  }
  const left = wanted.filter(([key]) => !places.some((place) => place.key === key)).map(([, field]) => field.heading);
  headings.forEach((heading, index) => {
    if (heading === "" || taken.has(index) || ownHeadings.includes(heading)) return;
    if (problems.some(({column}) => column === columnLetter(index))) return;
    problems.push(unknownHeading(file, row, heading, index, left));
  });
  return {row, headings, places: places.sort((a, b) => a.index - b.index), problems};
}

/** Of the first rows the one with most known headings; else the first that is not blank. */
function headingRow(rows: readonly Row[], known: (cell: string) => boolean): Row | undefined {
  const top = rows.filter(({cells}) => !isBlank(cells)).slice(0, headRows);
  let best = top[0];
  let most = 0;
  for (const row of top) {
    const found = row.cells.filter(known).length;
    if (found > most) [best, most] = [row, found];
  }
  return best;
}

type Matches = [Match[], Match[], Match[]];

interface Match {
  index: number;
  stated: Stated;
}

/** The columns that a field may stand in: by the owner's heading; by ours; by another name. */
function matches(
  field: Field,
  headings: readonly string[],
  stated: Stated[][],
  {headings: own}: HeadingHabits
): Matches {
  const mapped = own?.[field.heading];
  if (mapped !== undefined) {
    const found = headings.flatMap((heading, index) =>
      fold(heading) === fold(mapped) ? [{index, stated: stated[index]!.at(-1)!}] : []
    );
    return [found, [], []];
  }
  const {own: ours, others} = names(field);
  const by = (fits: (name: string) => boolean) =>
    stated.flatMap((ways, index) => {
      const way = ways.find(({name}) => fits(name));
      return way ? [{index, stated: way}] : [];
    });
  return [[], by((name) => name === ours), by((name) => others.includes(name))];
}

/** The unit of a column: what its heading states, else what the owner says, else ours. */
function unitOfPlace(
  {heading, unit, optional}: Field,
  stated: Stated,
  said: string | undefined
): {unit?: Unit; problem?: Pick<Problem, "code" | "severity" | "value" | "wanted" | "mend">} {
  if (unit === undefined || unit === "money") return {};
  const base = unitOf(unit)!;
  const {dimension} = base;
  const severity = optional ? "doubt" : "blocking";
  const unread = optional ? " Until then the column is not read." : "";
  if (fold(heading) === stated.name) {
    if (!stated.unit || stated.unit.name === base.name) return {unit: base};
    const wanted = `in one unit, not in ${base.name} and ${stated.unit.name}`;
    const mend = `Correct the heading, to ${heading} or “${names({heading, unit} as Field).others[0]} (${stated.unit.name})”.${unread}`;
    return {problem: {code: "heading-unit", severity, value: stated.unitText!, wanted, mend}};
  }
  const text = stated.unit?.dimension === dimension ? stated.unitText : (said ?? stated.unitText);
  // Percent is the only unit of a share.
  if (text === undefined && dimension === "share") return {unit: base};
  if (text === undefined) {
    const mend = `Write the unit into the heading, like ${heading} or “${stated.name} (${unitExamples[dimension][1]})”, or into workshop.json.`;
    return {
      unit: base,
      problem: {code: "unit-assumed", severity: "doubt", wanted: `followed by its unit; it is read as ${unit}`, mend}
    };
  }
  const found = text === stated.unitText ? stated.unit : unitOf(text);
  if (found?.dimension === dimension) return {unit: found};
  const wanted = `in a unit that ${heading} can have: ${unitExamples[dimension].join(", ")}`;
  const mend = `Correct the unit in the heading, or say it in workshop.json.${unread}`;
  return {problem: {code: "heading-unit", severity, value: text, wanted, mend}};
}

const unitExamples: Record<keyof typeof baseUnits, readonly string[]> = {
  length: ["mm", "in", "cm", "m", "ft"],
  mass: ["g", "oz", "lb", "kg"],
  density: ["kg/m³", "lb/ft³", "g/cm³"],
  share: ["%", "pct"],
  temperature: ["°C", "°F"]
};

function missingHeading(
  file: string,
  row: number,
  heading: string,
  headings: readonly string[],
  mapped: string | undefined
): Problem {
  const near = nearest(heading, headings);
  const mend =
    mapped === undefined
      ? near === undefined
        ? `Add a column headed ${heading}, or say in workshop.json which of your columns it is.`
        : `Is it “${near}”? Then correct that heading, or say so in workshop.json.`
      : `workshop.json calls it “${mapped}”, and no heading is that. Correct one of the two.`;
  const value = headings.join(", ").slice(0, 200);
  return {
    code: "heading-missing",
    severity: "blocking",
    file,
    row: Math.max(row, 1),
    heading,
    value,
    wanted: "among the headings",
    mend
  };
}

function noHeadings(file: string, schema: z.ZodObject): Problem {
  const names = fields(schema)
    .filter(([, {optional}]) => !optional)
    .map(([, {heading}]) => heading);
  const mend = `Write the headings into its first row, ${names.join(", ")} at least; npm run new-book makes such files.`;
  return {code: "file-empty", severity: "blocking", file, wanted: "filled with its headings at least", mend};
}

function headingTwice(file: string, row: number, headings: readonly string[], first: number, second: number): Problem {
  const heading = headings[second]!;
  const named = [first, second].map((index) => `${headings[index]} in column ${columnLetter(index)}`).join(" and ");
  return {
    ...at(file, row, second, heading),
    code: "heading-twice",
    severity: "blocking",
    value: named,
    wanted: "the heading of one column",
    mend: "Take one of the two columns out or give it another heading."
  };
}

function unknownHeading(file: string, row: number, heading: string, index: number, left: readonly string[]): Problem {
  const near = nearest(heading, left);
  const mend = `It is left as it is and not read. ${near === undefined ? "Correct the heading if it was meant to be read." : `Did you mean ${near}?`}`;
  return {
    ...at(file, row, index, heading),
    code: "heading-unknown",
    severity: "doubt",
    wanted: "a heading of this file to be read",
    mend
  };
}
