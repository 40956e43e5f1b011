import {readFileSync} from "node:fs";
import {bookAsOf, readBook} from "../../scripts/io/readBook.ts";

/** The values the sample book was made with; see the file's own "about". */
export const truth = JSON.parse(readFileSync("sample-data/truth.json", "utf8"));

const {book, ...rest} = readBook("sample-data");
if (!book) throw new Error("the sample book cannot be read");

/** The sample book on its last day. */
export const now = bookAsOf({...rest, book}, truth.asOf).histories;

export const {climate} = book;

export const within = (value: number, low: number | undefined, high: number | undefined) =>
  low !== undefined && high !== undefined && low <= value && value <= high;

/**
 * The fewest of `n` independent 95 % intervals that may cover before chance is no longer an excuse: fewer have a chance of under
 * 1 in 1000. For intervals known to cover less often hand in what they do cover.
 */
export function fewestCovering(n: number, level = 0.95): number {
  let [p, below] = [(1 - level) ** n, 0];
  for (let k = 0; k <= n; k++) {
    below += p;
    if (below >= 0.001) return k;
    p *= ((n - k) / (k + 1)) * (level / (1 - level));
  }
  return n;
}
