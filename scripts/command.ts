import {resolve, sep} from "node:path";
import {Command, CommanderError, Option} from "commander";
import {type Day, isDay} from "../lib/book/day.ts";
import type {Book} from "../lib/book/parseBook.ts";
import type {Problem} from "../lib/book/problem.ts";
import type {FileName} from "../lib/book/records.ts";
import type {RowAccount} from "../lib/book/rowAccount.ts";
import {counted, faultLines} from "./faultLines.ts";
import {type BookAsOf, type BookRead, bookAsOf, readBook, today} from "./io/readBook.ts";
import {realPlace} from "./io/realPlace.ts";
import {writeRefused} from "./io/writeRefused.ts";
import {removeReport, UserError, writeReport} from "./io/writeReport.ts";
import {silence} from "./pages/missing.ts";

/** How a command ends: 0 done; 1 a fault of ours; 2 wrong usage; 3 the book cannot be used; 4 `--strict` and rows were refused. */
export const exitCodes = {done: 0, ourFault: 1, usage: 2, bookUnusable: 3, rowsRefused: 4} as const;

/** What stands in the way of a book, written where its reports would be, until it is sound. */
const faultsFile = "faults.txt";

/** The options that every command takes. */
export interface Options {
  book: string;
  asOf?: string;
  out: string;
  json?: boolean;
  strict?: boolean;
}

/** One plain line of progress or fault, on stderr. */
export const say = (line: string) => process.stderr.write(`${line}\n`);

/** One line of result, on stdout. */
export const tell = (line: string) => process.stdout.write(`${line}\n`);

/** A reader that has seen enough (`… | head`) closes stdout: no fault, the files are still to be written. */
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
});

/** A book made ready for the work of a command. */
interface Ready {
  asOf: Day;
  entered: Day;
  accounts: readonly RowAccount[];
  problems: readonly Problem[];
}

/** How a command has its book made ready, if not all of it replayed. */
export interface Making<O extends Options, R extends Ready> {
  /** Whether the book's squares and events may stay columns. */
  asColumns: (options: O) => boolean;
  asOf: (read: BookRead & {book: Book}, day?: Day) => R;
}

/** What sets one command apart from another. */
export interface CommandKind<O extends Options> {
  name: string;
  description: string;
  /** What to type behind it, for --help, if it needs more than the options of every command. */
  examples?: readonly string[];
  /** Whether it writes files; else the rows set aside are only told. */
  writes?: boolean;
  /** What is done, instead of the work, with a book that cannot be used; gives the exit code. */
  unusable?: (read: BookRead, options: O) => number;
  /** Options beyond those of every command. */
  more?: readonly Option[];
  /** What is done around the work, if it is not just to be done once: `make` reads the book, does the work, and gives the exit code. */
  around?: (options: O, make: () => Promise<number>) => Promise<number>;
}

/**
 * Runs a command: options parsed, book read and checked, faults told, the work done on the sound rows, and the exit code set.
 *
 * @param work what to do with the book; imports what is heavy (drawing) itself, so that `--help` stays quick
 */
export function command<O extends Options = Options>(
  kind: CommandKind<O>,
  work: (read: BookAsOf, options: O) => Promise<void> | void
): Promise<void> {
  return commandOf(kind, {asColumns: () => false, asOf: bookAsOf}, work);
}

/** `command` with a book made ready in another way. */
export async function commandOf<O extends Options, R extends Ready>(
  {name, description, examples = usual, writes = true, unusable = tellUnusable, more = [], around}: CommandKind<O>,
  making: Making<O, R>,
  work: (read: R, options: O) => Promise<void> | void
): Promise<void> {
  try {
    const options = parse<O>({name, description, examples, more});
    const make = () => run(options, making, work, {writes, unusable});
    process.exitCode = await (around ? around(options, make) : make());
  } catch (error) {
    process.exitCode = ending(error, name);
  }
}

const usual = ["--book my-book", "--as-of 2026-06-30 --out june"];

function parse<O extends Options>({
  name,
  description,
  examples,
  more
}: Required<Pick<CommandKind<O>, "name" | "description" | "examples" | "more">>): O {
  const program = new Command(name)
    .description(description)
    .addOption(
      new Option("--book <folder>", "the book: a folder of CSV files or workbooks, or one workbook").default(
        "sample-data"
      )
    )
    .addOption(
      new Option("--as-of <date>", "the day to speak for, like 2026-10-31 (default: the last date in the book)")
    )
    .addOption(new Option("--out <folder>", "where to write").default("reports"))
    .option("--json", "print the results as JSON on stdout; reports make no pages then")
    .option("--strict", "end with code 4 when a row was refused");
  for (const option of more) program.addOption(option);
  program
    .allowExcessArguments(false)
    .exitOverride()
    .addHelpText("after", `\nExamples:\n${examples.map((one) => `  npx tsx scripts/${name}.ts ${one}`).join("\n")}`);
  refuseEaten(program);
  program.parse();
  const options = program.opts<O>();
  if (options.asOf !== undefined && !isDay(options.asOf)) {
    program.error(`error: --as-of must be a calendar day like 2026-10-31, got “${options.asOf}”.`, {
      exitCode: exitCodes.usage
    });
  }
  return options;
}

/** npm takes options that stand before "--" for its own and hands on their values at most: the sample book would be taken for the one asked for. */
export function refuseEaten(program: Command): void {
  const {env} = process;
  const eaten = program.options.flatMap(({long}) =>
    // --json is npm's own too, and may be set for all it does.
    long && long !== "--json" && env[`npm_config_${long.slice(2).replaceAll("-", "_")}`] !== undefined ? long : []
  );
  if (eaten.length === 0) return;
  const [what, it] = eaten.length === 1 ? ["an option", "it"] : ["options", "them"];
  program.error(
    `error: ${eaten.join(" and ")} must be ${what} behind --, or npm keeps ${it} to itself: npm run ${program.name()} -- ${eaten[0]} …`,
    {exitCode: exitCodes.usage}
  );
}

async function run<O extends Options, R extends Ready>(
  options: O,
  {asColumns, asOf}: Making<O, R>,
  work: (read: R, options: O) => Promise<void> | void,
  {writes, unusable}: Required<Pick<CommandKind<O>, "writes" | "unusable">>
): Promise<number> {
  const lastAllowed = options.asOf === undefined ? today() : undefined;
  const read = readBook(resolve(options.book), lastAllowed, {asColumns: asColumns(options)});
  const {book} = read;
  if (writes) outsideTheBook(resolve(options.out), read.folder);
  if (!book) return unusable(read, options);
  const ready = asOf({...read, book}, options.asOf);
  const firstDay = book.lots.map(({boughtOn}) => boughtOn).sort()[0]!;
  if (firstDay > ready.asOf) {
    say(
      `--as-of must be on or after the first purchase, got “${ready.asOf}”; the first lot was bought on ${firstDay}.`
    );
    return exitCodes.usage;
  }
  const refused = new Set(
    ready.problems.filter(({severity}) => severity === "refused").map(({file, row}) => `${file} ${row}`)
  ).size;
  const used = (name: FileName) => ready.accounts.find((one) => one.name === name)?.used ?? 0;
  say(
    `Read ${options.book}: ${counted(used("lots.csv"), "lot")}, ${counted(used("squares.csv"), "square")}, ${counted(used("events.csv"), "event")}, ${counted(used("orders.csv"), "order")}; ${counted(refused, "row")} set aside; as of ${ready.asOf}.`
  );
  for (const sentence of silence([ready], ready.asOf)) say(sentence);
  await work(ready, options);
  if (writes) removeReport(resolve(options.out), faultsFile);
  const paths = writes ? writeRefused(resolve(options.out), ready.problems, book.sources, say) : [];
  if (paths.length > 0) say(`Wrote the rows set aside to ${paths.map(relative).join(", ")}.`);
  return options.strict && refused > 0 ? exitCodes.rowsRefused : exitCodes.done;
}

/** Tells what stands in the way, and writes it and the rows set aside beside where the reports would be. */
function tellUnusable(read: BookRead, options: Options): number {
  const {lines} = faultLines(read.problems);
  for (const line of lines) say(line);
  const blocking = read.problems.filter(({severity}) => severity === "blocking").length;
  say(
    `The book in ${options.book} cannot be used as it is: mend what is called blocking first (${counted(blocking, "fault")}).`
  );
  if (options.json) tell(JSON.stringify({problems: read.problems}, undefined, 1));
  writeReport(resolve(options.out), faultsFile, `${lines.join("\n")}\n`);
  writeRefused(resolve(options.out), read.problems, read.sources, say);
  return exitCodes.bookUnusable;
}

/** A path as the user would type it from here. */
export function relative(path: string): string {
  return path.startsWith(process.cwd() + sep) ? path.slice(process.cwd().length + 1) : path;
}

/** The book is never written to, be its folder named through a link or in other capitals. */
function outsideTheBook(out: string, folder: string): void {
  if (realPlace(out) !== realPlace(folder)) return;
  throw new UserError(
    `--out must not be the book's own folder, got “${out}”: nothing is ever written there. Name another folder.`
  );
}

function ending(error: unknown, name: string): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? exitCodes.done : exitCodes.usage;
  if (error instanceof UserError) {
    say(error.message);
    return exitCodes.usage;
  }
  say(`${name} failed through a fault of its own, not of your book. Please report it with these lines:`);
  say(error instanceof Error ? (error.stack ?? error.message) : String(error));
  return exitCodes.ourFault;
}
