import {mkdirSync, readdirSync, writeFileSync} from "node:fs";
import {basename, join, resolve} from "node:path";
import {Command} from "commander";
import {bookSchema, dataPackage, settingsSchema} from "../lib/book/schemas.ts";
import {sampleBook} from "./sample/book.ts";

const command = new Command("sample-book")
  .description("Writes the sample book: five years of an invented workshop, the same bytes every time.")
  .option("--out <dir>", "folder to write into: new, empty, or named sample-data", "sample-data")
  .exitOverride();

try {
  command.parse();
  write(resolve(command.opts<{out: string}>().out));
} catch (error) {
  const {exitCode, message} = error as {exitCode?: number; message: string};
  if (exitCode === undefined) console.error(`sample-book: ${message}`);
  process.exitCode = exitCode === undefined ? 1 : exitCode === 0 ? 0 : 2;
}

/** Writes all files, unless the folder holds what may be somebody's own book. */
function write(folder: string): void {
  mkdirSync(folder, {recursive: true});
  const others = readdirSync(folder).filter((name) => !name.startsWith("."));
  if (basename(folder) !== "sample-data" && others.length > 0) {
    console.error(`sample-book: --out must be a new or empty folder, or sample-data; ${folder} holds ${others[0]}.`);
    process.exitCode = 2;
    return;
  }
  for (const [name, text] of [...sampleBook(), ...descriptions()]) {
    writeFileSync(join(folder, name), text);
    console.log(`${join(folder, name)}  ${Buffer.byteLength(text)} bytes`);
  }
}

/** What the book is, in open standards, for other programs and for editors. */
function descriptions(): [name: string, text: string][] {
  const about = dataPackage({
    name: "sample-book",
    title: "The sample book",
    description:
      "Five years of an invented cue maker's workshop: purchases of squares, the squares, what happened to them, orders, the air of the store. Amounts of money are in the currency of workshop.json.\n\nA few faults were put in on purpose; README.md lists them.",
    licenses: [{name: "MIT", title: "MIT License"}],
    contributors: [{title: "The square-to-shaft contributors", roles: ["creator"]}]
  });
  const json = (value: unknown) => `${JSON.stringify(value, undefined, 2)}\n`;
  return [
    ["datapackage.json", json(about)],
    ["book.schema.json", json(bookSchema())],
    ["workshop.schema.json", json(settingsSchema())]
  ];
}
