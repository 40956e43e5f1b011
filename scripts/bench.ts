import {mkdirSync, writeFileSync} from "node:fs";
import {cpus, release, totalmem, type} from "node:os";
import {Command, InvalidArgumentError} from "commander";
import type {Suite, SuiteResult} from "./bench/measure.ts";
import {counted} from "./faultLines.ts";

/** The suites by name, each loaded only when it is run. */
const suites: Record<string, () => Promise<Suite>> = {
  "at-the-bench": async () => (await import("./bench/atTheBench.ts")).atTheBench,
  steady: async () => (await import("./bench/steady.ts")).steady,
  kernels: async () => (await import("./bench/kernels.ts")).kernelSuite,
  engine: async () => (await import("./bench/engine.ts")).engine
};

const program = new Command("bench")
  .description("Measures speed side by side, as ratios of one run, and writes the results into bench/.")
  .argument("[suites...]", `which: ${Object.keys(suites).join(", ")} (default: all)`)
  .option("--rounds <number>", "how often each is run; the median counts", wholeNumber, 5)
  .parse();

const asked = program.args.length > 0 ? program.args : Object.keys(suites);
const unknown = asked.find((name) => !(name in suites));
if (unknown !== undefined)
  program.error(`error: a suite must be one of ${Object.keys(suites).join(", ")}, got “${unknown}”.`, {exitCode: 2});

const {rounds} = program.opts<{rounds: number}>();
const machine = `${cpus().length} × ${cpus()[0]?.model.trim() ?? "unknown processor"}, ${Math.round(totalmem() / 2 ** 30)} GiB, ${type()} ${release()}, Node.js ${process.version}`;
console.log(machine);
mkdirSync("bench", {recursive: true});
for (const name of asked) {
  const suite = await suites[name]!();
  console.log(`\n## ${suite.title} (${counted(rounds, "round")})\n`);
  const result = await suite.run(rounds);
  const text = table(result);
  console.log(text);
  writeFileSync(`bench/${name}.json`, `${JSON.stringify({machine, rounds, ...result}, undefined, 1)}\n`);
  writeFileSync(`bench/${name}.md`, `${machine}; ${counted(rounds, "round")}.\n\n${text}\n`);
}

/** Two tables in Markdown, and what is to be said with them. */
function table({cases, ratios, notes}: SuiteResult): string {
  const digits = (value: number) => (value < 0.1 ? value.toPrecision(2) : value.toFixed(2));
  return [
    "| measured | seconds (median) | least to most | peak MiB |",
    "|---|---:|---:|---:|",
    ...cases.map(
      ({name, seconds, medianSeconds, peakMiB}) =>
        `| ${name} | ${digits(medianSeconds)} | ${digits(Math.min(...seconds))} to ${digits(Math.max(...seconds))} | ${peakMiB === undefined ? "" : Math.round(peakMiB)} |`
    ),
    "",
    "| ratio | is | wanted at most |",
    "|---|---:|---:|",
    ...ratios.map(({what, ratio, goal}) => `| ${what} | ${digits(ratio)} | ${goal ?? ""} |`),
    ...(notes.length > 0 ? ["", ...notes.map((note) => `- ${note}`)] : [])
  ].join("\n");
}

function wholeNumber(text: string): number {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 1) throw new InvalidArgumentError("It must be a whole number from 1.");
  return number;
}
