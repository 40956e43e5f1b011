import {halfYearOf} from "../../lib/buying/stageTimes.ts";
import {type Drying, dryingTimes} from "../../lib/seasoning/dryingTimes.ts";
import type {BookAsOf} from "../io/readBook.ts";

const dryings = new WeakMap<object, Drying>();

/** How fast pieces dry, worked out once for a book and a day, as two reports need it. */
export function dryingOf({histories, book}: Pick<BookAsOf, "histories" | "book">): Drying {
  const drying = dryings.get(histories) ?? dryingTimes(histories, book.climate, {halfYearOf});
  dryings.set(histories, drying);
  return drying;
}
