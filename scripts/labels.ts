import {resolve} from "node:path";
import {Option} from "commander";
import {excerpt} from "../lib/book/problem.ts";
import {type LabelRow, type LabelState, labelRows} from "../lib/rack/labelRows.ts";
import {command, type Options, relative, say, tell} from "./command.ts";
import {counted} from "./faultLines.ts";
import {UserError, writeReport} from "./io/writeReport.ts";
import {labelLayout} from "./pages/labelFit.ts";
import {labelsPage} from "./pages/labels.ts";
import {listed, named, numbered, partOf, sized} from "./partOptions.ts";
import {readyToday} from "./rack/rackToday.ts";

interface LabelOptions extends Options {
  stage?: string[];
  lot?: string[];
  squares?: string[];
  ready?: boolean;
  weigh?: boolean;
  byStage?: boolean;
  columns?: number;
  rows?: number;
  label?: [number, number];
  gap?: [number, number];
  skip?: number;
}

const more = [
  new Option("--stage <names>", "only pieces at these stages").argParser(listed),
  new Option("--lot <numbers>", "only pieces of these lots").argParser(listed),
  new Option("--squares <numbers>", "only these, in this order: A0001,A0002").argParser(listed),
  new Option("--ready", "only pieces that may be turned"),
  new Option("--weigh", "only pieces that a weighing today may settle (with --ready: these too)"),
  new Option("--by-stage", "in the order of the stages"),
  new Option("--columns <n>", "labels across the sheet (default: 3)").argParser(numbered),
  new Option("--rows <n>", "labels down the sheet (default: 8)").argParser(numbered),
  new Option(
    "--label <size>",
    "size of a label in mm, like 63.5x38 (default: A4 divided by columns and rows)"
  ).argParser(sized),
  new Option("--gap <size>", "gaps between labels in mm, across x down (default: 0x0)").argParser(sized),
  new Option("--skip <n>", "labels of the first sheet that are used up (default: 0)").argParser(numbered)
];

void command<LabelOptions>(
  {name: "labels", description: "Labels for pieces, to print on A4: number, code, species, stage, day, density.", more},
  (read, options) => {
    const {book, asOf, histories} = read;
    const {columns, rows, label, gap, skip, ready, weigh, byStage, json} = options;
    const states = [...(ready ? (["ready"] as const) : []), ...(weigh ? (["weigh"] as const) : [])];
    const layout = asUsage(() =>
      labelLayout({
        ...(columns !== undefined && {columns}),
        ...(rows !== undefined && {rows}),
        ...(label && {widthMm: label[0], heightMm: label[1]}),
        ...(gap && {gapAcrossMm: gap[0], gapDownMm: gap[1]}),
        ...(skip !== undefined && {skip})
      })
    );
    const wish = {
      ...partOf(options, histories),
      squares: named(
        "--squares",
        options.squares,
        histories.pieces.map(({square}) => square)
      ),
      ...(states.length > 0 && {states}),
      byStage
    };
    const now = new Map(readyToday(read).ready.map((row) => [row.square, row]));
    const wanted = labelRows(histories, wish, (square) => now.get(square));
    if (wish.squares) {
      const given = new Set(wanted.map(({square}) => square));
      const without = wish.squares.filter((square) => !given.has(square));
      if (without.length > 0)
        say(
          `No label for ${some(without)}: not in stock on ${asOf}, or not among the pieces that the other options name.`
        );
    }
    if (wanted.length === 0)
      throw new UserError(
        `No piece in stock on ${asOf} is what the options ask for: no label was made. Take one of the options away.`
      );
    const page = labelsPage(wanted, layout, {workshop: book.settings.name, asOf});
    const path = writeReport(resolve(options.out), "labels.html", page.html);
    say(
      `Made ${counted(wanted.length, "label")} on ${counted(page.sheets, "sheet")}. Print at actual size, without margins.`
    );
    say(findings(wanted));
    if (page.small.length > 0)
      say(`Too small to read at arm's length: ${some(page.small)}. Larger labels would help (--columns, --rows).`);
    if (page.broken.length > 0)
      say(`Broken within the number: ${some(page.broken)}. Larger labels would help, or dashes in the numbers.`);
    if (page.tiny.length > 0)
      say(`The lines below the number are too small to read: ${some(page.tiny)}. Larger labels would help.`);
    if (page.fine.length > 0)
      say(`Too long a number to scan from its code: ${some(page.fine)}. Larger labels would help, or shorter numbers.`);
    if (json) tell(JSON.stringify({asOf, layout, labels: wanted}, undefined, 1));
    else tell(relative(path));
  }
);

/** How many labels say what. */
function findings(rows: readonly LabelRow[]): string {
  const count = (state: LabelState | undefined) =>
    rows.filter((row) => row.finishedOn === undefined && row.state === state).length;
  const shafts = rows.filter(({finishedOn}) => finishedOn !== undefined).length;
  return `They say: ${count("ready")} ready, ${count("weigh")} to be weighed, ${count("about")} ready about a day to come, ${count(undefined)} of which no day is known, ${counted(shafts, "shaft")}.`;
}

/** The first few of a list. */
function some(squares: readonly string[]): string {
  const more = squares.length > 8 ? ` and ${squares.length - 8} more` : "";
  return squares.slice(0, 8).map(excerpt).join(", ") + more;
}

/** A wrong option told as one, without a stack. */
function asUsage<T>(make: () => T): T {
  try {
    return make();
  } catch (error) {
    if (error instanceof RangeError) throw new UserError(error.message);
    throw error;
  }
}
