import {resolve} from "node:path";
import {Option} from "commander";
import {type BookCounts, countRows} from "../lib/book/bookCounts.ts";
import {filesCounted} from "../lib/book/rowAccount.ts";
import {tableData} from "../lib/report/tableData.ts";
import {commandOf, exitCodes, type Options, relative, say, tell} from "./command.ts";
import {counted} from "./faultLines.ts";
import {CountsUnusable, readCounts, writeCounts} from "./io/countsFolder.ts";
import {type CountsAsOf, countsAsOf} from "./io/readBookCounts.ts";
import {writeSoundTables} from "./io/soundTables.ts";
import {writeReport, written} from "./io/writeReport.ts";
import {version} from "./version.ts";

interface CountsOptions extends Options {
  from?: string[];
  soundRows?: boolean;
}

/** Of more counts than this the page takes longer than two seconds. */
const manyCounts = 20_000;

void commandOf<CountsOptions, CountsAsOf>(
  {
    name: "counts",
    description:
      "What a book comes to, counted: the counts as files, and a page made from them alone. With --from, one page of counts of one workshop or of several.",
    examples: ["--book my-book", "--from north/counts south/counts --out both", "--book my-book --sound-rows"],
    more: [
      new Option(
        "--from <folders...>",
        "no book: counts written before; of several folders, one page for all"
      ).conflicts(["book", "asOf", "soundRows"]),
      new Option("--sound-rows", "also the book's sound rows, as tables for an SQL engine")
    ],
    around: async (options, make) => {
      if (options.from === undefined) return make();
      const read = reading(options.from);
      if (!read) return exitCodes.bookUnusable;
      const {counts, workshops} = read;
      say(`Read the counts of ${counted(workshops.length, "workshop")}: ${counted(counts.lots.length, "lot")}.`);
      await writePage(counts, workshops, options);
      return exitCodes.done;
    }
  },
  // Tables of sound rows want every row as a record.
  {asColumns: ({soundRows}) => !soundRows, asOf: countsAsOf},
  async ({book, accounts, entered, counts: made}, options) => {
    const files = filesCounted(accounts, ["lots.csv", "squares.csv", "events.csv", "orders.csv"]);
    const counts = {...countRows(made), books: [{entered, files}]};
    const paths = writeCounts(resolve(options.out, "counts"), counts);
    if (options.soundRows) paths.push(...writeSoundTables(resolve(options.out, "sound-rows"), book));
    if (!options.json) for (const path of paths) tell(relative(path));
    if (counts.spells.length > manyCounts) say("Working out what they come to, which may take a minute.");
    await written();
    await writePage(counts, [], options);
  }
);

/** The counts of the folders; none where they cannot be used, which is told. */
function reading(folders: readonly string[]) {
  try {
    return readCounts(folders);
  } catch (error) {
    if (!(error instanceof CountsUnusable)) throw error;
    say(error.message);
    return undefined;
  }
}

async function writePage(counts: BookCounts, workshops: readonly string[], {out, json}: Options): Promise<void> {
  const {countsReport} = await import("./pages/counts.ts");
  // Numbers alone want no drawings.
  const draw = json ? undefined : (await import("./draw.ts")).draw;
  const {html, title, lead, tables} = countsReport(counts, workshops, draw);
  const {currency} = counts.settings.money;
  const data = {
    title,
    version,
    lead,
    tables: Object.fromEntries(tables.map((one) => [one.id, tableData(one, {currency})]))
  };
  if (json) tell(JSON.stringify(data, undefined, 1));
  else tell(relative(writeReport(resolve(out), "counts.html", html)));
}
