import {dayNumber, months} from "../../lib/book/day.ts";
import type {Histories} from "../../lib/book/histories.ts";
import {Settings} from "../../lib/book/settings.ts";

/** A book that has nothing but orders: `shafts` of ash in each month from the first on, and what workshop.json says. */
export function orderBook(first: string, shafts: readonly number[], asOf: string, settings: unknown = {}): Histories {
  const known = months(first, "2099-12").slice(0, shafts.length);
  const orders = known.flatMap((month, i) =>
    shafts[i] === 0
      ? []
      : [{order: `O${i}`, orderedOn: `${month}-10`, species: "ash", quantity: shafts[i]!, row: i + 2}]
  );
  return {settings: Settings.parse(settings), asOf: dayNumber(asOf), lots: [], orders, pieces: [], problems: []};
}
