import {readFileSync, statSync} from "node:fs";
import {join, resolve} from "node:path";
import {Option} from "commander";
import {command, exitCodes, type Options, relative, say, tell} from "./command.ts";
import {notebookList} from "./io/notebookList.ts";
import type {BookAsOf} from "./io/readBook.ts";
import {liesIn, realPlace} from "./io/realPlace.ts";
import {writeReport} from "./io/writeReport.ts";
import type {Served} from "./live/liveServer.ts";
import {openPage} from "./live/openPage.ts";
import type {Report} from "./pages/compose.ts";
import {type ReportName, reportNames} from "./pages/reportNames.ts";
import {PagesThread} from "./pagesThread.ts";
import {writeReports, writtenFiles} from "./writeReports.ts";

interface ReportOptions extends Options {
  open?: boolean;
  watch?: boolean;
}

/** The files of the last run, by their path in the folder of the reports: what may be served. */
let files: readonly string[] = [];

/** Whether the pages are those of an earlier book, as this one cannot be used. */
let isStale = false;

/** Kept while a book is watched: what it has loaded and compiled serves the next time too. */
let thread: PagesThread | undefined;

void command<ReportOptions>(
  {
    name: "report",
    description: "All reports, with an index page.",
    more: [
      new Option("--open", "open the index page in the browser"),
      new Option(
        "--watch",
        "go on: serve the pages on this machine and make them anew when a file of the book is saved"
      ).conflicts("json")
    ],
    around
  },
  async (read, options) => {
    const folder = resolve(options.out);
    const reports = await allReports(read, options);
    if (options.json) return;
    const notebooks = notebookList(folder);
    const {indexPage} = await import("./pages/index.ts");
    const {draw} = await import("./draw.ts");
    const path = writeReport(folder, "index.html", indexPage(read, reports, notebooks, draw));
    files = [
      "index.html",
      ...writtenFiles(reports),
      ...notebooks.filter(({made}) => made).map(({name}) => `notebooks/${name}.html`)
    ];
    tell(relative(path));
  }
);

async function allReports(read: BookAsOf, options: ReportOptions): Promise<Report[]> {
  if (!options.json && PagesThread.pays(read, {isWatched: options.watch === true})) thread ??= new PagesThread();
  try {
    return await writeReports(Object.keys(reportNames) as ReportName[], read, options, thread);
  } catch (error) {
    // It may be at work still, or over: the next time has a new one.
    thread?.end();
    thread = undefined;
    throw error;
  }
}

async function around({open, watch, out, book}: ReportOptions, make: () => Promise<number>): Promise<number> {
  const folder = resolve(out);
  if (!watch) {
    const code = await make();
    thread?.end();
    if (open && files.length > 0) await openPage(join(folder, "index.html"));
    return code;
  }
  for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.once(signal, () => process.exit(0));
  const {liveServer} = await import("./live/liveServer.ts");
  const {whenSaved} = await import("./live/whenSaved.ts");
  const server = await liveServer((path) => served(folder, path));
  try {
    await whenSaved({book: resolve(book), except: folder}, async () => {
      const [before, wasStale] = [files, isStale];
      isStale = (await make()) === exitCodes.bookUnusable;
      if (files !== before || isStale !== wasStale)
        server.tell(files.filter((file) => file.endsWith(".html")).map(encodeURI));
    });
  } catch (error) {
    server.close();
    throw error;
  }
  tell(`${server.address}index.html`);
  say("Made anew when a file of the book is saved. Ctrl-C ends it.");
  if (open) await openPage(`${server.address}index.html`);
  return exitCodes.done;
}

const types = {
  csv: "text/csv; charset=utf-8",
  json: "application/json; charset=utf-8",
  xlsx: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
} as const;

/** A file of the last run as it lies in the folder, unless a link leads out of it; before the first sound book a page that waits for it. */
function served(folder: string, path: string): Served | undefined {
  if (path === "index.html" && files.length === 0) return {page: waiting};
  const file = files.find((one) => encodeURI(one) === path);
  if (file === undefined) return undefined;
  const place = realPlace(join(folder, file));
  if (!liesIn(place, realPlace(folder)) || !statSync(place, {throwIfNoEntry: false})?.isFile()) return undefined;
  const ending = file.slice(file.lastIndexOf(".") + 1);
  if (ending === "html") {
    const page = readFileSync(place, "utf8");
    return {page: isStale ? page.replace(/<main\b[^>]*>/, (main) => `${main}\n${staleNotice}`) : page};
  }
  return {type: types[ending as keyof typeof types], bytes: readFileSync(place)};
}

const staleNotice =
  '<p role="alert"><strong>The book cannot be used as it is: the terminal says what to mend. This page is of the book as it was before.</strong></p>';

const waiting = `<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><title>Not made yet</title></head>
<body><p>The book cannot be used yet: the terminal says what to mend. This page reloads itself when the reports are made.</p>
</body></html>
`;
