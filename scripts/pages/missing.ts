import type {BookCounted, FileCounted} from "../../lib/book/bookCounts.ts";
import {type Day, dayNumber, dayText} from "../../lib/book/day.ts";
import {shown} from "../../lib/report/quantity.ts";
import {listed} from "./listed.ts";

/** Longer than so many days nobody writes nothing. */
const longestGap = 31;

/** Where so many rows of a file are missing, and this part of it, the figures may be others altogether. */
const [mostRows, mostShare] = [5, 0.02];

/** What is missing of the books behind a page, so much that it comes before what the page found: one sentence each. */
export function missing(books: readonly BookCounted[], asOf: Day): string[] {
  return [...silence(books, asOf), ...muchMissing(books)];
}

/** That nothing was entered for long before the day asked about, and what to do. */
export function silence(books: readonly Pick<BookCounted, "workshop" | "entered">[], asOf: Day): string[] {
  const daysOf = ({entered}: Pick<BookCounted, "entered">) => dayNumber(asOf) - dayNumber(entered);
  const silent = books.filter((book) => daysOf(book) > longestGap);
  const [first] = silent;
  if (!first) return [];
  const doubt = "as shafts, orders and yields may be wrong here";
  if (first.workshop === undefined)
    return [
      `By the book nothing was bought, done or ordered from ${dayText(dayNumber(first.entered) + 1)} to ${asOf} (${daysOf(first)} days): enter what was, or ask for ${first.entered} with --as-of, ${doubt}.`
    ];
  const since = silent.map(({workshop, entered}) => `${workshop} after ${entered}`);
  return [
    `By the books nothing was bought, done or ordered at ${listed(since)}, to ${asOf}: enter what was and make these counts anew, ${doubt}.`
  ];
}

/** That much of some files is in no figure. */
function muchMissing(books: readonly BookCounted[]): string[] {
  const files = books.flatMap(({workshop, files: own}) => own.map((file) => ({workshop, ...file})));
  const share = ({rows, setAside}: FileCounted) => setAside / rows;
  const worst = files
    .filter((file) => file.setAside >= mostRows && share(file) >= mostShare)
    .sort((a, b) => share(b) - share(a));
  if (worst.length === 0) return [];
  const said = worst
    .slice(0, 3)
    .map(
      ({workshop, file, rows, setAside}) =>
        `${shown(setAside, "count")} of ${shown(rows, "count")} rows of ${workshop === undefined ? "" : `${workshop}’s `}${file}`
    );
  const more = worst.length - said.length;
  return [
    `Much is missing: ${listed([...said, ...(more > 0 ? [`some of ${more} more files`] : [])])} were set aside for faults and are in no figure here; decide nothing by them before the rows are mended, as npm run check tells of your book.`
  ];
}
