import {z} from "zod";
import {isDay} from "./day.ts";

/** What is said of a column, beside the rule that its cells keep: the source of headings, column docs and published schemas. */
export interface FieldMeta {
  /** The column's heading in the CSV file. */
  heading: string;
  description: string;
  unit?: string;
  example: string;
}

/** A blank cell is a missing value, never zero: `Number("")` is 0. */
const blankAsMissing = (cell: unknown) => (typeof cell === "string" && cell.trim() === "" ? undefined : cell);

const filled = z.string({error: "filled in"}).trim().min(1, {error: "filled in"});
const decimal = filled
  .regex(/^[+-]?(\d+(\.\d*)?|\.\d+)$/, {error: "a number with a decimal point, like 12.5"})
  .transform(Number);

/** Text as it stands, trimmed. */
export const text = (meta: FieldMeta) => filled.meta({...meta});

/** A calendar day written as 2026-10-31. */
export const day = (meta: FieldMeta) =>
  filled.refine(isDay, {error: "a calendar day like 2026-10-31"}).meta({...meta, type: "date"});

/** A decimal number between two bounds, both allowed. */
export const number = (low: number, high: number, meta: FieldMeta) =>
  decimal
    .pipe(
      z
        .number()
        .min(low, {error: between(low, high)})
        .max(high, {error: between(low, high)})
    )
    .meta({...meta, type: "number", minimum: low, maximum: high});

/** A whole number between two bounds, both allowed. */
export const count = (low: number, high: number, meta: FieldMeta) =>
  decimal
    .pipe(
      z
        .number()
        .int({error: "a whole number"})
        .min(low, {error: between(low, high)})
        .max(high, {error: between(low, high)})
    )
    .meta({...meta, type: "integer", minimum: low, maximum: high});

/** One of a few words. */
export const choice = <const W extends readonly [string, ...string[]]>(words: W, meta: FieldMeta) =>
  filled.pipe(z.enum(words, {error: `one of ${words.join(", ")}`})).meta({...meta, enum: words});

/** A column that may be missing, or blank in a row: the value is then undefined. */
export const optional = <S extends z.ZodType>(schema: S) =>
  z.preprocess(blankAsMissing, schema.optional()).meta({...schema.meta(), optional: true});

function between(low: number, high: number): string {
  return `between ${low} and ${high}`;
}
