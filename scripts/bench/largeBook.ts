import {closeSync, mkdirSync, openSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {dayNumber} from "../../lib/book/day.ts";
import {csvLine, headings, type Row, type TableName} from "../sample/csv.ts";
import {type Fault, slips} from "../sample/faults.ts";
import {type Lot, lot, purchases, visits} from "../sample/lots.ts";
import {numbered, wanted} from "../sample/orders.ts";
import {type Piece, piecesOf} from "../sample/pieces.ts";
import {choose, stream, whole} from "../sample/random.ts";
import {settingsFile} from "../sample/settings.ts";
import {workshop} from "../sample/simulate.ts";
import {storeAir} from "../sample/store.ts";
import {asOf, firstDay, type SpeciesName} from "../sample/truth.ts";

/** Events of one bench, mean of some hundred; the sample book is one of 18 thousand. */
const eventsOfABench = 18_400;

/** What was written: rows of each file without headings, and the faults put in on purpose. */
export interface LargeBook {
  rows: Record<TableName, number>;
  faults: Fault[];
}

/**
 * Writes a book of about so many events: the story of the sample book at as many benches under one roof as it takes, each with
 * purchases, luck and customers of its own. Lots, squares and orders are numbered through, as they came in; within a day events
 * stand bench by bench. Each bench makes the slips of the sample book. The same bytes every time for the same number.
 *
 * @param folder is made if it is not there; files of the same names are written over
 */
export function writeLargeBook(folder: string, events: number): LargeBook {
  const size = events / eventsOfABench;
  const benches = Math.ceil(size);
  const share = size / benches;
  const store = storeAir();
  const bought = lotsOf(benches, share);
  const ordered = ordersOf(benches, share);
  const squaresBefore = countedBefore(bought.map(({lot}) => lot));
  const lines = {
    "lots.csv": bought.map((): string[] => []),
    "squares.csv": bought.map((): string[] => []),
    "events.csv": Array.from({length: dayNumber(asOf) - dayNumber(firstDay) + 1}, (): string[] => []),
    "orders.csv": ordered.map((): string[] => []),
    "climate.csv": [store.rows.map((row) => csvLine("climate.csv", row))]
  } satisfies Record<TableName, string[][]>;
  const placed: {fault: Omit<Fault, "row">; group: number; index: number}[] = [];

  const [ownLots, ownOrders] = [byBench(bought, benches), byBench(ordered, benches)];
  for (let bench = 0; bench < benches; bench++) {
    const own = ownLots[bench]!.map((index) => ({index, ...bought[index]!}));
    const digits = squaresBefore.digits;
    const pieces = own.flatMap(({index, lot}): Piece[] => piecesOf(lot, squaresBefore.of[index]!, digits));
    const orders = ownOrders[bench]!.map((index) => ordered[index]!);
    const {tables} = workshop(
      own.map(({lot}) => lot),
      pieces,
      orders,
      store
    );
    const made = new Map(slips(tables).map(({at, ...fault}) => [at, fault]));
    const lotIndex = new Map(own.map(({index, lot}) => [lot.lot, index]));
    const random = stream(`notes${benchName(bench)}`);
    let day = 0;
    put("lots.csv", tables["lots.csv"], (_, row) => own[row]!.index);
    put("squares.csv", tables["squares.csv"], ({lot}) => lotIndex.get(lot!)!);
    put("orders.csv", tables["orders.csv"], (_, row) => ownOrders[bench]![row]!);
    for (const row of tables["events.csv"]) if (random() < notedShare) row.note = choose(random, notes);
    // A row with a day too early stands where it was written.
    put("events.csv", tables["events.csv"], ({date}) => {
      day = Math.max(day, dayNumber(date!) - dayNumber(firstDay));
      return day;
    });

    function put(file: TableName, rows: readonly Row[], groupOf: (row: Row, index: number) => number): void {
      for (const [index, row] of rows.entries()) {
        const group = groupOf(row, index);
        const fault = made.get(row);
        if (fault) placed.push({fault, group, index: lines[file][group]!.length});
        lines[file][group]!.push(csvLine(file, row));
      }
    }
  }

  mkdirSync(folder, {recursive: true});
  for (const file of Object.keys(lines) as TableName[])
    write(join(folder, file), headings[file].join(","), lines[file]);
  writeFileSync(join(folder, "workshop.json"), settingsFile(size));
  return {rows: rowsOf(lines), faults: withRows(placed, lines)};
}

/** Share of the events that have a note, and what it says: nothing that any reader may take for a plain cell. */
const notedShare = 0.01;
const notes = [
  'marked "hold", then let go',
  "checked twice, sound",
  "lies under the window, a little bowed",
  'the pin knot, 3 mm, is "gone" after the cut',
  "pale, quiet, very straight",
  'called "the good one", keep',
  "looked at by the door, no change",
  "Ø measured twice, “même chose”",
  "end sealed anew, see rack 4"
];

const benchName = (bench: number) => (bench === 0 ? "" : ` of bench ${bench + 1}`);

/** The purchases of all benches; each but the first goes to the same suppliers some days sooner or later. */
function lotsOf(benches: number, share: number): {bench: number; lot: Lot}[] {
  const all = Array.from({length: benches}, (_, bench) => {
    const random = stream(`visits${benchName(bench)}`);
    const daysLater = bench === 0 ? 0 : whole(random, -9, 9);
    return evenly(visits(daysLater), share, random()).map((visit) => ({...visit, bench}));
  });
  const bought = purchases(all.flat());
  const digits = Math.max(3, digitsOf(bought.length));
  return bought.map((purchase, index) => ({
    bench: purchase.bench,
    lot: lot(purchase, `L${String(index + 1).padStart(digits, "0")}`)
  }));
}

function ordersOf(benches: number, share: number) {
  const all = Array.from({length: benches}, (_, bench) =>
    wanted(share, benchName(bench)).map((order) => ({...order, bench}))
  );
  const orders = all.flat();
  return numbered(orders, Math.max(4, digitsOf(orders.length)));
}

/** So large a share of the things, taken at even steps. */
function evenly<T>(things: readonly T[], share: number, start: number): T[] {
  return things.filter((_, index) => Math.floor((index + 1) * share + start) > Math.floor(index * share + start));
}

/** How many squares of its species came in before each lot, and with how many digits all of them are numbered. */
function countedBefore(lots: readonly Lot[]): {of: number[]; digits: number} {
  const count: Record<SpeciesName, number> = {ash: 0, maple: 0};
  const of = lots.map(({species, squaresBought}) => {
    count[species] += squaresBought;
    return count[species] - squaresBought;
  });
  // One digit to spare, so that there are numbers no square has.
  return {of, digits: Math.max(4, digitsOf(Math.max(count.ash, count.maple)) + 1)};
}

/** The places in the list of what belongs to each bench. */
function byBench(things: readonly {bench: number}[], benches: number): number[][] {
  const own = Array.from({length: benches}, (): number[] => []);
  for (const [index, {bench}] of things.entries()) own[bench]!.push(index);
  return own;
}

const digitsOf = (number: number) => String(number).length;

/** Lines written group by group, so that no text of a whole file is ever made. */
function write(path: string, heading: string, groups: readonly string[][]): void {
  const file = openSync(path, "w");
  try {
    let text = `${heading}\n`;
    for (const lines of groups) {
      for (const line of lines) text += `${line}\n`;
      if (text.length < 1 << 20) continue;
      writeFileSync(file, text);
      text = "";
    }
    writeFileSync(file, text);
  } finally {
    closeSync(file);
  }
}

function rowsOf(lines: Record<TableName, string[][]>): Record<TableName, number> {
  const counts = Object.entries(lines).map(([file, groups]) => [
    file,
    groups.reduce((sum, group) => sum + group.length, 0)
  ]);
  return Object.fromEntries(counts) as Record<TableName, number>;
}

/** The faults with the rows that a spreadsheet shows. */
function withRows(
  placed: readonly {fault: Omit<Fault, "row">; group: number; index: number}[],
  lines: Record<TableName, string[][]>
): Fault[] {
  const before = Object.entries(lines).map(([file, groups]) => {
    let rows = 2;
    const first = groups.map((group) => {
      rows += group.length;
      return rows - group.length;
    });
    return [file, first];
  });
  const firstRow = Object.fromEntries(before) as Record<TableName, number[]>;
  return placed.map(({fault, group, index}) => ({...fault, row: firstRow[fault.file][group]! + index}));
}
