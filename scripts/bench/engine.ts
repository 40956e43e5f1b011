import {spawnSync} from "node:child_process";
import {mkdirSync} from "node:fs";
import {join} from "node:path";
import {bookFolder, inWords, makeBooks, sizesAsked} from "./books.ts";
import {type Case, measure, ratio, type Suite} from "./measure.ts";

const sizes = sizesAsked("ENGINE_SIZES", "1000000,5000000");
const ways = ["ours", "csv", "parquet"] as const;

/** The counts of a book by ourselves and by the SQL in an engine, from CSV and from Parquet: the same figures, and how long each takes. */
export const engine: Suite = {
  name: "engine",
  title: `Counts of a book by an SQL engine, ${sizes.map(inWords).join(", ")} events`,
  run(rounds) {
    makeBooks(sizes);
    const notes = sizes.map(compared);
    const measured = measure(
      sizes.flatMap((size) =>
        ways.map((way): Case => ({name: named[way](size), command: timed(way, size), tells: true}))
      ),
      rounds
    );
    return {
      cases: measured,
      ratios: sizes.flatMap((size) =>
        (["csv", "parquet"] as const).map((way) =>
          ratio(measured, named[way](size), named.ours(size), `DuckDB from ${way} to ours, ${inWords(size)}`)
        )
      ),
      notes: [
        ...notes,
        "Ours: reading the book's files with every check, each piece replayed, counts. DuckDB: its sound rows loaded, counts; Parquet is read where it lies."
      ]
    };
  }
};

const named = {
  ours: (size: number) => `ours, ${inWords(size)}`,
  csv: (size: number) => `DuckDB from CSV, ${inWords(size)}`,
  parquet: (size: number) => `DuckDB from Parquet, ${inWords(size)}`
};

function timed(way: (typeof ways)[number] | "tables", size: number): string[] {
  const tables = join("bench", "tables", String(size));
  return [
    "node",
    "--max-old-space-size=12000",
    "--import",
    "tsx",
    join("scripts", "bench", "countsTimed.ts"),
    way,
    bookFolder(size),
    tables
  ];
}

/**
 * Writes the sound rows of a book, if they are not there, and holds every count and every result of the three ways against each other.
 *
 * @throws Error that names what differs, be it in the last digit only
 */
function compared(size: number): string {
  mkdirSync(join("bench", "tables"), {recursive: true});
  once("tables", size);
  const [ours, ...others] = ways.map((way) => JSON.parse(once(way, size, "--digests")) as Told);
  for (const [index, other] of others.entries())
    for (const [what, digest] of Object.entries(ours!.digests))
      if (other.digests[what] !== digest)
        throw new Error(`${what} of ${named[ways[index + 1]!](size)} is not what ${named.ours(size)} gives.`);
  const what = Object.keys(ours!.digests);
  return `${inWords(size)}: ${what.join(", ")} are the same to the last digit in all ${ways.length} ways (DuckDB ${others[0]!.version}).`;
}

/** What a process tells of one way. */
interface Told {
  version?: string;
  digests: Record<string, string>;
}

function once(way: Parameters<typeof timed>[0], size: number, ...more: string[]): string {
  const [, ...args] = timed(way, size);
  const {status, stdout, stderr} = spawnSync(process.execPath, [...args, ...more], {encoding: "utf8"});
  if (status !== 0) throw new Error(`${way} of ${inWords(size)} failed: ${stderr.slice(-2000)}`);
  return stdout.trim().split("\n").at(-1)!;
}
