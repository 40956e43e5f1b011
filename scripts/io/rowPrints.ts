import {createHash} from "node:crypto";
import {type Day, monthOf} from "../../lib/book/day.ts";
import type {Book} from "../../lib/book/parseBook.ts";

/** Of each file and month, how many rows there are and a fingerprint of what they say. */
export type RowPrints = Record<string, Record<string, [rows: number, print: string]>>;

/**
 * Counts and fingerprints of the rows used up to a day, by file and month, so that a later book can be asked which months it tells
 * otherwise. A square belongs to the month its lot was bought. Where in its file a row stands makes no difference.
 */
export function rowPrints(book: Book, asOf: Day): RowPrints {
  const bought = new Map(book.lots.map(({lot, boughtOn}) => [lot, boughtOn]));
  return {
    lots: byMonth(book.lots, ({boughtOn}) => boughtOn, asOf),
    squares: byMonth(book.squares, ({lot}) => bought.get(lot) ?? "", asOf),
    events: byMonth(book.events, ({date}) => date, asOf),
    orders: byMonth(book.orders, ({orderedOn}) => orderedOn, asOf),
    climate: byMonth(book.climate, ({date}) => date, asOf)
  };
}

function byMonth<T extends {row?: number}>(
  records: readonly T[],
  dayOf: (record: T) => Day,
  asOf: Day
): Record<string, [number, string]> {
  const months = new Map<string, string[]>();
  for (const record of records) {
    const day = dayOf(record);
    if (day === "" || day > asOf) continue;
    const {row: _, ...said} = record;
    const month = monthOf(day);
    const texts = months.get(month) ?? [];
    if (texts.length === 0) months.set(month, texts);
    // In order of names, whatever order the columns had.
    const ordered: Record<string, unknown> = {};
    for (const name of Object.keys(said).sort()) ordered[name] = said[name as keyof typeof said];
    texts.push(JSON.stringify(ordered));
  }
  return Object.fromEntries(
    [...months].sort().map(([month, texts]) => [month, [texts.length, print(texts.sort().join("\n"))]])
  );
}

const print = (text: string) => createHash("sha256").update(text, "utf8").digest("hex").slice(0, 12);
