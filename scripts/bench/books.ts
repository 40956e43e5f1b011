import {spawnSync} from "node:child_process";
import {createHash} from "node:crypto";
import {existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {join} from "node:path";

const books = join("bench", "books");

/** Where the book of about so many events lies once it has been made. */
export const bookFolder = (size: number) => join(books, String(size));

/** The sizes of the books, events: those of a variable of the environment, if it is set. */
export function sizesAsked(variable: string, usual: string): number[] {
  const sizes = (process.env[variable] ?? usual).split(",").map(Number);
  const odd = sizes.find((size) => !Number.isInteger(size) || size < 10_000 || size > 5_000_000);
  if (odd !== undefined) throw new Error(`${variable} must be whole numbers from 10000 to 5000000, got ${odd}.`);
  return sizes;
}

/** Books that are not there yet, or that an older generator made, are made: once, as it takes minutes. */
export function makeBooks(sizes: readonly number[]): void {
  const stamp = join(books, "generator");
  const now = generator();
  if (!existsSync(stamp) || readFileSync(stamp, "utf8") !== now) rmSync(books, {recursive: true, force: true});
  mkdirSync(books, {recursive: true});
  writeFileSync(stamp, now);
  for (const size of sizes) {
    const out = bookFolder(size);
    // workshop.json is written last.
    if (existsSync(join(out, "workshop.json"))) continue;
    console.error(`Making ${out} …`);
    const make = ["--import", "tsx", join("scripts", "bench", "make-book.ts"), "--events", String(size), "--out", out];
    const {status, stderr} = spawnSync(process.execPath, make, {encoding: "utf8"});
    if (status !== 0) throw new Error(`make-book failed: ${stderr.slice(-2000)}`);
  }
}

/** What the books are made by, in short. */
function generator(): string {
  const sample = join("scripts", "sample");
  const files = [...readdirSync(sample).map((name) => join(sample, name)), join("scripts", "bench", "largeBook.ts")];
  const hash = createHash("sha256");
  for (const file of files.sort()) hash.update(readFileSync(file));
  return hash.digest("hex");
}

/** "5 million" */
export function inWords(size: number): string {
  return size >= 1_000_000 ? `${size / 1_000_000} million` : `${size / 1000} thousand`;
}
