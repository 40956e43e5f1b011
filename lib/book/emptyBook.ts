import Papa from "papaparse";
import {columnDocs} from "./columnDocs.ts";
import {exampleNote, exampleOf} from "./example.ts";
import {type Field, fields, isNumeric} from "./field.ts";
import {type FileName, files, ownFileNames, recordName} from "./records.ts";

/** The text file of a new book that explains its columns. */
export const aboutFile = "about-this-book.txt";

/** A cell of a new book: a day as a day and a number as a number, for whoever tells them from text. */
export type NewCell = string | number | {date: string};

const width = 100;

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
  const tables = ownFileNames.flatMap((file) => [
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
  const tables = ownFileNames.flatMap((file) => [
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

/**
 * A text as lines no longer than 100 characters, broken at blanks; a longer word stands alone on its line.
 *
 * @param first what the first line begins with
 * @param rest what the others begin with, as many blanks if it is not given
 */
export function wrapped(text: string, first = "", rest = " ".repeat(first.length)): string[] {
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
