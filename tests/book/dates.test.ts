import fc from "fast-check";
import {afterEach, expect, test} from "vitest";
import * as XLSX from "xlsx";
import {type DayOrder, type DayReadings, dayReadings, monthNames} from "../../lib/book/dates.ts";
import {dayNumber, dayText, isDay} from "../../lib/book/day.ts";

const either = (day: string): DayReadings => ({"day-first": day, "month-first": day});
const dayFirst = (day: string): DayReadings => ({"day-first": day});
const monthFirst = (day: string): DayReadings => ({"month-first": day});
const halloween = "2026-10-31";

test.each([
  "2026-10-31",
  "2026/10/31",
  "2026.10.31",
  "  2026-10-31\t",
  "\u00a02026-10-31\u00a0",
  "2026-10-31T00:00:00",
  "2026-10-31 14:30",
  "2026-10-31T08:00:00.000Z",
  "2026-10-31T23:30:00-05:00",
  "2026-10-31  14:30 +01",
  "31 Oct 2026",
  "31 oct. 2026",
  "31-Oct-26",
  "31/OCT/2026",
  "31.Okt.2026",
  "31 October 2026",
  "31st October 2026",
  "31st of October, 2026",
  "Oct 31, 2026",
  "Oct. 31 2026",
  "October 31 2026",
  "October 31st, 2026",
  "31. Oktober 2026",
  "31 de octubre de 2026",
  "31 de octubre del 2026",
  "31\u00a0octobre\u00a02026",
  "Sat 31 Oct 2026",
  "Saturday, October 31, 2026",
  "Samstag, 31. Oktober 2026",
  "Sa., 31. Okt. 2026",
  "lørdag den 31. oktober 2026",
  "31 Oct 2026 14:30",
  "Oct 31, 2026, 2:05\u202fPM"
])("dayReadings(%j) is 2026-10-31 in either order", (text) => expect(dayReadings(text)).toEqual(either(halloween)));

test.each<[string, DayReadings]>([
  ["31/10/2026", dayFirst(halloween)],
  ["31-10-2026", dayFirst(halloween)],
  ["31/10/26", dayFirst(halloween)],
  ["31 10 2026", dayFirst(halloween)],
  ["31/10/2026 8:05", dayFirst(halloween)],
  ["Sat 31/10/2026", dayFirst(halloween)],
  ["10/31/2026", monthFirst(halloween)],
  ["10/31/2026 2:05 PM", monthFirst(halloween)],
  ["03/04/2026", {"day-first": "2026-04-03", "month-first": "2026-03-04"}],
  ["3-4-26", {"day-first": "2026-04-03", "month-first": "2026-03-04"}],
  ["03/03/2026", either("2026-03-03")],
  ["29/02/2028", dayFirst("2028-02-29")],
  ["26-10-31", dayFirst("2031-10-26")],
  ["2026-1-5", either("2026-01-05")],
  ["1er mars 2026", either("2026-03-01")],
  ["1º de março de 2026", either("2026-03-01")],
  ["2nd Sept 2026", either("2026-09-02")],
  ["3. Mrz 2026", either("2026-03-03")],
  ["3. Ma\u0308rz 2026", either("2026-03-03")]
])("dayReadings(%j) is %j", (text, readings) => expect(dayReadings(text)).toEqual(readings));

test.each<[string, DayOrder | undefined, DayReadings]>([
  ["31.10.2026", undefined, dayFirst(halloween)],
  ["31.10.2026 08:05:00", undefined, dayFirst(halloween)],
  ["Sa 31.10.2026", undefined, dayFirst(halloween)],
  ["3.4.26", undefined, dayFirst("2026-04-03")],
  ["3. 4. 2026", undefined, dayFirst("2026-04-03")],
  ["03.25.2026", undefined, monthFirst("2026-03-25")],
  ["3.4.26", "day-first", dayFirst("2026-04-03")],
  ["3.4.26", "month-first", monthFirst("2026-03-04")],
  ["03.25.2026", "month-first", monthFirst("2026-03-25")],
  ["31.10.2026", "month-first", dayFirst(halloween)]
])("dotted dayReadings(%j), order %s, is %j", (text, order, readings) =>
  expect(dayReadings(text, order ? {order} : {})).toEqual(readings)
);

test("the order of the settings changes no date but a dotted one", () => {
  for (const order of ["day-first", "month-first"] as const)
    for (const text of ["03/04/2026", "31/10/2026", "2026.03.04", "3. Apr. 2026", "46326"])
      expect(dayReadings(text, {order})).toEqual(dayReadings(text));
});

test.each([
  "",
  " ",
  "-",
  "Oct 2026",
  "2026",
  "10/2026",
  "2026-10",
  "Oct 31",
  "20261031",
  "31102026",
  "2026-02-31",
  "31/02/2026",
  "29/02/2026",
  "00/01/2026",
  "1/0/2026",
  "2026-13-01",
  "13/13/2026",
  "32 Oct 2026",
  "31 Nov 2026",
  "31.10-2026",
  "31/10-2026",
  "31/10/026",
  "31/10/1899",
  "1899-12-31",
  "31 Foo 2026",
  "Lot 31 Oct 2026",
  "31 Oct 2026 or later",
  "31/10/2026?",
  "2026-10-31 25:00",
  "2026-10-31T24:00",
  "2026-10-31 14:60",
  "14:30",
  "٣١/١٠/٢٠٢٦",
  "３１/１０/２０２６",
  "３１ Oct 2026",
  "-46326",
  "46 326",
  "46326.",
  "046326",
  "1e5",
  "Sat 46326"
])("dayReadings(%j) is no day", (text) => expect(dayReadings(text)).toEqual({}));

test("two-digit years are those from 1980 to 2079", () => {
  for (let year = 1980; year <= 2079; year++) {
    const short = String(year).slice(2);
    expect(dayReadings(`31/10/${short}`)).toEqual(dayFirst(`${year}-10-31`));
    expect(dayReadings(`31 Oct ${short}`)).toEqual(either(`${year}-10-31`));
  }
});

test("a text of more than 40 characters is no day, and a very long one takes no time", () => {
  expect(dayReadings(`31 Oct${" ".repeat(30)}2026`)).toEqual(either(halloween));
  expect(dayReadings(`31 Oct${" ".repeat(31)}2026`)).toEqual({});
  expect(dayReadings(`${" ".repeat(100)}31 Oct 2026${" ".repeat(100)}`)).toEqual(either(halloween));
  expect(dayReadings(`31 Oct 2026${" ".repeat(1e6)}x`)).toEqual({});
});

// W3C, Model for Tabular Data and Metadata on the Web, "Formats for dates and times" (6.4.4 in the Recommendation of 2015): the
// date formats with the examples printed there, read in the editors' draft (github.com/w3c/csvw, syntax/index.html at 0095c7a).
// yyyyMMdd, 20150322 there, is left out on purpose: here it may be any number.
test.each<[string, string, DayReadings]>([
  ["yyyy-MM-dd", "2015-03-22", either("2015-03-22")],
  ["dd-MM-yyyy", "22-03-2015", dayFirst("2015-03-22")],
  ["d-M-yyyy", "22-3-2015", dayFirst("2015-03-22")],
  ["MM-dd-yyyy", "03-22-2015", monthFirst("2015-03-22")],
  ["M-d-yyyy", "3-22-2015", monthFirst("2015-03-22")],
  ["dd/MM/yyyy", "22/03/2015", dayFirst("2015-03-22")],
  ["d/M/yyyy", "22/3/2015", dayFirst("2015-03-22")],
  ["MM/dd/yyyy", "03/22/2015", monthFirst("2015-03-22")],
  ["M/d/yyyy", "3/22/2015", monthFirst("2015-03-22")],
  ["dd.MM.yyyy", "22.03.2015", dayFirst("2015-03-22")],
  ["d.M.yyyy", "22.3.2015", dayFirst("2015-03-22")],
  ["MM.dd.yyyy", "03.22.2015", monthFirst("2015-03-22")],
  ["M.d.yyyy", "3.22.2015", monthFirst("2015-03-22")],
  ["yyyy-MM-ddTHH:mm:ss", "2015-03-15T15:02:37", either("2015-03-15")],
  ["yyyy-MM-ddTHH:mm:ssXXX", "2015-03-15T15:02:37-05:00", either("2015-03-15")],
  ["M/d/yyyy HH:mm", "3/22/2015 15:02", monthFirst("2015-03-22")],
  ["dd.MM.yyyy HH:mm:ss", "22.03.2015 15:02:37", dayFirst("2015-03-22")]
])("the W3C's format %s, %s, is read", (_, text, readings) => expect(dayReadings(text)).toEqual(readings));

// The formats of ten countries, and the names of months and weekdays in nine languages, are those of the Unicode CLDR in Node's Intl.
const orderOf: Record<string, DayOrder> = {
  "en-GB": "day-first",
  "en-US": "month-first",
  "de-DE": "day-first",
  "fr-FR": "day-first",
  "it-IT": "day-first",
  "es-ES": "day-first",
  "nl-NL": "day-first",
  "pt-PT": "day-first",
  "da-DK": "day-first",
  "sv-SE": "day-first" // writes the year first
};
const locales = Object.keys(orderOf);

const styles: Record<string, Intl.DateTimeFormatOptions> = {
  numeric: {day: "numeric", month: "numeric", year: "numeric"},
  "two-digit": {day: "2-digit", month: "2-digit", year: "2-digit"},
  short: {day: "numeric", month: "short", year: "numeric"},
  long: {day: "numeric", month: "long", year: "numeric"},
  "short with weekday": {weekday: "short", day: "numeric", month: "short", year: "numeric"},
  "long with weekday": {weekday: "long", day: "numeric", month: "long", year: "numeric"},
  "numeric with time": {day: "numeric", month: "numeric", year: "numeric", hour: "numeric", minute: "2-digit"}
};

test.each(Object.keys(styles))("every day of 2027 and 2028 is read as the ten countries write it, %s", (style) => {
  const noon = (day: string) => new Date(`${day}T12:30:00Z`);
  const wrong: string[] = [];
  let read = 0;
  for (const locale of locales) {
    // Two-digit years written first, as in 27-01-05, cannot be told from days: they are no form of ours.
    if (style === "two-digit" && locale === "sv-SE") continue;
    const format = new Intl.DateTimeFormat(locale, {...styles[style], timeZone: "UTC"});
    for (let number = dayNumber("2027-01-01"); number <= dayNumber("2028-12-31"); number++) {
      const day = dayText(number);
      const text = format.format(noon(day));
      const readings = dayReadings(text);
      const named = /long/.test(style);
      if (readings[orderOf[locale]!] !== day || (named && readings["month-first"] !== readings["day-first"]))
        wrong.push(`${locale}: ${text} → ${JSON.stringify(readings)}`);
      read++;
    }
  }
  expect(wrong.slice(0, 10)).toEqual([]);
  expect(read).toBeGreaterThanOrEqual(9 * 731);
});

const fold = (word: string) =>
  word
    .normalize("NFKD")
    .replaceAll(/[\u0300-\u036f.]/g, "")
    .toLowerCase();

test("no month's name of the nine languages means two months", () => {
  const months = new Map<string, Set<number>>();
  const add = (name: string, month: number) => months.set(name, (months.get(name) ?? new Set()).add(month));
  for (const locale of locales)
    for (const width of ["long", "short"] as const)
      for (let month = 1; month <= 12; month++)
        add(
          fold(new Intl.DateTimeFormat(locale, {month: width, timeZone: "UTC"}).format(Date.UTC(2026, month - 1))),
          month
        );
  expect(months.size).toBeGreaterThan(80);
  for (const [index, names] of monthNames.entries()) for (const name of names) add(name, index + 1);
  expect([...months].filter(([, meant]) => meant.size > 1)).toEqual([]);
  expect(monthNames.map((names) => new Set(names).size)).toEqual(monthNames.map((names) => names.length));
  expect(monthNames.length).toBe(12);
});

test.each(locales)("each month's name alone in %s, long and short, is read", (locale) => {
  for (const width of ["long", "short"] as const)
    for (let month = 1; month <= 12; month++) {
      const name = new Intl.DateTimeFormat(locale, {month: width, timeZone: "UTC"}).format(Date.UTC(2026, month - 1));
      for (const written of [name, name.toUpperCase(), name.normalize("NFD"), fold(name), `${fold(name)}.`])
        expect(dayReadings(`5 ${written} 2026`), written).toEqual(either(`2026-${String(month).padStart(2, "0")}-05`));
    }
});

test("every name of the table is read as its month, written either way round", () => {
  for (const [index, names] of monthNames.entries())
    for (const name of names) {
      const readings = either(`2026-${String(index + 1).padStart(2, "0")}-05`);
      expect(dayReadings(`5 ${name} 2026`), name).toEqual(readings);
      expect(dayReadings(`${name} 5, 2026`), name).toEqual(readings);
    }
});

test('"mar" is a month before a day, and a Tuesday before a date', () => {
  expect(dayReadings("mar 3 2026")).toEqual(either("2026-03-03"));
  expect(dayReadings("mar. 6 oct. 2026")).toEqual(either("2026-10-06"));
  expect(dayReadings("mar 31/3/2026")).toEqual(dayFirst("2026-03-31"));
});

// SSF of the package xlsx: another's reading of serial numbers, in both systems.
test.each([1900, 1904] as const)("serial numbers from %s are the days that SSF makes of them", (serialsFrom) => {
  let read = 0;
  for (let serial = 30_000; serial <= 80_000; serial++) {
    const {y, m, d} = XLSX.SSF.parse_date_code(serial, {date1904: serialsFrom === 1904});
    const day = `${y}-${String(m).padStart(2, "0")}-${String(d).padStart(2, "0")}`;
    const readings = dayReadings(String(serial), {serialsFrom});
    if (y >= 2000 && y <= 2099) {
      if (readings["day-first"] !== day || readings["month-first"] !== day) expect(readings, day).toEqual(either(day));
      read++;
    } else expect(readings, day).toEqual({});
  }
  expect(read).toBe(36_525); // days of a century: 100 × 365 and 25 leap days
});

test("a serial number's fraction is a time of day, with point or comma", () => {
  expect(dayReadings("46326")).toEqual(either(halloween));
  expect(dayReadings("46326.999")).toEqual(either(halloween));
  expect(dayReadings("46326,5")).toEqual(either(halloween));
  expect(dayReadings("36525")).toEqual({});
  expect(dayReadings("36526")).toEqual(either("2000-01-01"));
  expect(dayReadings("73050")).toEqual(either("2099-12-31"));
  expect(dayReadings("73051")).toEqual({});
});

test("no text throws, and whatever is read is a calendar day", () => {
  const word = fc.constantFrom(
    ..."0 1 2 3 9 10 12 13 29 30 31 00 26 99 2026 1899 9999 46326 oct März mar Sat den de T Z AM 8:05 . , - / º ２".split(
      " "
    ),
    " "
  );
  const text = fc.oneof(
    fc.string({unit: "binary"}),
    fc.array(word, {maxLength: 12}).map((words) => words.join(""))
  );
  const order = fc.constantFrom<DayOrder>("day-first", "month-first");
  const serialsFrom = fc.constantFrom<1900 | 1904>(1900, 1904);
  fc.assert(
    fc.property(text, order, serialsFrom, (cell, first, from) => {
      for (const [key, day] of Object.entries(dayReadings(cell, {order: first, serialsFrom: from}))) {
        expect(["day-first", "month-first"]).toContain(key);
        expect(isDay(day)).toBe(true);
      }
    }),
    {numRuns: 5000}
  );
});

test("three numbers are read under each order by which they are a real day, and under no other", () => {
  const part = fc.integer({min: 0, max: 40});
  const year = fc.integer({min: 1900, max: 2199});
  fc.assert(
    fc.property(part, part, year, fc.constantFrom("/", "-", " "), (one, two, y, mark) => {
      const real = (month: number, day: number) => month >= 1 && month <= 12 && day >= 1 && day <= lastDay(y, month);
      const text = (month: number, day: number) =>
        `${y}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
      expect(dayReadings([one, two, y].join(mark))).toEqual({
        ...(real(two, one) && {"day-first": text(two, one)}),
        ...(real(one, two) && {"month-first": text(one, two)})
      });
    })
  );
});

/** The Gregorian rule, common knowledge. */
function lastDay(year: number, month: number): number {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1]!;
}

const zone = process.env.TZ;
afterEach(() => {
  if (zone === undefined) delete process.env.TZ;
  else process.env.TZ = zone;
});

test("the time zone changes no day", () => {
  const texts = [
    "2026-10-31T23:59:00Z",
    "31/10/2026 00:30",
    "10/31/2026",
    "31.10.2026",
    "Oct 31, 2026",
    "46326",
    "46326.99"
  ];
  const offsets = ["Pacific/Kiritimati", "Pacific/Pago_Pago", "Europe/Berlin"].map((name) => {
    process.env.TZ = name;
    for (const text of texts) expect(new Set(Object.values(dayReadings(text)))).toEqual(new Set([halloween]));
    return new Date(2026, 9, 31).getTimezoneOffset();
  });
  expect(offsets).toEqual([-840, 660, -60]); // that the zone was changed: UTC+14, UTC−11, UTC+1 without summer time, from memory
});
