import * as z from "zod";
import {isDay} from "./day.ts";

/** The unit a column's values are in once read; `money` is the book's currency. */
export type FieldUnit = "mm" | "g" | "kg/m³" | "%" | "°C" | "money";

/** What is said of a column, beside the rule that its values keep: the source of headings, column docs and published schemas. */
export interface FieldMeta {
  /** The column's heading in the CSV file. */
  heading: string;
  description: string;
  unit?: FieldUnit;
  example: string;
  /** Other headings by which the column is known, without unit. */
  also?: readonly string[];
  /** Names that may mean something else too: the column is read, with a doubt. */
  loosely?: readonly string[];
  /** A column that may stand in for this one where it is missing or blank. */
  instead?: string;
}

/** The same with what follows from the field's kind. */
export interface Field extends FieldMeta {
  kind: "text" | "name" | "date" | "number" | "integer" | "word";
  minimum?: number;
  maximum?: number;
  enum?: readonly string[];
  optional?: boolean;
}

/** Control characters but tab and line ends: marks of a damaged file, never of a name. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const control = /[\u0000-\u0008\u000e-\u001f\u007f]/;

const filled = z.string({error: "filled in"}).trim().min(1, {error: "filled in"});

/** Text as it stands, trimmed. */
export const text = (meta: FieldMeta) => filled.meta({...meta, kind: "text"});

/** A number or name by which something is found again: text without control characters. */
export const name = (meta: FieldMeta) =>
  filled
    .refine((value) => !control.test(value), {error: "text without control characters"})
    .meta({...meta, kind: "name"});

/** A calendar day, "2026-10-31". */
export const day = (meta: FieldMeta) =>
  filled
    .pipe(z.iso.date({error: "a calendar day like 2026-10-31", abort: true}))
    .refine(isDay, {error: "a calendar day like 2026-10-31"})
    .meta({...meta, kind: "date"});

const numeric = (low: number, high: number) =>
  z
    .number({error: ({input}) => (input === undefined ? "filled in" : "a number")})
    .min(low, {error: between(low, high)})
    .max(high, {error: between(low, high)});

/** A decimal number between two bounds, both allowed. */
export const number = (low: number, high: number, meta: FieldMeta) =>
  numeric(low, high).meta({...meta, kind: "number", minimum: low, maximum: high});

/** A whole number between two bounds, both allowed. */
export const count = (low: number, high: number, meta: FieldMeta) =>
  numeric(low, high)
    .int({error: "a whole number"})
    .meta({...meta, kind: "integer", minimum: low, maximum: high});

/** One of a few words. */
export const choice = <const W extends readonly [string, ...string[]]>(words: W, meta: FieldMeta) =>
  z
    .enum(words, {error: (issue) => (issue.input === undefined ? "filled in" : `one of ${words.join(", ")}`)})
    .meta({...meta, kind: "word", enum: words});

/** A column that may be missing, or blank in a row: the value is then undefined. A blank is never zero. */
export const optional = <S extends z.ZodType>(schema: S) => schema.optional().meta({...schema.meta(), optional: true});

/** What is declared of each column of a schema, by the key of its value. */
export function fields(schema: z.ZodObject): [key: string, field: Field][] {
  return Object.entries(schema.shape).map(([key, field]) => [key, field.meta() as unknown as Field]);
}

/** Whether the values of a column are numbers, decimal or whole. */
export function isNumeric({kind}: Field): boolean {
  return kind === "number" || kind === "integer";
}

function between(low: number, high: number): string {
  return `between ${low} and ${high}`;
}
