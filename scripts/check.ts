import type {BookParsed} from "../lib/book/parseBook.ts";
import {type RowAccount, rowAccounts} from "../lib/book/rowAccount.ts";
import {groupBy} from "../lib/book/spells.ts";
import {commandOf, exitCodes, type Options, say, tell} from "./command.ts";
import {counted, faultLines} from "./faultLines.ts";
import {type CountsAsOf, countsAsOf} from "./io/readBookCounts.ts";
import {type LeftOut, leftOut} from "./leftOut.ts";
import {listed} from "./pages/listed.ts";

void commandOf<Options, CountsAsOf>(
  {
    name: "check",
    description: "Every fault of the book, and what each report would leave out; no report is made.",
    writes: false,
    unusable: (read, options) => {
      told(read, rowAccounts(read), options);
      say("No report can be made of this book as it is: mend what is called blocking first.");
      return exitCodes.bookUnusable;
    }
  },
  {asColumns: () => true, asOf: countsAsOf},
  ({accounts, ...read}, options) => told({...read, sources: read.book.sources}, accounts, options)
);

function told(read: BookParsed, rows: readonly RowAccount[], {json, book, asOf}: Options): void {
  const reports = leftOut(read, rows);
  if (json) {
    tell(JSON.stringify({problems: read.problems, rows, leftOut: reports}, undefined, 1));
    return;
  }
  const {lines, isWhole} = faultLines(read.problems);
  for (const line of lines) tell(line);
  if (read.problems.length === 0) tell("Nothing to mend: every row was read and used.");
  if (read.problems.some(({severity}) => severity === "refused" || severity === "blocking"))
    tell(
      "More may show when these are mended: of a row set aside, and of what hangs on it, nothing else is looked at."
    );
  if (!isWhole) {
    const asked = ["--book", JSON.stringify(book), ...(asOf === undefined ? [] : ["--as-of", asOf]), "--json"];
    tell("");
    tell(`All ${read.problems.length} faults one by one: npx tsx scripts/check.ts ${asked.join(" ")}`);
  }
  tell("");
  for (const {file, read: all, used, refused, notData} of rows) {
    tell(`${file}: ${counted(all, "row")} read = ${used} used + ${refused} set aside + ${notData} blank or no data`);
  }
  tell("");
  for (const {titles, lines} of byReports(reports)) {
    tell(`${titles.length === reports.length ? "Every report" : listed(titles)} would leave out:`);
    for (const line of lines) tell(`- ${line}`);
  }
  const whole = reports.filter(({lines}) => lines.length === 0).map(({title}) => title);
  if (whole.length > 0) tell(`${listed(whole)} would leave nothing out.`);
}

/** What would be left out, each thing once, under the reports that would leave it out. */
function byReports(reports: readonly LeftOut[]): {titles: string[]; lines: string[]}[] {
  const said = reports.flatMap(({title, lines}) => lines.map((line) => ({title, line})));
  const ofLine = [...groupBy(said, ({line}) => line)].map(([line, alike]) => ({
    line,
    titles: alike.map(({title}) => title)
  }));
  return [...groupBy(ofLine, ({titles}) => titles.join()).values()].map((alike) => ({
    titles: alike[0]!.titles,
    lines: alike.map(({line}) => line)
  }));
}
