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

/** So many unknown headings are named one by one; more are counted. */
const headingsNamed = 50;

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
function names({heading, also = [], loosely = [], unit}: Field): {own: string; others: string[]} {
  const own = fold(heading);
  const bare = unit === undefined || unit === "money" ? own : own.replace(/ (mm|g|pct|c|kgm3)$/, "");
  return {own, others: [bare, ...also.map(fold), ...loosely.map(fold)]};
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
      if (rank > 0 && field.loosely?.includes(first.stated.name))
        problems.push(looseHeading(file, row, heading, first.index, field));
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
  const named = new Set(problems.map(({column}) => column));
  const unknown = headings.flatMap((heading, index) =>
    heading === "" || taken.has(index) || ownHeadings.includes(heading) || named.has(columnLetter(index)) ? [] : [index]
  );
  for (const index of unknown.slice(0, headingsNamed)) {
    problems.push(unknownHeading(file, row, headings[index]!, index, left));
  }
  if (unknown.length > headingsNamed) problems.push(moreUnknown(file, row, unknown.length - headingsNamed));
  return {row, headings, places: places.sort((a, b) => a.index - b.index), problems};
}

/**
 * Of the first rows the first that has two known headings or more, and at least half of what any has: titles above have fewer,
 * and what stands between two rows of headings is data. Else the row with most, else the first that is not blank.
 */
function headingRow(rows: readonly Row[], known: (cell: string) => boolean): Row | undefined {
  const top: Row[] = [];
  for (const row of rows) {
    if (!isBlank(row.cells)) top.push(row);
    if (top.length === headRows) break;
  }
  const counts = top.map(({cells}) => cells.filter(known).length);
  const most = Math.max(0, ...counts);
  const enough = Math.min(most, Math.max(2, most / 2));
  return top[counts.findIndex((count) => count >= enough)];
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
    const name = fold(mapped);
    const found = headings.flatMap((heading, index) => {
      const isIt = fold(heading) === name || stated[index]!.some((one) => one.name === name);
      return isIt ? [{index, stated: stated[index]!.at(-1)!}] : [];
    });
    return [found, [], []];
  }
  const {own: ours, others} = names(field);
  const by = (fits: (name: string) => boolean) =>
    stated.flatMap((ways, index) => {
      const way = ways.find((one) => fits(one.name) && suits(field, one));
      return way ? [{index, stated: way}] : [];
    });
  return [[], by((name) => name === ours), by((name) => others.includes(name))];
}

/**
 * Whether what stands in brackets behind a name may belong to a column: for money a currency, for dates their form, else a unit, of
 * which `unitOfPlace` judges; "Squares (rejected)" are not the squares bought.
 */
function suits({unit, kind}: Field, {unitText = ""}: Stated): boolean {
  if (unit === "money") return /^(\p{Sc}|\p{Lu}{3}|)$/u.test(unitText);
  if (kind === "date") return /^[dmyjat\W]*$/i.test(unitText);
  return unit !== undefined || unitText === "";
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
    if (!stated.unit || stated.unit.name === base.name) {
      if (said === undefined || unitOf(said)?.name === base.name) return {unit: base};
      const wanted = `in ${said}, as workshop.json has it; it is read as ${unit}, as its heading has it`;
      const mend = "Correct the heading or workshop.json.";
      return {unit: base, problem: {code: "unit-assumed", severity: "doubt", wanted, mend}};
    }
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

function looseHeading(
  file: string,
  row: number,
  heading: string,
  index: number,
  {heading: ours, description}: Field
): Problem {
  const mend = `If it is that, head the column ${ours}; if not, give it another heading.`;
  const wanted = `clear; it is read as “${description}”`;
  return {...at(file, row, index, heading), code: "heading-loose", severity: "doubt", wanted, mend};
}

function moreUnknown(file: string, row: number, count: number): Problem {
  const mend = "They are left as they are and not read.";
  const value = `${count} more`;
  return {
    code: "heading-unknown",
    severity: "doubt",
    file,
    row,
    value,
    wanted: "headings of this file to be read",
    mend
  };
}
