import {check} from "../check.ts";

const months = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December"
];

/**
 * A date as running text says it, day and month never parted by a line's end. Tables and files keep the ISO form. Returns text.
 *
 * @throws RangeError unless the date is written YYYY-MM-DD
 * @example dateText("2026-10-30") // "30 October 2026"
 */
export function dateText(isoDate: string): string {
  const [, year, month, day] = isoDate.match(/^(\d{4})-(\d{2})-(\d{2})$/) ?? [];
  const name = months[Number(month) - 1];
  check(name !== undefined, "dateText: isoDate", "a date as YYYY-MM-DD", isoDate);
  return `${Number(day)}\u00a0${name} ${year}`;
}
