import {resolve} from "node:path";
import {Option} from "commander";
import {isDay} from "../lib/book/day.ts";
import {Faults} from "../lib/book/faults.ts";
import {histories} from "../lib/book/histories.ts";
import {countedRows} from "../lib/rack/countedRows.ts";
import {proposedEvents} from "../lib/rack/proposedEvents.ts";
import {stocktake} from "../lib/rack/stocktake.ts";
import {command, exitCodes, type Options, relative, say, tell} from "./command.ts";
import {counted, faultLines} from "./faultLines.ts";
import {proposedCsv, writeProposed} from "./io/proposedCsv.ts";
import {lastDay, today} from "./io/readBook.ts";
import {readCount} from "./io/readCount.ts";
import {UserError} from "./io/writeReport.ts";
import {listed, named} from "./partOptions.ts";
import {stocktakeLines} from "./stocktakeLines.ts";

interface StocktakeOptions extends Options {
  count?: string;
  on?: string;
  stage?: string[];
  lot?: string[];
}

const more = [
  new Option("--count <file>", "the counted list: CSV, text of one number a line, or a workbook"),
  new Option("--on <date>", "the day of the count (default: the day of --as-of)"),
  new Option("--stage <names>", "only pieces of these stages were counted").argParser(listed),
  new Option("--lot <numbers>", "only pieces of these lots were counted").argParser(listed)
];

let refusedInList = 0;

await command<StocktakeOptions>(
  {
    name: "stocktake",
    description: "A counted list against the book: found, missing, unexpected, at another stage.",
    more,
    around: async ({strict}, make) => {
      const code = await make();
      return code === exitCodes.done && strict && refusedInList > 0 ? exitCodes.rowsRefused : code;
    }
  },
  ({book, asOf, problems}, options) => {
    const {count, on = asOf, out, json} = options;
    if (count === undefined) {
      throw new UserError(
        "--count must be given: the list of the square numbers seen, like --count counted.csv, one number a line."
      );
    }
    if (!isDay(on)) throw new UserError(`--on must be a calendar day like 2026-10-31, got “${on}”.`);
    if (options.on !== undefined && on > today() && on > asOf)
      throw new UserError(`--on must be no later than today, ${today()}, got “${on}”.`);
    const now = histories(book, on);
    if (now.lots.length === 0)
      throw new UserError(`--on must be on or after the first purchase, got “${on}”. Correct the day of the count.`);
    const part = {
      stages: named(
        "--stage",
        options.stage,
        book.settings.stages.map(({name}) => name)
      ),
      lots: named(
        "--lot",
        options.lot,
        now.lots.map(({lot}) => lot)
      )
    };

    const grid = readCount(count);
    const list = countedRows(
      grid,
      book.squares.map(({square}) => square),
      book.settings
    );
    for (const line of faultLines(list.problems)) say(line);
    if (list.problems.some(({severity}) => severity === "blocking"))
      throw new UserError(
        `${count} cannot be used as it is: mend what is called blocking. Nothing was compared or written.`
      );
    refusedInList = list.problems.filter(({severity}) => severity === "refused").length;
    if (list.rows.length === 0)
      throw new UserError(`${count} has no row that can be used. Nothing was compared or written.`);

    const later = histories(book, lastDay(book));
    const setAside = new Faults(book.sources, problems).refusedRow("squares.csv", "square");
    const result = stocktake(now, list.rows, {part, events: book.events, later, setAside});
    const proposed = proposedEvents(now, result);
    // In a file kept newest first, events of one day count from the bottom up.
    const isNewestFirst = (book.events[0]?.date ?? "") > (book.events.at(-1)?.date ?? "");
    const events = isNewestFirst ? proposed.toReversed() : proposed;
    const {text, lacking, guarded} = proposedCsv(events, book.sources["events.csv"]!);
    const path = writeProposed(resolve(out), events.length > 0 ? text : undefined, book.settings, say);
    const names = {
      events: book.sources["events.csv"]!.file,
      squares: book.sources["squares.csv"]!.file,
      lots: book.sources["lots.csv"]!.file
    };
    say(`Read ${count}: ${counted(list.rows.length, "row")}, ${counted(refusedInList, "row")} set aside.`);
    if (json) tell(JSON.stringify({...result, proposed: events, problems: list.problems}, undefined, 1));
    else for (const line of stocktakeLines(result, book.settings.stages.at(-1)!.name, names)) tell(line);
    if (path === undefined) {
      say("No event is proposed.");
      return;
    }
    say(
      `Wrote ${counted(events.length, "proposed event")}. Look each over, fill in its day and what its note asks for, strike what is wrong, and put the rest below the rows of ${names.events}. Until then the book refuses them. Nothing in the book was changed.`
    );
    if (lacking.length > 0)
      say(
        `${names.events} has no column ${lacking.join(", ")}: give it ${lacking.length === 1 ? "that heading" : "those headings"} first, behind its own, in this order.`
      );
    if (guarded.length > 0)
      say(
        `An apostrophe stands before ${guarded.join(", ")}, so that no spreadsheet takes it for a formula: take it away in the book.`
      );
    if (!json) tell(relative(path));
  }
);
