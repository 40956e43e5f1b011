import {rowAccounts} from "../lib/book/rowAccount.ts";
import {commandOf, exitCodes, type Options, say, tell} from "./command.ts";
import {counted, faultLines} from "./faultLines.ts";
import {type CountsAsOf, countsAsOf} from "./io/readBookCounts.ts";
import {leftOut} from "./leftOut.ts";

void commandOf<Options, CountsAsOf>(
  {
    name: "check",
    description: "Every fault of the book, and what each report would leave out; no report is made.",
    writes: false,
    unusable: (read, {json}) => {
      told(read, json);
      say("No report can be made of this book as it is: mend what is called blocking first.");
      return exitCodes.bookUnusable;
    }
  },
  {asColumns: () => true, asOf: countsAsOf},
  ({book, columns, problems}, {json}) => told({book, ...(columns && {columns}), problems, sources: book.sources}, json)
);

function told(read: Parameters<typeof leftOut>[0], json: boolean | undefined): void {
  const rows = rowAccounts(read);
  const reports = leftOut(read);
  if (json) {
    tell(JSON.stringify({problems: read.problems, rows, leftOut: reports}, undefined, 1));
    return;
  }
  for (const line of faultLines(read.problems)) tell(line);
  if (read.problems.length === 0) tell("Nothing to mend: every row was read and used.");
  tell("");
  for (const {file, read: all, used, refused, notData} of rows) {
    tell(`${file}: ${counted(all, "row")} read = ${used} used + ${refused} set aside + ${notData} blank or no data`);
  }
  tell("");
  for (const {title, lines} of reports) {
    tell(lines.length === 0 ? `${title} would leave nothing out.` : `${title} would leave out:`);
    for (const line of lines) tell(`- ${line}`);
  }
}
