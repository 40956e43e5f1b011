import {fork} from "node:child_process";
import {readFileSync, realpathSync} from "node:fs";
import {createRequire} from "node:module";
import {basename, dirname, sep} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";
import {variables} from "./book.ts";
import {type Cell, cells, type Fault} from "./cells.ts";
import type {Message} from "./child.ts";
import {earlyErrorLines} from "./earlyErrorLines.ts";
import {instrument} from "./instrument.ts";

/** What a run is told: the folder of the book, the day, and how long it may take. */
export interface RunOptions {
  book: string;
  asOf?: string;
  seconds: number;
}

/** A notebook and all that its run showed. */
export interface NotebookRun {
  /** The file's name without its ending. */
  name: string;
  lines: string[];
  cells: Cell[];
  /** Pieces of page by number of the code cell. */
  shown: Map<number, string[]>;
  /** The book it opened, if it did. */
  opened?: Extract<Message, {kind: "opened"}>;
  fault?: Fault;
  /** The fault lies in the book. */
  bookFault: boolean;
}

const root = fileURLToPath(new URL("../..", import.meta.url));
const tsx = pathToFileURL(createRequire(import.meta.url).resolve("tsx")).href;

/**
 * Runs a notebook in a fresh process, which is ended when its time is over. Time zone and language are always the same there, so that they
 * leave no trace. Whatever goes wrong in the notebook is returned, not thrown.
 */
export async function runNotebook(path: string, options: RunOptions): Promise<NotebookRun> {
  const real = realpathSync(path);
  const notebook = cells(readFileSync(real, "utf8"));
  const made = instrument(notebook, basename(real));
  const run: NotebookRun = {
    name: basename(real, ".ts"),
    lines: notebook.source.text.split("\n"),
    cells: notebook.cells,
    shown: new Map(),
    bookFault: false
  };
  if (made.fault) return {...run, fault: made.fault};
  const url = pathToFileURL(real).href;
  await inChild({url, code: made.code}, options, run);
  if (run.fault) run.fault = located(run.fault, run.lines, real, options);
  if (run.fault?.lines.length === 0 && run.fault.message.startsWith("SyntaxError"))
    run.fault = {...run.fault, lines: earlyErrorLines(notebook.source.text)};
  return run;
}

function inChild(
  standin: {url: string; code: string},
  {book, asOf, seconds}: RunOptions,
  run: NotebookRun
): Promise<void> {
  let cell: number | undefined;
  let done = false;
  const child = fork(fileURLToPath(new URL("child.ts", import.meta.url)), [], {
    execArgv: ["--enable-source-maps", "--import", tsx],
    env: {
      ...process.env,
      TZ: "UTC",
      LANG: "en_GB.UTF-8",
      LC_ALL: "en_GB.UTF-8",
      [variables.book]: book,
      [variables.asOf]: asOf
    },
    stdio: ["ignore", 2, 2, "ipc"] // what it prints itself is no result: it goes where messages go
  });
  const fail = (message: string) => {
    run.fault ??= {message, lines: [], ...(cell !== undefined && {cell})};
  };
  const kill = () => child.kill("SIGKILL");
  process.once("exit", kill);
  const clock = setTimeout(() => {
    fail(`Stopped after ${seconds} s, as --timeout says: the cell was still running.`);
    kill();
  }, 1000 * seconds);
  child.on("message", (message: Message) => {
    if (message.kind === "cell") cell = message.number;
    if (message.kind === "shown") run.shown.set(message.cell, [...(run.shown.get(message.cell) ?? []), message.html]);
    if (message.kind === "opened") run.opened = message;
    if (message.kind === "fault") Object.assign(run, {fault: message.fault, bookFault: message.bookFault});
    if (message.kind === "done") done = true;
  });
  child.send(standin);
  return new Promise((ended) => {
    child.on("close", (code, signal) => {
      clearTimeout(clock);
      process.off("exit", kill);
      if (!done) fail(`Its process ended before the notebook did (${signal ?? `exit code ${code}`}).`);
      ended();
    });
  });
}

/** A fault whose words name no folder of this machine. An import that leads nowhere has no line in its stack: it is looked for in the text. */
function located({message, lines, ...fault}: Fault, text: readonly string[], path: string, {book}: RunOptions): Fault {
  const here = pathToFileURL(path);
  const failed = text.findIndex((line) => {
    const wanted = /(?:from|import)\s*\(?\s*["']([^"']+)["']/.exec(line)?.[1];
    if (wanted === undefined || !/Cannot find (module|package)/.test(message)) return false;
    return message.includes(`'${wanted.startsWith(".") ? fileURLToPath(new URL(wanted, here)) : wanted}'`);
  });
  const words = [root, dirname(path) + sep, book + sep]
    .flatMap((folder) => [pathToFileURL(folder).href, folder])
    .reduce((text, folder) => text.replaceAll(folder, ""), message);
  return {...fault, message: words, lines: lines.length === 0 && failed >= 0 ? [failed + 1] : lines};
}
