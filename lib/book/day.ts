import {check} from "../check.ts";

/** A calendar day as text, "2026-10-31". Text of this form sorts as time does. */
export type Day = string;

const pattern = /^(\d{4})-(\d{2})-(\d{2})$/;
const dayMs = 86_400_000;
const daysOfMonth = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Whether the text is a real calendar day written as 2026-10-31; 2026-02-31 is not. */
export function isDay(text: string): boolean {
  const parts = pattern.exec(text);
  if (!parts) return false;
  const [year, month, day] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
  if (year < 1900 || month < 1 || month > 12 || day < 1) return false;
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return day <= (month === 2 && isLeap ? 29 : daysOfMonth[month - 1]!);
}

/**
 * Whole days from 1970-01-01 to the day; differences of two are days between them, whatever the time zone.
 *
 * @throws RangeError unless the text is a calendar day
 * @example dayNumber("2026-03-01") - dayNumber("2026-02-28") // 1
 */
export function dayNumber(day: Day): number {
  check(isDay(day), "dayNumber: day", "a calendar day like 2026-10-31", day);
  const [year, month, date] = day.split("-");
  return Date.UTC(Number(year), Number(month) - 1, Number(date)) / dayMs;
}

/** The calendar day of a day number: the inverse of `dayNumber`. */
export function dayText(number: number): Day {
  check(Number.isInteger(number), "dayText: number", "a whole number of days", number);
  return new Date(number * dayMs).toISOString().slice(0, 10);
}

/** The month of a day, "2026-10". */
export function monthOf(day: Day): string {
  return day.slice(0, 7);
}

/**
 * The months from one to another, both included, in order.
 *
 * @example months("2025-12", "2026-02") // ["2025-12", "2026-01", "2026-02"]
 */
export function months(from: string, to: string): string[] {
  const list: string[] = [];
  for (let index = monthIndex(from); index <= monthIndex(to); index++) list.push(monthText(index));
  return list;
}

/** Months since year 0: differences are months between. */
export function monthIndex(month: string): number {
  const [year, number] = month.split("-");
  return Number(year) * 12 + Number(number) - 1;
}

/** The month of a month index: the inverse of `monthIndex`. */
export function monthText(index: number): string {
  return `${String(Math.floor(index / 12)).padStart(4, "0")}-${String((index % 12) + 1).padStart(2, "0")}`;
}

/** The last day of a month, "2026-02" → "2026-02-28". */
export function monthEnd(month: string): Day {
  return dayText(dayNumber(`${monthText(monthIndex(month) + 1)}-01`) - 1);
}
