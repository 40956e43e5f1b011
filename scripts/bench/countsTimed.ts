import {createHash} from "node:crypto";
import {existsSync, readFileSync} from "node:fs";
import {join} from "node:path";
import {Argument, Command} from "commander";
import {type CountsOf, countRows} from "../../lib/book/bookCounts.ts";
import {parseSettings, settingsFile} from "../../lib/book/settings.ts";
import {readBook} from "../io/readBook.ts";
import {readBookCounts} from "../io/readBookCounts.ts";
import {writeSoundTables} from "../io/soundTables.ts";
import {allResults} from "../results/allResults.ts";
import {asOf} from "../sample/truth.ts";
import {countsBySql} from "../sql/countsBySql.ts";
import {duckDb, loadCsv, loadParquet, writeParquet} from "./duckDb.ts";

const program = new Command("counts-timed")
  .description(
    "The counts of a book in one of three ways; prints the seconds as JSON, and with --digests what came out."
  )
  .addArgument(new Argument("<way>").choices(["ours", "csv", "parquet", "tables"]))
  .argument("<book>", "the book's folder")
  .argument("<tables>", "the folder of its sound rows; “tables” writes them")
  .option("--digests", "tell a digest of the counts and of each result")
  .parse();
const [way, book, tables] = program.args as ["ours" | "csv" | "parquet" | "tables", string, string];
const {digests} = program.opts<{digests?: boolean}>();

if (way === "tables") await writeTables();
else {
  const start = performance.now();
  const {counts, about} = await (way === "ours" ? ours() : byDuckDb(way));
  const seconds = (performance.now() - start) / 1000;
  console.log(JSON.stringify({seconds, ...about, ...(digests && {digests: digestsOf(counts)})}));
}

function soundBook() {
  const read = readBook(book).book;
  if (!read) throw new Error(`${book} cannot be used as it is.`);
  return read;
}

async function writeTables(): Promise<void> {
  if (existsSync(join(tables, "orders.parquet"))) return;
  writeSoundTables(tables, soundBook());
  const {run, close} = await duckDb();
  await loadCsv(run, tables);
  await writeParquet(run, tables);
  close();
}

async function ours() {
  const {counts} = readBookCounts(book, {asOf});
  if (!counts) throw new Error(`${book} cannot be used as it is.`);
  return {counts, about: {}};
}

async function byDuckDb(from: "csv" | "parquet") {
  const {run, close, version} = await duckDb();
  await (from === "csv" ? loadCsv : loadParquet)(run, tables);
  const {settings} = parseSettings(readFileSync(join(book, settingsFile), "utf8"));
  const counts = await countsBySql(run, settings!, asOf);
  close();
  return {counts, about: {version}};
}

/** What came out, short, question by question: equal only if every number is the same to the last digit. */
function digestsOf(counts: CountsOf): Record<string, string> {
  const {settings: _, ...rows} = countRows(counts);
  const {season, ...results} = allResults(counts);
  const {planner: _planner, ...planned} = season;
  return Object.fromEntries(
    Object.entries({counts: rows, results: {...results, season: planned}}).flatMap(([kind, all]) =>
      Object.entries(all).map(([name, value]) => {
        const hash = createHash("sha256");
        for (const row of Array.isArray(value) ? value : [value]) hash.update(`${JSON.stringify(row, inOneOrder)}\n`);
        return [`${kind}.${name}`, hash.digest("hex")];
      })
    )
  );
}

/** For JSON that does not depend on the order in which a row's values were put into it. */
function inOneOrder(_: string, value: unknown): unknown {
  return typeof value === "object" && value !== null && !Array.isArray(value)
    ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
    : value;
}
