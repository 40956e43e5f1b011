import {resolve} from "node:path";
import {fileURLToPath} from "node:url";
import {isDay} from "../../lib/book/day.ts";
import {faultLines} from "../faultLines.ts";
import {type BookAsOf, bookAsOf, readBook, today} from "../io/readBook.ts";
import {UserError} from "../io/writeReport.ts";
import {tellOpened} from "./session.ts";

/** The environment variables by which the runner says which book a notebook opens, and for which day. */
export const variables = {book: "NOTEBOOK_BOOK", asOf: "NOTEBOOK_AS_OF"} as const;

let opened: BookAsOf | undefined;

/**
 * The book the runner was told of (--book, --as-of), replayed up to its day; without a runner, the sample book. Read once a run. The page
 * says at its end which files it was.
 *
 * @throws Error when the book cannot be used, with its faults
 * @example const {histories, book, asOf} = open()
 */
export function open(): BookAsOf {
  opened ??= read(
    process.env[variables.book] ?? fileURLToPath(new URL("../../sample-data", import.meta.url)),
    process.env[variables.asOf]
  );
  tellOpened(opened);
  return opened;
}

function read(folder: string, day: string | undefined): BookAsOf {
  if (day !== undefined && !isDay(day))
    throw new UserError(`${variables.asOf} must be a calendar day like 2026-10-31, got “${day}”.`);
  const found = readBook(resolve(folder), day === undefined ? today() : undefined);
  const {book, problems} = found;
  if (!book) throw new BookError(`The book cannot be used:\n${faultLines(problems).lines.join("\n")}`);
  const asOf = bookAsOf({...found, book}, day);
  if (asOf.histories.lots.length === 0)
    throw new BookError(`--as-of must be on or after the first purchase, got “${asOf.asOf}”.`);
  return asOf;
}

/** The book cannot be used as it is. */
export class BookError extends Error {}
