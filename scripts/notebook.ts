import {existsSync, readdirSync} from "node:fs";
import {basename, join, resolve} from "node:path";
import {fileURLToPath} from "node:url";
import {Command, CommanderError, InvalidArgumentError, Option} from "commander";
import {isDay} from "../lib/book/day.ts";
import {exitCodes, refuseEaten, relative, say, tell} from "./command.ts";
import {bookFolder} from "./io/bookFiles.ts";
import {UserError, writeReport} from "./io/writeReport.ts";
import {faultText} from "./notebook/faultText.ts";
import {notebookPage} from "./notebook/page.ts";
import {runNotebook} from "./notebook/runNotebook.ts";
import {watch} from "./notebook/watch.ts";

interface Options {
  book: string;
  asOf?: string;
  out: string;
  timeout: number;
  watch?: boolean;
}

const folder = "notebooks";

const program = new Command("notebook")
  .description("Run notebooks and write each as a page: prose, code, and what each cell shows.")
  .argument("[notebooks...]", `names or paths (default: all of ${folder}/)`)
  .addOption(
    new Option("--book <folder>", "the book that notebooks open: a folder of CSV files").default("sample-data")
  )
  .addOption(
    new Option(
      "--as-of <date>",
      "the day to speak for, like 2026-10-31 (default: the last date in the book)"
    ).argParser(day)
  )
  .addOption(new Option("--out <folder>", `where to write; the pages go to its folder ${folder}`).default("reports"))
  .addOption(new Option("--timeout <seconds>", "how long a notebook may run").default(120).argParser(seconds))
  .option("--watch", "go on: serve the pages on this machine and make them anew when a file is saved")
  .exitOverride()
  .addHelpText(
    "after",
    "\nExamples:\n  npx tsx scripts/notebook.ts 01-monthly-yield-by-hand --book my-book\n  npx tsx scripts/notebook.ts --watch"
  );

try {
  refuseEaten(program);
  program.parse();
  process.exitCode = await notebooks(program.args, program.opts<Options>());
} catch (error) {
  if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? exitCodes.done : exitCodes.usage;
  else if (error instanceof UserError) {
    say(error.message);
    process.exitCode = exitCodes.usage;
  } else throw error;
}

/** Runs them one after the other. A notebook that fails does not keep the others from being run. Returns the exit code. */
async function notebooks(names: readonly string[], options: Options): Promise<number> {
  const book = resolve(options.book);
  bookFolder(book);
  const {asOf, timeout} = options;
  const make = async (path: string) => {
    const run = await runNotebook(path, {book, ...(asOf !== undefined && {asOf}), seconds: timeout});
    if (run.fault) {
      say(`${relative(path)}: ${faultText(run.fault, run.cells)}`);
      const source = run.lines[(run.fault.lines[0] ?? 0) - 1];
      if (source !== undefined) say(`  ${source.trim()}`);
    }
    tell(relative(writeReport(resolve(options.out), `notebooks/${run.name}.html`, notebookPage(run))));
    return run;
  };
  // An orderly end takes the running notebook along, even one in an endless loop.
  for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.once(signal, () => process.exit());
  const paths = () => found(names);
  if (options.watch) {
    const here = fileURLToPath(new URL("..", import.meta.url));
    const first = paths();
    const address = await watch({
      book,
      paths: [...(names.length > 0 ? first : [resolve(folder)]), join(here, "lib"), join(here, "scripts")],
      except: resolve(options.out),
      affected: (changed) => {
        const all = paths();
        const own = all.filter((path) => changed.has(path));
        return own.length > 0 && own.length === changed.size ? own : all;
      },
      make: async (path) => {
        const run = await make(path);
        return {name: run.name, page: notebookPage(run)};
      }
    });
    for (const path of first) tell(`${address}${basename(path, ".ts")}.html`);
    say("Made anew when a file is saved. Ctrl-C ends it.");
    return exitCodes.done;
  }
  let code: number = exitCodes.done;
  for (const path of paths()) {
    const {fault, bookFault} = await make(path);
    if (fault) code = bookFault ? exitCodes.bookUnusable : Math.max(code, exitCodes.ourFault);
  }
  return code;
}

/** The files of these notebooks; without a name all there are. */
function found(names: readonly string[]): string[] {
  const all = existsSync(folder)
    ? readdirSync(folder)
        .filter((name) => /^\d+-.*\.ts$/.test(name))
        .sort()
    : [];
  if (names.length === 0 && all.length === 0)
    throw new UserError(`There is no notebook in ${folder}/ yet. Make one: npm run new-notebook my-question`);
  const paths = (names.length > 0 ? names : all.map((name) => join(folder, name))).map((name) => {
    const path = [name, join(folder, name), join(folder, `${name}.ts`)].find(
      (one) => one.endsWith(".ts") && existsSync(one)
    );
    if (path === undefined)
      throw new UserError(
        `There is no notebook “${name}”. There are: ${all.map((one) => basename(one, ".ts")).join(", ")}.`
      );
    return resolve(path);
  });
  const twin = paths.find((path, i) => paths.findIndex((one) => basename(one) === basename(path)) < i);
  if (twin !== undefined)
    throw new UserError(
      `Two notebooks are called ${basename(twin)}, so one page would take the place of the other. Name one only.`
    );
  return paths;
}

function day(text: string): string {
  if (!isDay(text)) throw new InvalidArgumentError(`It must be a calendar day like 2026-10-31.`);
  return text;
}

function seconds(text: string): number {
  const number = Number(text);
  if (!(number > 0 && number < 1e6)) throw new InvalidArgumentError("It must be a number of seconds above 0.");
  return number;
}
