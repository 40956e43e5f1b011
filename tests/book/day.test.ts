import fc from "fast-check";
import {expect, test} from "vitest";
import {dayNumber, dayText, isDay, monthEnd, monthIndex, monthOf, months, monthText} from "../../lib/book/day.ts";

test.each(["2026-10-31", "2024-02-29", "2000-02-29", "1900-01-01"])("isDay(%j) holds", (text) =>
  expect(isDay(text)).toBe(true)
);

// 1900 and 2100 are no leap years, 2000 was one: the Gregorian rule, common knowledge.
test.each([
  "2026-02-31",
  "2026-02-29",
  "2100-02-29",
  "2026-13-01",
  "2026-00-10",
  "2026-01-00",
  "2026-1-5",
  "31.10.2026",
  "10/31/2026",
  "2026-10-31T00:00",
  " 2026-10-31",
  "2026-10-31\n",
  "1899-12-31",
  "0026-10-31",
  "２０２６-10-31",
  ""
])("isDay(%j) does not hold", (text) => expect(isDay(text)).toBe(false));

// POSIX.1, "Seconds Since the Epoch": 86 400 seconds a day from 1970-01-01; 1 000 000 000 s fell on 2001-09-09, from memory.
test("dayNumber counts from 1970-01-01", () => {
  expect(dayNumber("1970-01-01")).toBe(0);
  expect(dayNumber("1970-01-02")).toBe(1);
  expect(dayNumber("2001-09-09")).toBe(Math.floor(1_000_000_000 / 86_400));
});

test("dayNumber of a day after February tells leap years apart", () => {
  expect(dayNumber("2025-03-01") - dayNumber("2025-02-28")).toBe(1);
  expect(dayNumber("2024-03-01") - dayNumber("2024-02-28")).toBe(2);
});

test("dayNumber counts a day on which clocks change as one", () => {
  expect(dayNumber("2026-03-30") - dayNumber("2026-03-29")).toBe(1);
  expect(dayNumber("2026-10-26") - dayNumber("2026-10-25")).toBe(1);
});

test("dayNumber refuses what is no day, and dayText what is no whole number", () => {
  expect(() => dayNumber("2026-02-31")).toThrow(
    new RangeError('dayNumber: day must be a calendar day like 2026-10-31, got "2026-02-31".')
  );
  expect(() => dayText(1.5)).toThrow(new RangeError("dayText: number must be a whole number of days, got 1.5."));
});

test("dayText turns dayNumber round, and text sorts as time does", () => {
  const number = fc.integer({min: dayNumber("1900-01-01"), max: dayNumber("2199-12-31")});
  fc.assert(
    fc.property(number, number, (a, b) => {
      expect(dayNumber(dayText(a))).toBe(a);
      expect(dayText(a) < dayText(b)).toBe(a < b);
    })
  );
});

test('monthOf("2026-10-31") is "2026-10"', () => expect(monthOf("2026-10-31")).toBe("2026-10"));

test('months("2025-12", "2026-02") crosses the year, and is empty the other way round', () => {
  expect(months("2025-12", "2026-02")).toEqual(["2025-12", "2026-01", "2026-02"]);
  expect(months("2026-02", "2026-02")).toEqual(["2026-02"]);
  expect(months("2026-02", "2025-12")).toEqual([]);
});

test("monthText turns monthIndex round; a year is twelve", () => {
  for (const month of months("1999-11", "2002-02")) expect(monthText(monthIndex(month))).toBe(month);
  expect(monthIndex("2026-05") - monthIndex("2025-05")).toBe(12);
});

test.each([
  ["2026-02", "2026-02-28"],
  ["2024-02", "2024-02-29"],
  ["2026-04", "2026-04-30"],
  ["2026-12", "2026-12-31"]
])('monthEnd("%s") is %s', (month, end) => expect(monthEnd(month)).toBe(end));
