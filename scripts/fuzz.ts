import {fork} from "node:child_process";
import {join} from "node:path";
import {fileURLToPath} from "node:url";
import {Command, InvalidArgumentError} from "commander";
import {exitCodes} from "./command.ts";
import {fuzzBook} from "./fuzz/fuzzBook.ts";
import {fuzzRun, runStream} from "./fuzz/fuzzRun.ts";
import {mutated} from "./fuzz/mutate.ts";
import {writeReport} from "./io/writeReport.ts";

// Reads a small book changed at random, again and again, and says where intake breaks a promise. A run that does not end cannot
// stop itself, so the runs are made in a process of their own, which this one watches.

/** A run that takes longer is as good as hung. */
const longestSeconds = 60;

/** Before each run its process says which it is; after the last, what it all came to. */
type Message = {run: number} | {broken: string[]; run: number} | {done: Summary};

interface Summary {
  books: number;
  refusedRows: number;
  slowestRun: number;
  slowestSeconds: number;
}

interface Options {
  runs: number;
  seed: number;
  first: number;
  out: string;
}

const count = (text: string) => {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 0 || number > 1e9)
    throw new InvalidArgumentError("Give a whole number, 0 to 1000000000.");
  return number;
};
const options = new Command("fuzz")
  .description("Change a small book at random and read it: nothing may be thrown, hang or be lost")
  .option("--runs <number>", "how many", count, 100_000)
  .option("--seed <number>", "starts the random numbers", count, 20)
  .option("--first <number>", "the number of the first run; with --runs 1 it repeats that one alone", count, 1)
  .option("--out <folder>", "where the files of a run that breaks a promise are written", "reports/fuzz")
  .exitOverride(({exitCode}) => process.exit(exitCode === 0 ? exitCodes.done : exitCodes.usage))
  .parse()
  .opts<Options>();

if (process.env.FUZZ_PART === "runs") await work(options);
else watch(options);

/** Makes the runs and tells of them. */
async function work({runs, seed, first}: Options): Promise<void> {
  const tell = (message: Message) => new Promise((told) => process.send!(message, told));
  const book = fuzzBook();
  const summary: Summary = {books: 0, refusedRows: 0, slowestRun: first, slowestSeconds: 0};
  for (let run = first; run < first + runs; run++) {
    await tell({run});
    const {broken, seconds, hasBook, refusedRows} = fuzzRun(book, seed, run);
    if (hasBook) summary.books++;
    summary.refusedRows += refusedRows;
    if (seconds > summary.slowestSeconds) Object.assign(summary, {slowestRun: run, slowestSeconds: seconds});
    if (broken.length > 0) await tell({run, broken});
  }
  await tell({done: summary});
  process.disconnect();
}

/** Starts the runs, tells how far they are, and ends one that hangs. */
function watch({runs, seed, first, out}: Options): void {
  let now = first;
  let failures = 0;
  let since = Date.now();
  let summary: Summary | undefined;
  const child = fork(fileURLToPath(import.meta.url), process.argv.slice(2), {
    env: {...process.env, FUZZ_PART: "runs"}
  });
  const fail = (run: number, broken: readonly string[]) => {
    failures++;
    const folder = join(out, `seed-${seed}-run-${run}`);
    for (const [name, bytes] of Object.entries(mutated(fuzzBook(), runStream(seed, run))))
      writeReport(folder, name, bytes);
    process.stdout.write(
      `Run ${run} of seed ${seed} breaks a promise; its files are in ${folder}:\n${broken.map((line) => `  ${line}\n`).join("")}`
    );
  };
  child.on("message", (message: Message) => {
    if ("done" in message) summary = message.done;
    else if ("broken" in message) fail(message.run, message.broken);
    else [now, since] = [message.run, Date.now()];
  });
  const progress = setInterval(
    () => process.stderr.write(`${now - first} of ${runs} runs, ${failures} broke a promise\n`),
    5000
  );
  const hanging = setInterval(() => {
    if (Date.now() - since < longestSeconds * 1000) return;
    fail(now, [`not done after ${longestSeconds} seconds`]);
    child.kill("SIGKILL");
  }, 1000);
  child.on("exit", (code) => {
    clearInterval(progress);
    clearInterval(hanging);
    if (summary) {
      const {books, refusedRows, slowestRun, slowestSeconds} = summary;
      process.stdout.write(
        `${runs} runs of seed ${seed}: ${failures} broke a promise. ${books} had a book, in which ${refusedRows} rows were refused; the slowest was run ${slowestRun}, ${slowestSeconds.toFixed(1)} s.\n`
      );
    } else
      process.stdout.write(
        `Stopped in run ${now} of seed ${seed} (exit code ${code}). Repeat it with --first ${now} --runs 1 --seed ${seed}.\n`
      );
    process.exitCode = summary && failures === 0 ? exitCodes.done : exitCodes.ourFault;
  });
}
