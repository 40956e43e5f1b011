import {statSync} from "node:fs";
import {join} from "node:path";
import {Command, InvalidArgumentError} from "commander";
import {writeLargeBook} from "./largeBook.ts";

const {events, out} = new Command("make-book")
  .description(
    "Writes a book of about so many events: the sample book's story at many benches, the same bytes every time."
  )
  .requiredOption("--events <number>", "about so many events, from 10000 to 5000000", eventsAsked)
  .requiredOption("--out <dir>", "folder to write into; files of the same names are written over")
  .parse()
  .opts<{events: number; out: string}>();

const start = performance.now();
const {rows, faults} = writeLargeBook(out, events);
for (const [file, count] of Object.entries(rows))
  console.log(`${join(out, file)}  ${count} rows, ${statSync(join(out, file)).size} bytes`);
console.log(`${faults.length} faults put in; ${((performance.now() - start) / 1000).toFixed(1)} s`);

function eventsAsked(text: string): number {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 10_000 || number > 5_000_000)
    throw new InvalidArgumentError("It must be a whole number from 10000 to 5000000.");
  return number;
}
