import {readFileSync} from "node:fs";
import {fileURLToPath} from "node:url";
import {parse} from "csv-parse/sync";
import {type FileName, fileNames} from "../../lib/book/records.ts";

/** The bytes of a book's files by their names, workshop.json among them; a file may be missing. */
export type BookBytes = Partial<Record<FileName | "workshop.json", Uint8Array>>;

/** The rows of each file of a small sound book, headings first, and the text of its settings. */
export interface FuzzBook {
  tables: Record<FileName, string[][]>;
  settings: string;
}

const sample = (name: string) =>
  readFileSync(fileURLToPath(new URL(`../../sample-data/${name}`, import.meta.url)), "utf8");

/** A slice of the sample book that is a book in itself: its first two lots, their squares, the whole history of some, and the orders that these name. */
export function fuzzBook(): FuzzBook {
  const table = (name: FileName) => {
    const [headings = [], ...rows]: string[][] = parse(sample(name));
    return {headings, rows, column: (heading: string) => headings.indexOf(heading)};
  };
  const all = Object.fromEntries(fileNames.map((name) => [name, table(name)])) as Record<
    FileName,
    ReturnType<typeof table>
  >;
  const keep = (name: FileName, heading: string, wanted: ReadonlySet<string>) =>
    all[name].rows.filter((cells) => wanted.has(cells[all[name].column(heading)]!));
  const lots = all["lots.csv"].rows.slice(0, 2);
  const squares = keep("squares.csv", "lot", new Set(lots.map(([lot]) => lot!)));
  const events = keep("events.csv", "square", new Set(squares.slice(0, 9).map(([square]) => square!)));
  const orders = keep("orders.csv", "order", new Set(events.map((cells) => cells[all["events.csv"].column("order")]!)));
  const kept: Record<FileName, string[][]> = {
    "lots.csv": lots,
    "squares.csv": squares,
    "events.csv": events,
    "orders.csv": orders,
    "climate.csv": all["climate.csv"].rows.slice(0, 25),
    "advice.csv": all["advice.csv"].rows
  };
  const tables = fileNames.map((name) => [name, [all[name].headings, ...kept[name]]]);
  return {tables: Object.fromEntries(tables) as FuzzBook["tables"], settings: sample("workshop.json")};
}
