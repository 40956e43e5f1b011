import {type Unit, unitOf} from "./units.ts";

/** Which of the two marks stands before the decimals. */
export type DecimalMark = "point" | "comma";

/**
 * What a text says as a number, once for each decimal mark under which it is one. Both keys with the same value: the mark
 * does not matter; both with different values: only the rest of the column can tell; no key: it is no number.
 */
export type Readings = {[mark in DecimalMark]?: number};

/** No number, fraction or measure that a person writes is longer; it also bounds the work done on any text. */
const longest = 64;

/** Space, no-break, thin and narrow no-break space; the apostrophes of Swiss numbers. */
const otherGroupMarks = " \u00a0\u2009\u202f'’";
const patterns = {point: numberPattern("\\.", ","), comma: numberPattern(",", ".")};

const denominators = [2, 4, 8, 16, 32, 64];
/** Units that are halved on, in fractions. */
const halved = ["in", "ft", "oz", "lb"];
/** The smaller unit that is written behind a larger, and how many make one of it. */
const smallerUnits = new Map([
  ["ft", {name: "in", count: 12}],
  ["lb", {name: "oz", count: 16}]
]);

/** An amount, then a unit that begins with a letter or sign and has no digit but a closing 3, as in ft3. */
const withUnit = /^([^\p{L}%°º˚℃℉"“”″]+?)\s*([\p{L}%°º˚℃℉"“”″'’′][^\d]*3?)$/u;
/** Whole feet or pounds, then inches or ounces; a hyphen may stand between, as on drawings. Three digits are a group: 1'655. */
const compound = /^(\d+)\s*(\p{L}+\.?|['’′])\s*-?\s*(?!\d{3})([\d.,½¼¾⅛⅜⅝⅞].*)$/u;

/** Currency signs, each followed by the ISO 4217 codes that it may stand for. */
const currencies = ["£ GBP", "€ EUR", "$ USD CAD AUD NZD", "¥ JPY", "kr SEK NOK DKK", "Fr CHF", "zł PLN", "Kč CZK"].map(
  (line) => line.toLowerCase().split(" ")
);
/** A sign, a mark before, an amount, a mark behind. "Fr.50" is 50 or 0.50, so an abbreviation's dot needs a space behind it. */
const withCurrency =
  /^([+\-−]?)(?:(\p{L}*\p{Sc}|\p{L}+\.?(?=\s)|\p{L}+(?=[\d+\-−]))\s*)?([\d.,+\-−](?:[^\p{L}\p{Sc}]*[\d.,])?)(?:\s*(\p{Sc}|\p{L}+\.?))?$/u;

/**
 * A text as a number, under each decimal mark under which the whole of it, but for spaces around, is one.
 *
 * Thousands may be grouped by the other mark, a space or an apostrophe: one kind in a number, and each group of three
 * digits. A sign may stand before: +, - or − (U+2212). Exponents, brackets, signs behind and digits of other scripts are
 * no number here.
 *
 * Trap: "1.655" is 1.655 or 1655. "0,125" is no thousands: a group never begins with 0.
 * Range: texts of up to 64 characters; the longer ones are no numbers. Beyond 15 digits the nearest double.
 * Source: stricter than W3C, Model for Tabular Data and Metadata on the Web (2015), 6.4.2, which lets groups have any length.
 * Checked: tests/book/quantity.test.ts, against that grammar and the numbers of Intl in six countries.
 *
 * @returns no key when it is no number
 * @example numberReadings("12,5") // {comma: 12.5}
 * @example numberReadings("1.655") // {point: 1.655, comma: 1655}
 */
export function numberReadings(text: string): Readings {
  const written = oneLine(text);
  const readings: Readings = {};
  if (patterns.point.test(written)) readings.point = plain(written.replaceAll(",", ""));
  if (patterns.comma.test(written)) readings.comma = plain(written.replaceAll(".", "").replace(",", "."));
  return readings;
}

/**
 * A cell as a quantity in the base unit of its dimension (mm, g, kg/m³, %, °C), under each decimal mark under which it is
 * one. `unit` is the unit of the column.
 *
 * A unit written in the cell goes before the column's: "1.66 kg" in a column of grams is 1660 g. Feet and inches, and
 * pounds and ounces, may be written together, `4' 11 1/8"`, "3 lb 10 oz": the first whole, the second less than one of
 * the first. In inches, feet, pounds and ounces halves down to sixty-fourths may be written as fractions: "59 1/8",
 * "59-1/8", "59⅛". The mark does not matter to them, so they read the same under both.
 *
 * Traps: a unit of another dimension than the column's is no reading. Without a unit of the column only plain numbers
 * are read.
 *
 * Checked: tests/book/quantity.test.ts
 *
 * @returns no key when it is no such quantity
 * @example quantityReadings('59 1/2"', {unit: unitOf("mm")}) // {point: 1511.3, comma: 1511.3}
 */
export function quantityReadings(text: string, {unit}: {unit?: Unit | undefined} = {}): Readings {
  if (!unit) return numberReadings(text);
  const written = oneLine(text);
  const together = compoundReadings(written, unit);
  if (together) return together;
  const [amount, own] = amountAndUnit(written);
  if (own) return own.dimension === unit.dimension ? converted(amountReadings(amount, own), own) : {};
  return converted(amountReadings(written, unit), unit);
}

/**
 * A cell as an amount of money, in the currency that it is kept in, under each decimal mark under which it is one. A
 * currency sign or code may stand before or behind: "£12.50", "12,50 €", "USD 12.50", "-£5".
 *
 * Trap: without `currency` any known sign is read over. With it, as it stands in the workshop's settings, a sign or code
 * of another currency is no reading; "$" and "kr" go with each country that has them.
 *
 * Source: codes of ISO 4217, from memory.
 * Checked: tests/book/quantity.test.ts
 *
 * @returns no key when it is no amount
 * @example moneyReadings("12,50 €") // {comma: 12.5}
 */
export function moneyReadings(text: string, {currency}: {currency?: string | undefined} = {}): Readings {
  const written = oneLine(text);
  const [, sign, before, amount, behind] = withCurrency.exec(written) ?? [];
  const mark = before ?? behind;
  if (mark === undefined) return numberReadings(written);
  if ((before !== undefined && behind !== undefined) || !isCurrency(mark, currency)) return {};
  return numberReadings(`${sign}${amount}`);
}

/** A text without the spaces around; nothing when it is too long or has several lines, of which each may be a number. */
function oneLine(text: string): string {
  const trimmed = text.trim();
  return trimmed.length > longest || /[\n\r]/.test(trimmed) ? "" : trimmed;
}

/** Digits in strict groups of three, or ungrouped; decimals, or none, or nothing but decimals. */
function numberPattern(decimalMark: string, groupMark: string): RegExp {
  const whole = `\\d+|[1-9]\\d{0,2}([${groupMark}${otherGroupMarks}])\\d{3}(?:\\1\\d{3})*`;
  return new RegExp(`^[+\\-−]?(?:(?:${whole})(?:${decimalMark}\\d*)?|${decimalMark}\\d+)$`);
}

/** The value of a number whose one remaining mark is a decimal point; 0 for −0. */
function plain(text: string): number {
  return Number(text.replace("−", "-").replace(/[\s'’]/g, "")) + 0;
}

/** A number, or a fraction where the unit is one that is halved on. */
function amountReadings(text: string, unit: Unit): Readings {
  const value = halved.includes(unit.name) ? fraction(text) : undefined;
  return value === undefined ? numberReadings(text) : {point: value, comma: value};
}

/** "59 1/8", "59-1/8", "5/8", "59⅛" or "⅝" as a number; undefined when it is no such fraction. */
function fraction(text: string): number | undefined {
  const [, before = "0", character] = /^(?:(\d+)(?:\s+|-)?)?([½¼¾⅛⅜⅝⅞])$/.exec(text) ?? [];
  // Unicode takes such a character apart into its digits and a fraction slash.
  const spelt = character === undefined ? text : `${before} ${character.normalize("NFKD")}`;
  const [, whole = "0", top, bottom] = /^(?:(\d+)(?:\s+|-))?(\d+)[/⁄](\d+)$/.exec(spelt) ?? [];
  const [numerator, denominator] = [Number(top), Number(bottom)];
  const proper = numerator > 0 && numerator < denominator && denominators.includes(denominator);
  return proper ? Number(whole) + numerator / denominator : undefined;
}

/** A text cut before the unit written at its end; the whole of it and no unit when there is none. */
function amountAndUnit(text: string): [string, Unit | undefined] {
  const [, amount, name] = withUnit.exec(text) ?? [];
  return amount === undefined || name === undefined ? [text, undefined] : [amount, unitOf(name)];
}

function converted(readings: Readings, unit: Unit): Readings {
  const {point, comma} = readings;
  return {
    ...(point === undefined ? {} : {point: unit.toBase(point)}),
    ...(comma === undefined ? {} : {comma: unit.toBase(comma)})
  };
}

/** Feet and inches or pounds and ounces, in the base unit; undefined when it is not written as such. */
function compoundReadings(text: string, unit: Unit): Readings | undefined {
  const [, whole, name, rest] = compound.exec(text) ?? [];
  const larger = name === undefined ? undefined : unitOf(name);
  if (larger?.dimension !== unit.dimension) return undefined;
  const smaller = smallerUnits.get(larger.name);
  const [amount, own] = amountAndUnit(rest!);
  if (!smaller || own?.name !== smaller.name) return undefined;
  const {point = Infinity, comma = Infinity} = amountReadings(amount, own);
  const sum = (value: number) => larger.toBase(Number(whole)) + own.toBase(value);
  return {
    ...(point < smaller.count ? {point: sum(point)} : {}),
    ...(comma < smaller.count ? {comma: sum(comma)} : {})
  };
}

/** Whether a sign or code is one of a currency, and of the one that is kept if that is given. */
function isCurrency(mark: string, kept: string | undefined): boolean {
  const name = currencyName(mark);
  if (!kept) return currencies.some((names) => names.includes(name));
  const own = currencyName(kept);
  return (
    name === own ||
    currencies.some((names) => names.includes(name) && names.includes(own) && (names[0] === name || names[0] === own))
  );
}

function currencyName(text: string): string {
  return text.trim().toLowerCase().replace(/\.$/, "");
}
