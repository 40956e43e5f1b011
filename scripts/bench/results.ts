import {createHash} from "node:crypto";
import {Command} from "commander";
import {readBookCounts} from "../io/readBookCounts.ts";
import {allResults} from "../results/allResults.ts";

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
const {counts, problems} = ask("counts", () => readBookCounts(program.args[0]!));
if (!counts) program.error("error: the book cannot be used as it is.", {exitCode: 3});
else {
  const results = ask("results", () => allResults(counts));
  const text = ask("digest", () => JSON.stringify([problems, {...results, season: results.season.plan}]));
  const sha256 = createHash("sha256").update(text).digest("hex");
  console.log(JSON.stringify({asOf: counts.asOf, faults: problems.length, sha256}));
}
