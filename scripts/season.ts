import {resolve} from "node:path";
import {Option} from "commander";
import {command, type Options, say, tell} from "./command.ts";
import {lastDay} from "./io/readBook.ts";
import {writeReports} from "./writeReports.ts";

interface SeasonOptions extends Options {
  keepAdvice?: boolean;
}

const keep = new Option(
  "--keep-advice",
  "add the advice of the day to advice.csv in the book, for a later season to be told by"
);

void command<SeasonOptions>(
  {name: "season", description: "The season's buying report: how many squares, of whom, by when.", more: [keep]},
  async (read, options) => {
    await writeReports(["season"], read, options);
    if (!options.keepAdvice) return;
    const {adviceOfDay} = await import("./io/adviceOfDay.ts");
    const {adviceRows, keepAdvice} = await import("./io/keepAdvice.ts");
    const {nextSeason} = await import("../lib/buying/leadTime.ts");
    const about = {advisedOn: read.asOf, season: nextSeason(read.histories), later: read.asOf < lastDay(read.book)};
    const rows = adviceRows(adviceOfDay(read), about);
    const {said, paste} = keepAdvice(resolve(options.book), read.book, rows);
    if (rows.length === 0) say("There is no advice to keep: no species has a number.");
    for (const line of said) say(line);
    if (paste !== undefined) (options.json ? say : tell)(paste.trimEnd());
  }
);
