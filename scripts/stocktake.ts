import {resolve} from "node:path";
import {Option} from "commander";
import {isDay} from "../lib/book/day.ts";
import {Faults} from "../lib/book/faults.ts";
import {histories} from "../lib/book/histories.ts";
import type {Book} from "../lib/book/parseBook.ts";
import {excerpt, type Problem} from "../lib/book/problem.ts";
import type {Numbered} from "../lib/book/readRecords.ts";
import {type Counted, type CountedColumns, countedRows} from "../lib/rack/countedRows.ts";
import {proposedEvents} from "../lib/rack/proposedEvents.ts";
import {stocktake} from "../lib/rack/stocktake.ts";
import {command, exitCodes, type Options, relative, say, tell} from "./command.ts";
import {counted, faultLines} from "./faultLines.ts";
import {proposedCsv, writeProposed} from "./io/proposedCsv.ts";
import {lastDay, today} from "./io/readBook.ts";
import {readCount} from "./io/readCount.ts";
import {UserError} from "./io/writeReport.ts";
import {listed, partOf} from "./partOptions.ts";
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

void command<StocktakeOptions>(
  {
    name: "stocktake",
    description: "A counted list against the book: found, missing, unexpected, at another stage.",
    examples: ["--book my-book --count counted.csv", "--count shafts.xlsx --stage finished --on 2026-06-30"],
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
    const part = partOf(options, now);

    const list = listOf(count, book);
    for (const line of faultLines(list.problems).lines) say(line);
    if (list.problems.some(({severity}) => severity === "blocking"))
      throw new UserError(
        `${count} cannot be used as it is: mend what is called blocking. Nothing was compared or written.`
      );
    refusedInList = list.problems.filter(({severity}) => severity === "refused").length;
    if (list.rows.length === 0)
      throw new UserError(`${count} has no row that can be used. Nothing was compared or written.`);

    const later = histories(book, lastDay(book));
    const faults = new Faults(book.sources, problems);
    const setAside = faults.refusedRow("squares.csv", "square");
    const refusedEvent = faults.refusedRow("events.csv", "square");
    const result = stocktake(now, list.rows, {part, events: book.events, later, setAside, refusedEvent});
    const proposed = proposedEvents(now, result);
    // In a file kept newest first, events of one day count from the bottom up.
    const isNewestFirst = (book.events[0]?.date ?? "") > (book.events.at(-1)?.date ?? "");
    const events = isNewestFirst ? proposed.toReversed() : proposed;
    const {text, lacking, guarded} = proposedCsv(events, book.sources["events.csv"]!);
    const path = writeProposed(resolve(out), events.length > 0 ? text : undefined, say);
    const names = {
      events: book.sources["events.csv"]!.file,
      squares: book.sources["squares.csv"]!.file,
      lots: book.sources["lots.csv"]!.file
    };
    say(`Read ${count}: ${counted(list.rows.length, "row")}, ${counted(refusedInList, "row")} set aside.`);
    for (const line of list.read) say(line);
    if (options.on === undefined && on !== today())
      say(
        `Taken as counted on ${on}, ${options.asOf === undefined ? "the last day in the book" : "the day of --as-of"}: if it was another day, give it with --on.`
      );
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

/** The rows of a list, of every sheet that has numbers of the book in it; what was read of it and what was not, in lines. */
function listOf(count: string, book: Book): {rows: Numbered<Counted>[]; problems: Problem[]; read: string[]} {
  const numbers = book.squares.map(({square}) => square);
  const all = readCount(count).map((grid) => ({file: grid.file, ...countedRows(grid, numbers, book.settings)}));
  const hasNone = ({problems}: {problems: readonly Problem[]}) =>
    problems.some(({code}) => code === "heading-missing" || code === "file-empty");
  const passed = all.every(hasNone) ? [] : all.filter(hasNone);
  const lists = all.filter((one) => !passed.includes(one));
  return {
    rows: lists.flatMap(({file, rows}) =>
      lists.length === 1 ? rows : rows.map((one) => ({...one, note: one.note ? `${file}; ${one.note}` : file}))
    ),
    problems: lists.flatMap(({problems}) => problems),
    read: [
      ...lists.flatMap(({file, columns}) => (columns ? [columnsLine(file, columns)] : [])),
      ...passed.map(({file}) => `${excerpt(file)} has no number of the book and was passed over.`)
    ]
  };
}

function columnsLine(file: string, {square, stage, note, unread}: CountedColumns): string {
  const stages = stage === undefined ? "" : `, stages from ${stage}`;
  const notes = note === undefined ? "" : `, notes from ${note}`;
  const not = unread.length === 0 ? "" : ` Not read: ${unread.join(", ")}.`;
  return `${excerpt(file)}: numbers from ${square}${stages}${notes}.${not}`;
}
