import {mkdtempSync, readdirSync, readFileSync, rmSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {afterAll, expect, test} from "vitest";
import {bookCounts} from "../../../lib/book/bookCounts.ts";
import {histories} from "../../../lib/book/histories.ts";
import type {Book} from "../../../lib/book/parseBook.ts";
import {duckDb, loadCsv, loadParquet, writeParquet} from "../../../scripts/bench/duckDb.ts";
import {lastDay, readBook} from "../../../scripts/io/readBook.ts";
import {writeSoundTables} from "../../../scripts/io/soundTables.ts";
import {allResults} from "../../../scripts/results/allResults.ts";
import {countsBySql, withViews} from "../../../scripts/sql/countsBySql.ts";
import {bookOf, type Lines, settingsOf} from "../../book/smallBook.ts";

const folder = mkdtempSync(join(tmpdir(), "sql-"));
afterAll(() => rmSync(folder, {recursive: true}));

/** The counts of a book on some days by DuckDB, from CSV files or from the Parquet files that it makes of them. */
async function bySql(book: Book, days: readonly string[], from: "csv" | "parquet" = "csv") {
  const {run, close} = await duckDb();
  try {
    writeSoundTables(folder, book);
    await loadCsv(run, folder);
    if (from === "parquet") {
      await writeParquet(run, folder);
      for (const table of ["lots", "squares", "events", "orders"]) await run(`DROP TABLE ${table}`);
      await loadParquet(run, folder);
    }
    const counts = [];
    for (const day of days) counts.push(await countsBySql(run, book.settings, day));
    return counts;
  } finally {
    close();
  }
}

const sample = readBook("sample-data").book!;
const days = [lastDay(sample), "2025-03-31", "2022-01-10"];

test.each(["csv", "parquet"] as const)(
  "the sample book's counts by DuckDB from %s are those of its histories, and so is every result",
  async (from) => {
    for (const [index, counts] of (await bySql(sample, days, from)).entries()) {
      const ours = bookCounts(histories(sample, days[index]!));
      expect(counts).toEqual(ours);
      expect(JSON.stringify(allResults(counts))).toBe(JSON.stringify(allResults(ours)));
    }
  }
);

test("the density of every square by SQL has the bits of ours", async () => {
  const {run, close} = await duckDb();
  writeSoundTables(folder, sample);
  await loadCsv(run, folder);
  const rows = await withViews(run, sample.settings, days[0]!, () =>
    run("SELECT square, density_kgm3 FROM square_densities")
  );
  close();
  const {pieces} = histories(sample, days[0]!);
  expect(Object.fromEntries(rows.map(({square, density_kgm3}) => [square, density_kgm3]))).toEqual(
    Object.fromEntries(pieces.map(({square, densityAt12KgM3}) => [square, densityAt12KgM3]))
  );
});

const lots = ["L2,2025-01-10,Quillmoor Sawpit,ash,4,10", "L1,2025-02-10,Quillmoor Sawpit,maple,2,11.5"];
const squares = [
  ...["A1", "A2", "A3", "A4"].map((square, i) => `${square},L2,1503,40.1,39.7,${1601 + 97 * i},${9.1 + 7.3 * i}`),
  "M1,L1,1498,41.3,40.9,1711,11.9",
  "M2,L1,1499,40.3,40.2,1712,30.5"
];
const orders = ["O2,2025-03-01,ash,2", "O1,2025-04-01,ash,1", "O3,2026-05-01,maple,1"];
const events = [
  "2025-04-01,A1,turned,rough-round",
  // All stages passed over, promised, and thrown out on one day.
  "2025-05-01,A2,turned,finished",
  "2025-05-01,A2,allotted,,,,,O2",
  "2025-05-01,A2,discarded,,,,warp",
  // Two turnings in a day with a stage passed over, and a weighing.
  "2025-05-02,A1,turned,second-round",
  "2025-05-02,A1,weighed,,900",
  "2025-05-02,A1,turned,finished",
  "2025-05-03,A1,allotted,,,,,O2",
  "2025-05-03,A3,turned,proud-round",
  "2025-05-03,A3,diverted",
  // Delivered without a promise before, and without an order at all.
  "2025-06-01,A4,turned,finished",
  "2025-06-01,A4,delivered,,,,,O1",
  "2025-06-02,M1,turned,finished",
  "2025-06-02,M1,delivered",
  "2025-06-03,A1,delivered",
  // Of the two events after the end neither counts.
  "2025-06-04,M2,discarded,square,,,knot",
  "2025-06-04,M2,turned,finished",
  "2025-06-05,M2,discarded,,,,warp"
];
const made: [name: string, lines: Lines][] = [
  ["as it happened", {lots, squares, events, orders}],
  ["newest first", {lots: lots.toReversed(), squares, events: events.toReversed(), orders: orders.toReversed()}],
  ["without events or orders", {lots, squares, events: [], orders: []}],
  ["of one day", {lots: [lots[0]!], squares: squares.slice(0, 4), events: events.slice(1, 3), orders}],
  [
    "with a promise kept until thrown out later",
    {lots, squares, events: [...events.slice(1, 3), "2025-07-01,A2,discarded,,,,knot"], orders}
  ]
];

test.each(made)("a small book %s: the same counts on each of its days", async (_, lines) => {
  const book = bookOf(lines);
  const all = ["2025-01-10", "2025-02-09", ...new Set(book.events.map(({date}) => date)), "2026-12-31"];
  for (const [index, counts] of (await bySql(book, all)).entries())
    expect(counts).toEqual(bookCounts(histories(book, all[index]!)));
});

test("the small book has what it is to show: a finished shaft thrown out gives its promise back", async () => {
  const [before, after] = await bySql(bookOf(made[4]![1]), ["2025-06-30", "2025-07-01"]);
  expect(before!.orders.find(({order}) => order === "O2")!.given).toBe(1);
  expect(before!.spells.find(({stage}) => stage === "finished")).toMatchObject({outcome: "allotted", squares: 1});
  expect(after!.orders.find(({order}) => order === "O2")!.given).toBe(0);
  expect(after!.spells.find(({stage}) => stage === "finished")).toMatchObject({outcome: "discarded: knot", squares: 1});
});

test("names with quotes, commas, line ends and signs of formulas come back as they were", async () => {
  const settings = settingsOf({
    stages: [{name: "o'square"}, {name: "=1+1"}],
    species: {"red 'n' white": {wood: "red-maple", windowKgM3: {low: 600.1, high: 700.7}}}
  });
  const book = bookOf(
    {
      lots: [`"-L,1",2025-01-10,"A ""mill""\nby the sea",red 'n' white,1,10`],
      squares: [`'1,"-L,1",1500,40,40,1680,12`],
      events: ["2025-03-01,'1,turned,=1+1"],
      orders: []
    },
    settings
  );
  const [counts] = await bySql(book, ["2025-12-31"]);
  expect(counts).toEqual(bookCounts(histories(book, "2025-12-31")));
  expect(counts!.lots[0]).toMatchObject({lot: "-L,1", supplier: 'A "mill"\nby the sea'});
});

test("nothing is left behind in the engine, whether it went well or not", async () => {
  const {run, close} = await duckDb();
  const book = bookOf({lots, squares, events, orders});
  writeSoundTables(folder, book);
  await loadCsv(run, folder);
  const tables = () => run("SELECT table_name FROM information_schema.tables ORDER BY table_name");
  const before = await tables();
  await countsBySql(run, book.settings, "2025-12-31");
  expect(await tables()).toEqual(before);
  await run("DROP TABLE orders");
  await expect(countsBySql(run, book.settings, "2025-12-31")).rejects.toThrow("orders");
  expect(await tables()).toHaveLength(before.length - 1);
  close();
});

test("every statement says at its top what it reads and gives", () => {
  const folderOfSql = new URL("../../../scripts/sql/", import.meta.url);
  const files = readdirSync(folderOfSql).filter((name) => name.endsWith(".sql"));
  expect(files).toHaveLength(8);
  for (const file of files)
    expect(readFileSync(new URL(file, folderOfSql), "utf8")).toMatch(
      /^-- Reads: .*\n-- Gives: .*\n(-- .*\n)*CREATE VIEW/
    );
});
