import type {z} from "zod";
import {type Book, gridOf, parseBook} from "../../lib/book/parseBook.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {type FileHabits, type RecordsRead, readRecords} from "../../lib/book/readRecords.ts";
import {type FileName, files, recordName} from "../../lib/book/records.ts";
import {parseSettings, type Settings} from "../../lib/book/settings.ts";

/** The rows of each file below its headings. A line is the text of one row, cells separated by commas. */
export interface Lines {
  lots?: readonly string[];
  squares?: readonly string[];
  events?: readonly string[];
  orders?: readonly string[];
  climate?: readonly string[];
  advice?: readonly string[];
}

export const headings = {
  "lots.csv": "lot,bought_on,supplier,species,squares_bought,price_each",
  "squares.csv": "square,lot,length_mm,width_mm,thickness_mm,mass_g,mc_pct",
  "events.csv": "date,square,event,stage,mass_g,mc_pct,defect,order",
  "orders.csv": "order,ordered_on,species,quantity",
  "climate.csv": "date,temperature_c,humidity_pct",
  "advice.csv":
    "advised_on,species,season_from,season_to,squares,squares_low,squares_high,shafts_wanted,shafts_wanted_low,shafts_wanted_high,usable_pct,usable_low_pct,usable_high_pct,profit,shafts_short,shafts_left_over,service_pct"
} as const;

/** One lot of two squares of 2.4 litres and 1680 g at 12 % moisture, so of 700 kg/m³, and one order. */
export const smallest = {
  lots: ["A,2025-01-10,Quillmoor Sawpit,ash,2,10"],
  squares: ["A1,A,1500,40,40,1680,12", "A2,A,1500,40,40,1680,12"],
  events: [],
  orders: ["O1,2025-02-01,ash,1"]
} as const satisfies Lines;

type MayBeMissing = "climate.csv" | "advice.csv";

/** The texts of the files of a book: the smallest book, where no other lines are given. */
export function texts(
  lines: Lines = {}
): Record<Exclude<FileName, MayBeMissing>, string> & Partial<Record<MayBeMissing, string>> {
  const {lots, squares, events, orders, climate, advice} = {
    ...smallest,
    climate: undefined,
    advice: undefined,
    ...lines
  };
  const file = (name: FileName, rows: readonly string[]) =>
    `${[headings[name], ...rows.map((row) => filledUp(row, name))].join("\n")}\n`;
  return {
    "lots.csv": file("lots.csv", lots),
    "squares.csv": file("squares.csv", squares),
    "events.csv": file("events.csv", events),
    "orders.csv": file("orders.csv", orders),
    ...(climate && {"climate.csv": file("climate.csv", climate)}),
    ...(advice && {"advice.csv": file("advice.csv", advice)})
  };
}

/** A line with as many cells as there are headings. */
function filledUp(line: string, name: FileName): string {
  const short = headings[name].split(",").length - line.split(",").length;
  return line + ",".repeat(Math.max(0, short));
}

/** The text of one file read as its records. */
export function recordsOf<F extends FileName>(
  text: string,
  file: F,
  habits: FileHabits = {}
): RecordsRead<z.infer<(typeof files)[F]["schema"]>> {
  const settings = settingsOf({reading: {[recordName(file)]: habits}});
  return readRecords(gridOf(text, file, settings), files[file], habits) as never;
}

/** The settings of a text of workshop.json that is known to be sound. */
export function settingsOf(json: object = {}): Settings {
  const {settings, problems} = parseSettings(JSON.stringify(json));
  if (!settings) throw new Error(JSON.stringify(problems));
  return settings;
}

/** A small book read with the default settings, where no other settings are given. */
export function read(lines: Lines = {}, settings: Settings = settingsOf()): {book?: Book; problems: Problem[]} {
  return parseBook(texts(lines), settings);
}

/** The same, known to give a book. */
export function bookOf(lines: Lines = {}, settings: Settings = settingsOf()): Book {
  const {book, problems} = read(lines, settings);
  if (!book) throw new Error(JSON.stringify(problems));
  return book;
}

/** The problem's code and place in short: "number-twice squares.csv B3". */
export function brief({code, file, row, cell}: Problem): string {
  return [code, file, cell ?? (row === undefined ? "" : `row ${row}`)].join(" ").trim();
}

/** The same object with every object and array in it frozen. */
export function frozen<T>(value: T): T {
  if (typeof value === "object" && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) frozen(part);
  }
  return value;
}
