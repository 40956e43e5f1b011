import {type Day, dayNumber, dayText, isDay} from "./day.ts";

/** The two orders in which day and month are written as numbers. */
export type DayOrder = "day-first" | "month-first";

/** Every calendar day a cell can mean, by the order under which it means it; empty when it can mean none. */
export type DayReadings = Partial<Record<DayOrder, Day>>;

/** What is known beforehand of how an owner's dates are written. */
export interface DateHabits {
  /** The order the owner's settings name; dotted dates are read month-first only if they say so. */
  order?: DayOrder;
  /** Whether dotted dates are given by both orders: what a column is written in is to be found out. */
  dottedEither?: boolean;
  /** The year from which the spreadsheet counts days; 1900 unless said otherwise. */
  serialsFrom?: 1900 | 1904;
}

/**
 * The names of the twelve months, full and abbreviated, without case, accents and points: English, German, French, Italian,
 * Spanish, Dutch, Portuguese, Danish and Swedish. No name stands for two months.
 */
export const monthNames: readonly (readonly string[])[] = [
  "jan janv january januar januari janner janvier janeiro gen gennaio ene enero",
  "feb febr fev fevr february februar februari fevrier febbraio febrero fevereiro",
  "mar march marz maerz mrz mars maart mrt marts marzo marco",
  "apr april avr avril aprile abr abril",
  "may mai mag maggio mayo mei maio maj",
  "jun june juni juin giu giugno junio junho",
  "jul july juli juil juillet lug luglio julio julho",
  "aug august aout ago agosto augustus augusti",
  "sep sept september septembre set sett settembre septiembre setiembre setembro",
  "oct october okt oktober octobre ott ottobre octubre out outubro",
  "nov november novembre noviembre novembro",
  "dec december dez dezember decembre dic dicembre diciembre dezembro"
].map((names) => names.split(" "));

const monthByName = new Map(
  monthNames.flatMap((names, index) => names.map((name) => [name, String(index + 1)] as const))
);

/** Weekdays in the same languages, written in the same way; which day a name means does not matter here. */
const weekdays = new Set(
  `monday tuesday wednesday thursday friday saturday sunday mon tue tues wed thu thur thurs fri sat sun
  montag dienstag mittwoch donnerstag freitag samstag sonnabend sonntag mo di mi do fr sa so
  lundi mardi mercredi jeudi vendredi samedi dimanche lun mar mer jeu ven sam dim
  lunedi martedi mercoledi giovedi venerdi sabato domenica gio sab dom
  lunes martes miercoles jueves viernes sabado domingo mie jue vie
  maandag dinsdag woensdag donderdag vrijdag zaterdag zondag ma wo vr za zo
  segunda-feira terca-feira quarta-feira quinta-feira sexta-feira segunda terca quarta quinta sexta seg ter qua qui sex
  mandag tirsdag onsdag torsdag fredag lørdag søndag man tir tirs ons tor tors fre lør søn
  tisdag lordag sondag tis lor son`.split(/\s+/)
);

const ordinal = "(?:st|nd|rd|th|er|º)?";
/** What may stand between a day, a month's name and a year: "31. Okt", "Oct., 2026", "31-Oct-26", "31.Okt.2026", "31 de octubre". */
const gap = String.raw`(?:[.,]{0,2} (?:(?:de|del|of) )?|\.?[-/]|\.)`;
const nameGroup = String.raw`(?<name>[\p{L}\p{M}]+)`;
const dayGroup = String.raw`(?<day>\d{1,2})${ordinal}`;
const yearGroup = String.raw`(?<year>\d{4}|\d{2})`;

const yearFirst = /^(?<year>\d{4})(?<mark>[-/.])(?<month>\d{1,2})\k<mark>(?<day>\d{1,2})$/;
const threeNumbers = /^(?<one>\d{1,2})(?<mark>[-/ ]|\. ?)(?<two>\d{1,2})\k<mark>(?<year>\d{4}|\d{2})$/;
const dayAndName = new RegExp(`^${dayGroup}${gap}${nameGroup}${gap}${yearGroup}$`, "iu");
const nameAndDay = new RegExp(`^${nameGroup}${gap}${dayGroup}${gap}${yearGroup}$`, "iu");
const weekdayBefore = /^(?<weekday>[\p{L}\p{M}-]+)[.,]{0,2} (?:den )?/iu;
/** 24:00 is left out: it belongs to the next day. */
const timeBehind =
  /(?:T|,? )(?:[01]?\d|2[0-3])[:.][0-5]\d(?:[:.][0-5]\d(?:[.,]\d+)?)?(?: ?[ap]m)?(?: ?(?:Z|[+-]\d\d(?::?\d\d)?))?$/i;
const wholeSerial = /^(?<days>\d{5})(?:[.,]\d+)?$/;

/**
 * The serial number 0 of each system, as a day number: 1899-12-30, from which a count agrees with the spreadsheet's from
 * 1900-03-01 on, and 1904-01-01.
 */
const serialZero = {1900: dayNumber("1900-03-01") - 61, 1904: dayNumber("1904-01-01")};

/**
 * Every calendar day that the text of a cell can mean. Which of two is meant, `weigh` and `resolve` say. It reads
 *
 * - year first: 2026-10-31, 2026/1/5, 2026.10.31
 * - three numbers: 31/10/2026, 31-10-26, 31 10 2026, under each order by which they are a real day
 * - dotted numbers: 31.10.2026, 3. 4. 26, day-first (the common convention, no source) unless the habits say month-first;
 *   by the other order only where this one gives no real day
 * - a month's name: 31 Oct 2026, 31-Oct-26, October 31st, 2026, 31. Oktober 2026, 31 de octubre de 2026
 * - a spreadsheet's serial number, 46326 or with a time of day 46326.5, if its day is from 2000-01-01 to 2099-12-31
 *
 * A weekday before the date and a time of day behind it are dropped: the day is the one written, in whatever time zone. Two-digit
 * years are 2000 to 2079 and 1980 to 1999 (our choice), and stand last: 26-10-31 is 26 October 2031. No day is guessed for a
 * month or a year alone; 20261031 may be any number.
 *
 * Range: days from 1900-01-01, in texts of at most 40 characters.
 * Source: for serial numbers ECMA-376 part 1, 18.17.4.1, from memory. Checked: tests/book/dates.test.ts
 *
 * @example dayReadings("03/04/2026") // {"day-first": "2026-04-03", "month-first": "2026-03-04"}
 * @example dayReadings("31 Oct 2026") // {"day-first": "2026-10-31", "month-first": "2026-10-31"}
 */
export function dayReadings(text: string, habits: DateHabits = {}): DayReadings {
  const trimmed = text.trim();
  if (trimmed.length > 40) return {};
  const cell = trimmed.replaceAll(/\s+/g, " ");
  const serial = wholeSerial.exec(cell)?.groups;
  if (serial) return eitherWay(serialDay(Number(serial.days), habits.serialsFrom ?? 1900));
  const date = cell.replace(timeBehind, "");
  const before = weekdayBefore.exec(date);
  // The date as it stands comes first: "mar 3 2026" is in March, though "mar" is a Tuesday as well.
  const readings = dateReadings(date, habits);
  return isEmpty(readings) && before && weekdays.has(folded(before.groups!.weekday!))
    ? dateReadings(date.slice(before[0].length), habits)
    : readings;
}

function dateReadings(date: string, habits: DateHabits): DayReadings {
  const iso = yearFirst.exec(date)?.groups;
  if (iso) return eitherWay(realDay(iso.year!, iso.month!, iso.day!));
  const numbers = threeNumbers.exec(date)?.groups;
  if (numbers) {
    const {one, two, year, mark} = numbers;
    const readings = {
      ...reading("day-first", realDay(year!, two!, one!)),
      ...reading("month-first", realDay(year!, one!, two!))
    };
    return mark!.startsWith(".") && !habits.dottedEither ? preferred(readings, habits.order ?? "day-first") : readings;
  }
  const named = (dayAndName.exec(date) ?? nameAndDay.exec(date))?.groups;
  const month = named && monthByName.get(folded(named.name!));
  return eitherWay(month && realDay(named.year!, month, named.day!));
}

/** The reading under the order if there is one, else what there is. */
function preferred(readings: DayReadings, order: DayOrder): DayReadings {
  return readings[order] === undefined ? readings : reading(order, readings[order]);
}

function eitherWay(day: Day | undefined): DayReadings {
  return {...reading("day-first", day), ...reading("month-first", day)};
}

function reading(order: DayOrder, day: Day | undefined): DayReadings {
  return day === undefined ? {} : {[order]: day};
}

function isEmpty(readings: DayReadings): boolean {
  return Object.keys(readings).length === 0;
}

function realDay(year: string, month: string, day: string): Day | undefined {
  const fullYear = year.length === 4 ? year : `${Number(year) < 80 ? 20 : 19}${year}`;
  const text = `${fullYear}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;
  return isDay(text) ? text : undefined;
}

function serialDay(days: number, from: 1900 | 1904): Day | undefined {
  const day = dayText(serialZero[from] + days);
  return day >= "2000-01-01" && day <= "2099-12-31" ? day : undefined;
}

/** A word without case and accents. */
function folded(word: string): string {
  return word.normalize("NFKD").replaceAll(/\p{M}/gu, "").toLowerCase();
}
