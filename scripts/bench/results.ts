import {createHash} from "node:crypto";
import {Command} from "commander";
import {bookAsOf, readBook} from "../io/readBook.ts";
import {allResults} from "./allResults.ts";

const program = new Command("results")
  .description("From a book to every row of result, nothing drawn; prints a digest of the rows.")
  .argument("<book>", "the book's folder")
  .option("--each", "the seconds of each step, as it ends")
  .parse();
const {each} = program.opts<{each?: boolean}>();

const ask = <T>(step: string, answer: () => T): T => {
  const start = performance.now();
  const result = answer();
  if (each) console.log(`${((performance.now() - start) / 1000).toFixed(3).padStart(9)} s  ${step}`);
  return result;
};
const read = ask("readBook", () => readBook(program.args[0]!));
const {book} = read;
if (!book) program.error("error: the book cannot be used as it is.", {exitCode: 3});
else {
  const now = ask("histories", () => bookAsOf({...read, book}));
  const results = allResults(now, ask);
  const text = ask("digest", () => JSON.stringify([now.problems, results]));
  const events = book.events.length;
  const sha256 = createHash("sha256").update(text).digest("hex");
  console.log(JSON.stringify({events, faults: now.problems.length, questions: Object.keys(results).length, sha256}));
}
