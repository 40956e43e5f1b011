import iconv from "iconv-lite";
import {type FileName, fileNames} from "../../lib/book/records.ts";
import type {Random} from "../../lib/stats/random.ts";
import type {BookBytes, FuzzBook} from "./fuzzBook.ts";
import {hostileCells, hostileHeadings} from "./hostile.ts";

/** A whole number from 0 up to, not including, a limit. */
const below = (random: Random, limit: number) => Math.floor(random() * limit);
const chosen = <T>(random: Random, list: readonly T[]): T => list[below(random, list.length)]!;

/** How a table is written as bytes. */
interface Form {
  delimiter: string;
  lineEnds: readonly string[];
  quoted: boolean;
  encoding: string;
  mark: boolean;
}

const plainForm: Form = {delimiter: ",", lineEnds: ["\n"], quoted: false, encoding: "utf8", mark: false};

/** One cell in how many runs is as long as a file. */
const longEvery = 500;

/** A book changed at random: the same for the same numbers. Returns the bytes of its files; now and then one is missing. */
export function mutated({tables, settings}: FuzzBook, random: Random): BookBytes {
  const most = random() < 0.2 ? fileNames.length : 2;
  const struck = new Set(Array.from({length: 1 + below(random, most)}, () => chosen(random, fileNames)));
  const book: BookBytes = {
    "workshop.json": Buffer.from(random() < 0.15 ? changedSettings(settings, random) : settings)
  };
  for (const name of fileNames) {
    const bytes = struck.has(name) ? changedFile(tables[name], name, random) : written(tables[name], plainForm, random);
    if (bytes) book[name] = bytes;
  }
  if (random() < 1 / longEvery) lengthen(book, tables, random);
  return book;
}

/** One cell of one file made 1 to 10 million characters long. */
function lengthen(book: BookBytes, tables: FuzzBook["tables"], random: Random): void {
  const name = chosen(random, fileNames);
  const rows = tables[name].map((cells) => [...cells]);
  const cells = chosen(random, rows);
  const text = chosen(random, ["x", "1", "=", "-", " ", ".", "x ", "'"]);
  cells[below(random, cells.length)] = text.repeat(10 ** (6 + random()) / text.length);
  book[name] = written(rows, plainForm, random);
}

function changedFile(table: readonly string[][], name: FileName, random: Random): Uint8Array | undefined {
  if (random() < 0.01) return undefined;
  const rows = table.map((cells) => [...cells]);
  for (let left = 1 + below(random, 4); left > 0; left--) chosen(random, tableChanges)(rows, random, name);
  const form = random() < 0.5 ? plainForm : changedForm(random);
  let bytes = written(rows, form, random);
  while (random() < 0.25) bytes = chosen(random, byteChanges)(bytes, random);
  return bytes;
}

function changedForm(random: Random): Form {
  return {
    delimiter: chosen(random, [",", ",", ";", "\t", "|", ":"]),
    lineEnds: chosen(random, [["\n"], ["\r\n"], ["\r"], ["\n", "\r\n", "\r"]]),
    quoted: random() < 0.3,
    encoding: chosen(random, ["utf8", "utf8", "utf-16le", "utf-16be", "windows-1252"]),
    mark: random() < 0.5
  };
}

/** A table as bytes; cells are quoted where they must be, now and then not even then. */
function written(
  rows: readonly string[][],
  {delimiter, lineEnds, quoted, encoding, mark}: Form,
  random: Random
): Uint8Array {
  const careless = quoted || rows.length === 0 ? 0 : random();
  const cell = (text: string) =>
    quoted || (careless < 0.9 && (text.includes(delimiter) || /["\r\n]/.test(text)))
      ? `"${text.replaceAll('"', '""')}"`
      : text;
  const lines = rows.map((cells) => cells.map(cell).join(delimiter));
  const text = lines.map((line) => line + chosen(random, lineEnds)).join("");
  return iconv.encode(careless > 0.95 ? text.trimEnd() : text, encoding, {addBOM: mark});
}

type TableChange = (rows: string[][], random: Random, name: FileName) => void;

/** Changes of a table, headings first, in place. */
const tableChanges: readonly TableChange[] = [
  hostileCell,
  hostileCell,
  hostileCell,
  hostileColumn,
  decimalCommas,
  swapColumns,
  copyColumn,
  removeColumn,
  renameColumn,
  renameColumn,
  capitals,
  manyColumns,
  removeRow,
  copyRow,
  shuffleRows,
  strangeRow,
  strangeRow,
  shorterRow,
  longerRow,
  cellFromElsewhere
];

function hostileCell(rows: string[][], random: Random): void {
  const cells = chosen(random, rows.length > 1 ? rows.slice(1) : rows);
  if (!cells || cells.length === 0) return;
  const text = chosen(random, hostileCells);
  cells[below(random, cells.length)] = random() < 0.1 ? text.repeat(1 + below(random, 3000)) : text;
}

function hostileColumn(rows: string[][], random: Random): void {
  const column = below(random, rows[0]?.length ?? 0);
  const text = chosen(random, hostileCells);
  for (const cells of rows.slice(1)) if (random() < 0.5) cells[column] = text;
}

function decimalCommas(rows: string[][], random: Random): void {
  const share = chosen(random, [0.1, 1]);
  for (const cells of rows)
    for (const [index, cell] of cells.entries())
      if (/^\d+\.\d+$/.test(cell) && random() < share) cells[index] = cell.replace(".", ",");
}

function swapColumns(rows: string[][], random: Random): void {
  const [a, b] = [below(random, rows[0]?.length ?? 0), below(random, rows[0]?.length ?? 0)];
  for (const cells of rows) [cells[a], cells[b]] = [cells[b] ?? "", cells[a] ?? ""];
}

function copyColumn(rows: string[][], random: Random): void {
  const from = below(random, rows[0]?.length ?? 0);
  const to = below(random, rows[0]?.length ?? 0);
  for (const cells of rows) cells.splice(to, 0, cells[from] ?? "");
}

function removeColumn(rows: string[][], random: Random): void {
  const column = below(random, rows[0]?.length ?? 0);
  for (const cells of rows) cells.splice(column, 1);
}

function renameColumn(rows: string[][], random: Random): void {
  const headings = rows[0];
  if (!headings) return;
  const heading = chosen(random, hostileHeadings);
  // A column that the book does not know beside those it does, or in the place of one.
  if (random() < 0.7)
    for (const [index, cells] of rows.entries()) cells.push(index === 0 ? heading : chosen(random, hostileCells));
  else headings[below(random, headings.length)] = heading;
}

function capitals(rows: string[][]): void {
  if (rows[0]) rows[0] = rows[0].map((heading) => heading.toUpperCase());
}

function manyColumns(rows: string[][], random: Random): void {
  if (random() < 0.9) return;
  const filled = random() < 0.5;
  for (const [index, cells] of rows.entries())
    for (let column = 0; column < 1000; column++) cells.push(index === 0 ? `c${column}` : filled ? "1" : "");
}

function removeRow(rows: string[][], random: Random): void {
  rows.splice(below(random, rows.length), 1 + below(random, 3));
}

function copyRow(rows: string[][], random: Random): void {
  const cells = chosen(random, rows);
  if (cells) rows.splice(below(random, rows.length + 1), 0, [...cells]);
}

function shuffleRows(rows: string[][], random: Random): void {
  for (let i = rows.length - 1; i > 1; i--) {
    const j = 1 + below(random, i);
    [rows[i], rows[j]] = [rows[j]!, rows[i]!];
  }
}

function strangeRow(rows: string[][], random: Random): void {
  const width = rows[0]?.length ?? 1;
  const row = chosen<() => string[]>(random, [
    () => [],
    () => Array.from({length: width}, () => ""),
    () => Array.from({length: width}, () => "---"),
    () => ["Total", ...Array.from({length: width - 1}, () => "12")],
    () => ["Counted again after the rain, three are wet"],
    () => Array.from({length: width}, () => chosen(random, hostileCells)),
    () => [...(rows[0] ?? [])]
  ]);
  rows.splice(chosen(random, [0, 1, below(random, rows.length + 1), rows.length]), 0, row());
}

function shorterRow(rows: string[][], random: Random): void {
  const cells = chosen(random, rows);
  cells?.splice(below(random, cells.length));
}

function longerRow(rows: string[][], random: Random): void {
  chosen(random, rows)?.push(...Array.from({length: 1 + below(random, 3)}, () => chosen(random, hostileCells)));
}

function cellFromElsewhere(rows: string[][], random: Random): void {
  const cells = chosen(random, rows);
  if (cells) cells[below(random, cells.length)] = chosen(random, chosen(random, rows)!) ?? "";
}

/** Changes of bytes, as of a file damaged on its way. Each returns new bytes. */
export const byteChanges: readonly ((bytes: Uint8Array, random: Random) => Uint8Array)[] = [
  function flip(bytes, random) {
    const copy = Uint8Array.from(bytes);
    for (let left = 1 + below(random, 3); left > 0 && copy.length > 0; left--)
      copy[below(random, copy.length)]! ^= 1 << below(random, 8);
    return copy;
  },
  function insert(bytes, random) {
    const at = below(random, bytes.length + 1);
    const more = Uint8Array.from({length: 1 + below(random, 4)}, () =>
      chosen(random, [0, 0x22, 0x2c, 0x0a, 0x0d, 0xff, below(random, 256)])
    );
    return Buffer.concat([bytes.subarray(0, at), more, bytes.subarray(at)]);
  },
  function remove(bytes, random) {
    const at = below(random, bytes.length + 1);
    return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + 1 + below(random, 40))]);
  },
  function repeat(bytes, random) {
    const at = below(random, bytes.length + 1);
    const part = bytes.subarray(at, at + below(random, 400));
    return Buffer.concat([bytes.subarray(0, at), part, bytes.subarray(at)]);
  },
  function cutOff(bytes, random) {
    return bytes.subarray(0, below(random, bytes.length + 1));
  },
  function begin(bytes, random) {
    const start = chosen(random, [
      "sep=;\n",
      "sep=,\r\n",
      '"sep=\t"\n',
      "\ufeff",
      "\ufeff\ufeff",
      "Stock list\n\n",
      "\u0000",
      '"'
    ]);
    return Buffer.concat([Buffer.from(start), bytes]);
  }
];

/** The text of settings with something in it changed. */
function changedSettings(text: string, random: Random): string {
  if (random() < 0.3) return Buffer.from(chosen(random, byteChanges)(Buffer.from(text), random)).toString("utf8");
  const heading = () => chosen(random, ["lot", "square", "mass_g", "note", "date", "__proto__", "species"]);
  const word = () => chosen(random, [...hostileHeadings, "Losnummer", "mass (oz)", "oz", "in", "%"]);
  const change = chosen<() => Record<string, unknown>>(random, [
    () => ({reading: {all: {delimiter: chosen(random, [",", ";", "\t", "|"])}}}),
    () => ({reading: {all: {decimal: chosen(random, ["point", "comma"])}}}),
    () => ({reading: {all: {dates: chosen(random, ["day-first", "month-first"]), serialsFrom: 1904}}}),
    () => ({reading: {events: {headings: {[heading()]: word()}}}}),
    () => ({reading: {squares: {units: {[heading()]: word()}}}}),
    () => ({reading: {events: {words: {event: {[chosen(random, hostileCells)]: "turned"}}}}}),
    () => ({name: chosen(random, hostileCells)}),
    () => ({stages: [{name: "square"}, {name: chosen(random, hostileCells)}]}),
    () => ({
      species: {
        [chosen(random, ["ash", ...hostileCells])]: {
          wood: "european-ash",
          windowKgM3: {low: 1, high: chosen(random, [0, 2, 1e308, "=1"])}
        }
      }
    }),
    () => ({[chosen(random, hostileHeadings)]: chosen(random, hostileCells)}),
    () => ({money: {shaftPrice: chosen(random, [-1, 0, 1e308, "140", null])}}),
    () => ({suppliers: {[chosen(random, hostileCells)]: {minimum: 1}}})
  ]);
  const json = JSON.stringify({...JSON.parse(text), ...change()});
  return random() < 0.1 ? `{"__proto__": {"name": "x", "polluted": true}, ${json.slice(1)}` : json;
}
