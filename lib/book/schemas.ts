import * as z from "zod";
import {missingCells} from "./cells.ts";
import {type Field, fields} from "./field.ts";
import {type FileName, fileNames, files, type RecordName, recordName} from "./records.ts";
import {Settings, settingsFile} from "./settings.ts";

/** A column in Table Schema; what the standard has no word for stands under `book:`. */
export interface TableField {
  name: string;
  /** A heading that the reader takes as well, "Length (mm)". */
  title: string;
  description: string;
  type: "string" | "date" | "number" | "integer";
  format: "default";
  example: string;
  constraints: {required?: true; unique?: true; minimum?: number; maximum?: number; enum?: readonly string[]};
  "book:unit"?: string;
  /** Other headings by which the reader knows the column. */
  "book:also"?: readonly string[];
  /** The column that may stand in for this one. */
  "book:instead"?: string;
}

/** A Frictionless Table Schema. */
export interface TableSchema {
  $schema: string;
  fields: TableField[];
  fieldsMatch: "partial";
  missingValues: string[];
  primaryKey?: string[];
  foreignKeys?: {fields: string[]; reference: {resource: RecordName; fields: string[]}}[];
}

/** What is said of a data package as a whole. */
export interface PackageAbout {
  /** Small letters, digits, ".", "-" and "_". */
  name: string;
  title: string;
  description: string;
  licenses: {name: string; title?: string}[];
  contributors: {title: string; roles?: string[]}[];
}

/** A Frictionless Data Package. */
export interface DataPackage extends PackageAbout {
  $schema: string;
  resources: {
    name: RecordName;
    path: FileName;
    type: "table";
    description: string;
    format: "csv";
    mediatype: "text/csv";
    encoding: "utf-8";
    dialect: {header: boolean; delimiter: string; lineTerminator: string; quoteChar: string; doubleQuote: boolean};
    schema: TableSchema;
  }[];
}

/** A JSON Schema, draft 2020-12. */
export type JsonSchema = z.core.JSONSchema.JSONSchema;

const profiles = "https://datapackage.org/profiles/2.0";

const types = {
  text: "string",
  name: "string",
  word: "string",
  date: "date",
  number: "number",
  integer: "integer"
} as const;

/** The heading of the column that tells the rows of a file apart; other files refer to a row by a column of the same heading. */
const identity: Partial<Record<FileName, string>> = {
  "lots.csv": "lot",
  "squares.csv": "square",
  "orders.csv": "order"
};

/**
 * The columns of a file of the book as a Table Schema of the Data Package standard, version 2.0, from the same declaration
 * that checks the cells.
 *
 * It describes the plain form: our headings, our units, decimal points, days as 2026-10-31, missing cells in small letters.
 * The reader takes more than that, and checks more: names against the settings, days against each other. A file may have
 * columns of its own and lack optional ones, in any order; of the standard's words for that only `partial` lets it do both.
 *
 * Source: https://datapackage.org/standard/table-schema/
 *
 * Checked: tests/reference/openStandards.test.ts
 */
export function tableSchema(file: FileName): TableSchema {
  const own = identity[file];
  const columns = fields(files[file].schema).map(([, field]) => field);
  const foreignKeys = columns.flatMap(({heading}) =>
    fileNames
      .filter((other) => other !== file && identity[other] === heading)
      .map((other) => ({fields: [heading], reference: {resource: recordName(other), fields: [heading]}}))
  );
  return {
    $schema: `${profiles}/tableschema.json`,
    fields: columns.map((field) => tableField(field, field.heading === own)),
    fieldsMatch: "partial",
    missingValues: [...missingCells],
    ...(own !== undefined && {primaryKey: [own]}),
    ...(foreignKeys.length > 0 && {foreignKeys})
  };
}

/**
 * The CSV files of a book as a Data Package, version 2.0: what `datapackage.json` beside them holds.
 *
 * Source: https://datapackage.org/standard/data-package/
 *
 * Checked: tests/reference/openStandards.test.ts
 */
export function dataPackage(about: PackageAbout): DataPackage {
  return {
    $schema: `${profiles}/datapackage.json`,
    ...about,
    resources: fileNames.map((file) => ({
      name: recordName(file),
      path: file,
      type: "table",
      description: `One row is ${files[file].rowIs}.`,
      format: "csv",
      mediatype: "text/csv",
      encoding: "utf-8",
      dialect: {header: true, delimiter: ",", lineTerminator: "\n", quoteChar: '"', doubleQuote: true},
      schema: tableSchema(file)
    }))
  };
}

/**
 * The records of a book as JSON Schema, draft 2020-12: one object with a list for each file, under the names the records have
 * once read, in our units.
 *
 * Source: https://json-schema.org/draft/2020-12
 *
 * Checked: tests/reference/openStandards.test.ts
 */
export function bookSchema(): JsonSchema {
  return {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    title: "A workshop's book",
    description: "The records of the book once read; the end of a name is its unit.",
    type: "object",
    properties: Object.fromEntries(fileNames.map((file) => [recordName(file), recordsSchema(file)])),
    required: fileNames.filter((file) => files[file].required).map(recordName)
  };
}

/**
 * The settings, `workshop.json`, as JSON Schema, draft 2020-12: what an editor needs to complete, explain and check the file.
 * A size or density may be a number in our unit or text with a unit of its own. Not said, as the standard has no word for it:
 * that stages and defects are named differently each, that a window's low lies before its high, and which texts are sizes.
 *
 * Source: https://json-schema.org/draft/2020-12
 *
 * Checked: tests/reference/openStandards.test.ts
 */
export function settingsSchema(): JsonSchema {
  const {$schema, ...schema} = z.toJSONSchema(Settings, {io: "input", override: numberOrText});
  return {
    $schema: $schema!,
    title: settingsFile,
    description: "The settings of a workshop; each has a default, so that {} is a valid file.",
    ...schema
  };
}

function tableField(field: Field, unique: boolean): TableField {
  const {heading, description, example, kind, unit, also, instead, minimum, maximum, enum: words} = field;
  return {
    name: heading,
    title: title(field),
    description,
    type: types[kind],
    format: "default",
    example,
    constraints: {
      ...(!field.optional && instead === undefined && {required: true}),
      ...(unique && {unique: true}),
      ...(minimum !== undefined && {minimum}),
      ...(maximum !== undefined && {maximum}),
      ...(words !== undefined && {enum: words})
    },
    ...(unit !== undefined && {"book:unit": unit}),
    ...(also !== undefined && {"book:also": also}),
    ...(instead !== undefined && {"book:instead": instead})
  };
}

/** "Length (mm)" for length_mm. */
function title({heading, unit}: Pick<Field, "heading" | "unit">): string {
  const stated = unit !== undefined && unit !== "money";
  const words = (stated ? heading.replace(/_[^_]+$/, "") : heading).replaceAll("_", " ");
  return `${words[0]!.toUpperCase()}${words.slice(1)}${stated ? ` (${unit})` : ""}`;
}

function recordsSchema(file: FileName): JsonSchema {
  const {$schema, ...record} = z.toJSONSchema(files[file].schema, {override: standardWords});
  const row = {type: "integer", minimum: 1, description: "The row it stands in, as a spreadsheet counts"} as const;
  return {
    type: "array",
    description: `Each is ${files[file].rowIs}.`,
    items: {...record, properties: {...record.properties, row}}
  };
}

/** What we say of a column in words that JSON Schema has. */
function standardWords({jsonSchema}: {jsonSchema: z.core.JSONSchema.BaseSchema}): void {
  if (jsonSchema.heading === undefined) return;
  const {heading, unit, example, kind} = jsonSchema as unknown as Field;
  jsonSchema.title = title({heading, ...(unit && {unit})});
  jsonSchema.examples = [kind === "number" || kind === "integer" ? Number(example) : example];
  for (const word of ["heading", "unit", "example", "also", "loosely", "instead", "kind", "optional"])
    delete jsonSchema[word];
}

/** A number that is made of text where text is given shows as either. */
function numberOrText({
  zodSchema,
  jsonSchema
}: {
  zodSchema: z.core.$ZodTypes;
  jsonSchema: z.core.JSONSchema.BaseSchema;
}) {
  const {def} = zodSchema._zod;
  const made = def.type === "pipe" && (def.in as z.core.$ZodTypes)._zod.def.type === "transform";
  // The published type is that of one word; the standard also has a list of them.
  if (made && jsonSchema.type === "number") jsonSchema.type = ["number", "string"] as unknown as "number";
}
