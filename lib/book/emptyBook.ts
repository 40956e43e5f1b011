import Papa from "papaparse";
import {z} from "zod";
import {type CellHabits, CellReader} from "./cells.ts";
import {columnDocs} from "./columnDocs.ts";
import {type Field, fields} from "./field.ts";
import type {Row} from "./grid.ts";
import type {Place} from "./headings.ts";
import {type FileName, fileNames, files, recordName} from "./records.ts";
import {Settings} from "./settings.ts";

/** The text file of a new book that explains its columns. */
export const aboutFile = "about-this-book.txt";

/** What stands in the note column of an example row. */
export const exampleNote = "example: write over this row";

/** A cell of a new book: a day as a day and a number as a number, for whoever tells them from text. */
export type NewCell = string | number | {date: string};

const width = 100;

/** The text of a column's cell in the example row: the column's example, but a turning has no defect and is for no order yet. */
function exampleOf({heading, example, optional}: Field): string {
  if (heading === "note") return exampleNote;
  return heading === "defect" || (heading === "order" && optional) ? "" : example;
}

function isNumeric({kind}: Field): boolean {
  return kind === "number" || kind === "integer";
}

/**
 * A file of a new book as rows of cells, the headings and one example row. The examples of all files fit together: they are one
 * square, its lot, an order, and what happened.
 */
export function emptyTable(file: FileName): NewCell[][] {
  const columns = fields(files[file].schema).map(([, field]) => field);
  const cell = (field: Field): NewCell => {
    const text = exampleOf(field);
    if (text === "") return "";
    return field.kind === "date" ? {date: text} : isNumeric(field) ? Number(text) : text;
  };
  return [columns.map(({heading}) => heading), columns.map(cell)];
}

/**
 * The same as the text of a CSV file that a spreadsheet opens rightly: a byte order mark so that it is read as UTF-8, lines ended
 * by CR LF.
 *
 * Source: RFC 4180 for lines and quotes. Checked: tests/book/emptyBook.test.ts, by another reader of CSV
 *
 * @param semicolons semicolons between the cells and decimal commas, for spreadsheets that expect these
 */
export function emptyCsv(file: FileName, {semicolons = false} = {}): string {
  const columns = fields(files[file].schema).map(([, field]) => field);
  const cell = (field: Field) =>
    semicolons && isNumeric(field) ? exampleOf(field).replace(".", ",") : exampleOf(field);
  const lines = [columns.map(({heading}) => heading), columns.map(cell)];
  return `\ufeff${Papa.unparse(lines, {newline: "\r\n", delimiter: semicolons ? ";" : ","})}\r\n`;
}

/**
 * Whether a row is the example of a new book as it was made: its note says so, and each cell that is read can have the example's
 * value, in whatever way a spreadsheet has written it since. With one value of the owner's it is the owner's row.
 *
 * Checked: tests/book/emptyBook.test.ts
 *
 * @param exact whether the cells come from a workbook
 */
export function isExample({cells}: Row, places: readonly Place[], habits: CellHabits = {}, exact = false): boolean {
  const note = places.find(({field}) => field.heading === "note");
  if (!note || (cells[note.index] ?? "").trim() !== exampleNote) return false;
  const orders = habits.dates ? [habits.dates] : (["day-first", "month-first"] as const);
  return orders.some((dates) => {
    const reader = new CellReader([{row: 0, cells: [...cells]}], places, {...habits, dates}, exact);
    return places.every((place) => {
      const read = reader.read(place, cells[place.index] ?? "");
      const example = exampleOf(place.field);
      if (example === "") return "blank" in read;
      return "value" in read && read.value === (isNumeric(place.field) ? Number(example) : example);
    });
  });
}

const intro = [
  "The first row of each table has the headings; each row below is one thing bought, measured, ordered or done. Columns that must be filled say so; the others may be blank or taken out. A blank is “not known”, never zero. Columns of your own are left alone. Amounts of money are in the currency of workshop.json.",
  `The row noted “${exampleNote}” shows what a row looks like. As long as it stands as it was made it is never counted.`
];

function titleOf(file: FileName, name: string): string {
  const {rowIs, required} = files[file];
  return `${name}: one row is ${rowIs}${required ? "" : " (this table may be missing)"}`;
}

/** What every column of a new book is, as a text of lines no longer than 100 characters, ended by CR LF, with a byte order mark. */
export function aboutText(): string {
  const docs = columnDocs();
  const cut = Math.max(...docs.map(({heading}) => heading.length)) + 2;
  const front = (heading: string, unit: string, filled: string) =>
    `  ${heading.padEnd(cut)}${unit.padEnd(8)}${filled.padEnd(9)}`;
  const tables = fileNames.flatMap((file) => [
    "",
    titleOf(file, file),
    "",
    `${front("column", "unit", "filled")}what it is`,
    ...docs
      .filter((doc) => doc.file === file)
      .flatMap(({heading, unit = "", required, description, example}) =>
        wrapped(`${description}. Example: ${example}`, front(heading, unit, required ? "must be" : ""))
      )
  ]);
  const lines = ["About this book", ...intro.flatMap((text) => ["", ...wrapped(text)]), ...tables];
  return `\ufeff${lines.map((line) => `${line.trimEnd()}\r\n`).join("")}`;
}

/** The same as the rows of a sheet. */
export function aboutRows(): string[][] {
  const docs = columnDocs();
  const heads = ["column", "unit", "filled", "what it is", "example"];
  const tables = fileNames.flatMap((file) => [
    [],
    [titleOf(file, recordName(file))],
    heads,
    ...docs
      .filter((doc) => doc.file === file)
      .map(({heading, unit = "", required, description, example}) => [
        heading,
        unit,
        required ? "must be" : "",
        description,
        example
      ])
  ]);
  return [["About this book"], ...intro.flatMap((text) => wrapped(text).map((line) => [line])), ...tables];
}

/** What is taken from the JSON schema of the settings. */
interface Setting {
  description?: string;
  default?: unknown;
  enum?: string[];
  properties?: Record<string, Setting>;
  items?: Setting;
  additionalProperties?: Setting | false;
  propertyNames?: Setting;
}

/** The text of a new `workshop.json`: every setting with its default, under a remark that says what it is. */
export function emptySettings(): string {
  const schema = z.toJSONSchema(Settings) as Setting;
  const remarks = wrapped(
    "The settings of the workshop. Each stands here with its default, which also counts where it is taken out. Lines that begin with // are remarks.",
    "// ",
    "// "
  );
  return `${[...remarks, ...settingLines(schema, Settings.parse({}), "")].join("\n")}\n`;
}

/** The default of a setting as lines of JSON: its parts each under its remark, entries of a list or of names one a line. */
function settingLines({properties}: Setting, value: unknown, indent: string): string[] {
  const inside = `${indent}  `;
  if (properties) {
    const defaults = value as Record<string, unknown>;
    const parts = Object.entries(properties).filter(([key]) => defaults[key] !== undefined);
    const lines = parts.map(([key, part]) => {
      const [first, ...rest] = settingLines(part, defaults[key], inside);
      return [...remarkLines(part, `${inside}// `), `${inside}${JSON.stringify(key)}: ${first}`, ...rest];
    });
    return ["{", ...joined(lines, indent === "" ? [""] : []), `${indent}}`];
  }
  if (typeof value !== "object" || value === null) return [JSON.stringify(value)];
  const isList = Array.isArray(value);
  const entries = Object.entries(value).map(([key, part]) => [
    `${inside}${isList ? "" : `${JSON.stringify(key)}: `}${oneLine(part)}`
  ]);
  const [open, close] = isList ? ["[", "]"] : ["{", "}"];
  return entries.length === 0 ? [open + close] : [open, ...joined(entries, []), indent + close];
}

/** Blocks of lines with a comma behind each but the last, and what stands between two. */
function joined(blocks: readonly string[][], between: readonly string[]): string[] {
  return blocks.flatMap((lines, index) =>
    index === blocks.length - 1 ? lines : [...lines.slice(0, -1), `${lines.at(-1)},`, ...between]
  );
}

function oneLine(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(oneLine).join(", ")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const parts = Object.entries(value).map(([key, part]) => `${JSON.stringify(key)}: ${oneLine(part)}`);
  return `{${parts.join(", ")}}`;
}

/** The remark above a setting; for a list, or for what the owner names, also what each of its entries has. */
function remarkLines(setting: Setting, prefix: string): string[] {
  const {items, additionalProperties, propertyNames} = setting;
  const entry = items ?? (additionalProperties || undefined);
  const said = saidOf({...setting, properties: {}});
  if (!entry?.properties) return said === "" ? [] : wrapped(said, prefix, prefix);
  const each = items ? "Each has" : propertyNames?.enum ? `For ${listed(propertyNames.enum)}` : "By its name, each has";
  const parts = Object.entries(entry.properties).flatMap(([key, part]) => {
    const what = [saidOf(part), typeof part.default === "number" ? `${part.default} by default` : ""]
      .filter(Boolean)
      .join("; ");
    return wrapped(what === "" ? key : `${key}: ${what}`, `${prefix}  `, `${prefix}    `);
  });
  return [...wrapped(`${said}. ${each}:`, prefix, prefix), ...parts];
}

/** What a setting is, which words it takes, and what it has within. */
function saidOf({description, enum: words, properties = {}}: Setting): string {
  const parts = Object.entries(properties).map(([key, {description: part}]) => (part ? `${key} (${part})` : key));
  return [
    description,
    words && `one of ${words.map((word) => JSON.stringify(word)).join(", ")}`,
    parts.length > 0 && `with ${parts.join(" and ")}`
  ]
    .filter(Boolean)
    .join("; ");
}

function listed(words: readonly string[]): string {
  return `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
}

/** A text as lines no longer than 100 characters. */
function wrapped(text: string, first = "", rest = " ".repeat(first.length)): string[] {
  const lines: string[] = [];
  let line = first;
  let isNew = true;
  for (const word of text.split(" ")) {
    if (!isNew && line.length + 1 + word.length > width) {
      lines.push(line);
      line = rest;
      isNew = true;
    }
    line += isNew ? word : ` ${word}`;
    isNew = false;
  }
  return [...lines, line];
}
