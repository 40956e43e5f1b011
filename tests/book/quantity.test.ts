import fc from "fast-check";
import {expect, test} from "vitest";
import {moneyReadings, numberReadings, quantityReadings, type Readings} from "../../lib/book/quantity.ts";
import {unitOf} from "../../lib/book/units.ts";

const both = (value: number): Readings => ({point: value, comma: value});

const numbers: [string, Readings][] = [
  ["12.5", {point: 12.5}],
  ["12,5", {comma: 12.5}],
  ["1.655", {point: 1.655, comma: 1655}],
  ["1,655", {point: 1655, comma: 1.655}],
  ["1655", both(1655)],
  ["1.6550", {point: 1.655}],
  ["1,2345", {comma: 1.2345}],
  ["12.345", {point: 12.345, comma: 12_345}],
  ["1234.567", {point: 1234.567}],
  ["1.655,5", {comma: 1655.5}],
  ["1,655.5", {point: 1655.5}],
  ["1.234.567", {comma: 1_234_567}],
  ["1,234,567.25", {point: 1_234_567.25}],
  ["1 655", both(1655)],
  ["1 655,5", {comma: 1655.5}],
  ["1 655,555", {comma: 1655.555}],
  ["1'655.5", {point: 1655.5}],
  ["1’655.5", {point: 1655.5}],
  ["1\u00a0655", both(1655)],
  ["1\u202f655,5", {comma: 1655.5}],
  ["1\u2009655,5", {comma: 1655.5}],
  ["1 234 567", both(1_234_567)],
  ["0,125", {comma: 0.125}],
  ["0.125", {point: 0.125}],
  ["00.125", {point: 0.125}],
  ["007", both(7)],
  ["0", both(0)],
  ["-0", both(0)],
  [".5", {point: 0.5}],
  [",5", {comma: 0.5}],
  [".125", {point: 0.125}],
  ["5.", {point: 5}],
  ["5,", {comma: 5}],
  ["1,655.", {point: 1655}],
  ["+12.5", {point: 12.5}],
  ["-12.5", {point: -12.5}],
  ["−12,5", {comma: -12.5}],
  ["-1.655", {point: -1.655, comma: -1655}],
  [" \u00a012.5\u202f\t", {point: 12.5}]
];
test.each(numbers)("numberReadings(%j) is %j", (text, readings) =>
  expect(numberReadings(text)).toStrictEqual(readings)
);

const noNumbers = [
  ..."1,23,456|1,2345,|1.23.456|12 5|1 6555|1  655|1..2|1,,655|1.655.5|1,655,5|1.655,5,5|1 234.567.890|1'234 567".split(
    "|"
  ),
  ..."1,234 567|1\u00a0234 567|0 125|0.125.000|012,345.6|1 655 5".split("|"),
  ...[
    "",
    " ",
    ".",
    ",",
    "-",
    "+",
    "- 5",
    "--5",
    "5-",
    "(5)",
    "1e3",
    "1E3",
    "0x1F",
    "0b1",
    "Infinity",
    "NaN",
    "-Infinity"
  ],
  ...[
    "6,5o",
    "l2",
    "1O0",
    "1_000",
    "12;5",
    "12:5",
    "12·5",
    "5%",
    "1/2",
    "½",
    "#VALUE!",
    "1\n655",
    "12.5\n13",
    "5 ,",
    "5 .5"
  ],
  ...["１２", "١٢", "१२", "1٫5", "1２", "二", "five", "n/a", "?", "5\u200b", "\u200b"]
];
test.each(noNumbers)("numberReadings(%j) is none", (text) => {
  expect(numberReadings(text)).toStrictEqual({});
  expect(quantityReadings(text)).toStrictEqual({});
});

/** Fixed-point numbers of up to three decimals. */
const thousandths = fc.integer({min: -2_000_000_000, max: 2_000_000_000}).filter((value) => value !== 0);

// The outside check: the numbers of ECMA-402 Intl, with the data of Unicode CLDR that came with Node. These six write three
// different decimals and groups, a true minus (Sweden), and no group in four digits (Spain).
test.each([
  ["en-GB", "point"],
  ["de-DE", "comma"],
  ["de-CH", "point"],
  ["fr-FR", "comma"],
  ["sv-SE", "comma"],
  ["es-ES", "comma"]
] as const)("a number as written in %s is read under the %s", (locale, mark) => {
  const format = new Intl.NumberFormat(locale, {maximumFractionDigits: 3});
  // Without its data Node falls back on English.
  expect(format.resolvedOptions().locale).toBe(locale);
  expect(format.formatToParts(0.5).find(({type}) => type === "decimal")!.value).toBe(mark === "point" ? "." : ",");
  fc.assert(
    fc.property(thousandths, (value) => {
      expect(numberReadings(format.format(value / 1000))[mark]).toBe(value / 1000);
      expect(numberReadings(format.format(value))[mark]).toBe(value);
    })
  );
});

// Source: W3C, Model for Tabular Data and Metadata on the Web (2015), 6.4.2: numbers consist of an optional sign, a digit, any
// number of digits and groupChars, an optional decimalChar followed by digits, and two consecutive groupChars are an error.
// Read in secondary copies of the text. Its exponents, percent signs, NaN and INF are no numbers here, nor are groups of
// other than three digits; marks with no digit on one side, ".5" and "5.", are ours beyond it.
test("what is read as a number with digits at both ends is one to the W3C grammar, and of the same value", () => {
  const w3c = (text: string, decimal: string, group: string): number | undefined => {
    const inside = (from: string) => from.replace(/[.,']/g, "\\$&");
    const grammar = new RegExp(`^[+-]?[0-9][0-9${inside(group)}]*(${inside(decimal)}[0-9]+)?$`);
    if (!grammar.test(text) || text.includes(group + group)) return undefined;
    return Number(text.replaceAll(group, "").replace(decimal, "."));
  };
  let read = 0;
  const text = fc
    .array(fc.constantFrom("1", "23", "456", "000", ".", ",", "'", " "), {minLength: 1, maxLength: 7})
    .map((parts) => parts.join(""))
    .filter((written) => /^\d.*\d$/.test(written));
  fc.assert(
    fc.property(text, (written) => {
      const {point, comma} = numberReadings(written);
      if (point !== undefined) expect([",", "'", " "].map((group) => w3c(written, ".", group))).toContain(point);
      if (comma !== undefined) expect([".", "'", " "].map((group) => w3c(written, ",", group))).toContain(comma);
      if (point !== undefined || comma !== undefined) read++;
    }),
    {numRuns: 2000}
  );
  expect(read).toBeGreaterThan(100);
});

// As in test 162 of the W3C's tests for it, "consecutive groupChar", by its description in the manifest; the cells are ours.
test.each(["123,,456.789", "1,,234", "1..234", "1''234", "1  234"])("%j has two group marks in a row", (text) =>
  expect(numberReadings(text)).toStrictEqual({})
);

test("exchanging points and commas exchanges the readings", () => {
  const text = fc.array(fc.constantFrom(..."0123456789.,'- "), {maxLength: 12}).map((parts) => parts.join(""));
  const exchanged = (written: string) => written.replace(/[.,]/g, (mark) => (mark === "." ? "," : "."));
  fc.assert(
    fc.property(fc.oneof(text, fc.constantFrom(...numbers.map(([written]) => written))), (written) => {
      const {point, comma} = numberReadings(exchanged(written));
      expect({point, comma}).toEqual({point: numberReadings(written).comma, comma: numberReadings(written).point});
    }),
    {numRuns: 1000}
  );
});

const quantities: [string, string, Readings][] = [
  // In the column's unit.
  ["1655", "g", both(1655)],
  ["1.655", "kg", {point: 1.655 * 1000, comma: 1655 * 1000}],
  ["59.125", "in", {point: 59.125 * 25.4, comma: 59_125 * 25.4}],
  ["13.5", "%", {point: 13.5}],
  ["-3,5", "°C", {comma: -3.5}],
  ["50", "°F", both(10)],
  ["0,68", "g/cm³", {comma: 680}],
  // In the cell's own.
  ["1655 g", "g", both(1655)],
  ["40.3mm", "mm", {point: 40.3}],
  ["1,66 kg", "g", {comma: 1660}],
  ["1.5 m", "mm", {point: 1500}],
  ["150 CM", "mm", both(1500)],
  ["13.5 %", "%", {point: 13.5}],
  ["13,5\u00a0%", "%", {comma: 13.5}],
  ['1.58"', "mm", {point: 1.58 * 25.4}],
  ["1.58''", "mm", {point: 1.58 * 25.4}],
  ["58 oz", "g", both(58 * 28.349523125)],
  ["58 oz.", "lb", both(58 * 28.349523125)],
  ["40.3 mm", "in", {point: 40.3}],
  ["42 lb/ft3", "kg/m³", both(42 * ((453.59237 * 1e6) / 304.8 ** 3))],
  ["680 kg/m³", "lb/ft³", both(680)],
  ["680 kg/m3", "kg/m³", both(680)],
  ["1'655 g", "g", both(1655)],
  ["1’655 mm", "mm", both(1655)],
  ["1'655 in", "in", both(1655 * 25.4)],
  ["1'008\"", "in", both(1008 * 25.4)],
  ["5'", "mm", both(5 * 304.8)],
  ["-40 °F", "°C", both(-40)],
  ["16.5 C", "°C", {point: 16.5}],
  ["16.5 ºC", "°C", {point: 16.5}],
  ["16.5℃", "°C", {point: 16.5}],
  // Pounds and ounces, feet and inches.
  ["3 lb 10 oz", "g", both(3 * 453.59237 + 10 * 28.349523125)],
  ["3lb 10.5oz", "g", {point: 3 * 453.59237 + 10.5 * 28.349523125}],
  ["3lbs. 10,5 oz.", "oz", {comma: 3 * 453.59237 + 10.5 * 28.349523125}],
  ["3lb10oz", "lb", both(3 * 453.59237 + 10 * 28.349523125)],
  ["3 lb 10½ oz", "g", both(3 * 453.59237 + 10.5 * 28.349523125)],
  ["4' 11\"", "mm", both(59 * 25.4)],
  ["4'11\"", "in", both(59 * 25.4)],
  ["4′ 11″", "mm", both(59 * 25.4)],
  ["4’ 11”", "mm", both(59 * 25.4)],
  ["4'-11\"", "mm", both(59 * 25.4)],
  ["4' 0\"", "mm", both(48 * 25.4)],
  ["4'11 1/8\"", "mm", both(59.125 * 25.4)],
  ["4 ft 11 1/8 in", "mm", both(59.125 * 25.4)],
  ["4 feet 11-1/8 inches", "ft", both(59.125 * 25.4)],
  ["4' 1/2\"", "mm", both(48.5 * 25.4)],
  ["4' ½\"", "mm", both(48.5 * 25.4)],
  ["4' 11.5\"", "mm", {point: 59.5 * 25.4}],
  // Fractions.
  ["59 1/8", "in", both(59.125 * 25.4)],
  ["59-1/8", "in", both(59.125 * 25.4)],
  ["59\u00a01/8", "in", both(59.125 * 25.4)],
  ["1 9/16", "in", both(1.5625 * 25.4)],
  ["5/8", "in", both(0.625 * 25.4)],
  ["63/64", "in", both((63 / 64) * 25.4)],
  ["5⁄8", "in", both(0.625 * 25.4)],
  ["59⅛", "in", both(59.125 * 25.4)],
  ["59 ⅛", "in", both(59.125 * 25.4)],
  ["⅝", "in", both(0.625 * 25.4)],
  ["1½", "in", both(1.5 * 25.4)],
  ["1¼", "in", both(1.25 * 25.4)],
  ["1¾", "in", both(1.75 * 25.4)],
  ["1⅛", "in", both(1.125 * 25.4)],
  ["1⅜", "in", both(1.375 * 25.4)],
  ["1⅞", "in", both(1.875 * 25.4)],
  ["⅝", "ft", both(0.625 * 304.8)],
  ['59 1/8"', "mm", both(59.125 * 25.4)],
  ["1½ in.", "mm", both(1.5 * 25.4)],
  ["3 1/2 lb", "g", both(3.5 * 453.59237)],
  ["57 3/4", "oz", both(57.75 * 28.349523125)]
];
// The factors are the definitions of 1959, see tests/book/units.test.ts; sums and products may differ in the last bit.
test.each(quantities)("quantityReadings(%j) in a column of %s is %j", (text, name, readings) => {
  const found = quantityReadings(text, {unit: unitOf(name)});
  expect(Object.keys(found)).toEqual(Object.keys(readings));
  for (const mark of ["point", "comma"] as const)
    if (readings[mark] !== undefined) expect(found[mark]! / readings[mark]).toBeCloseTo(1, 14);
});

test.each([
  // Another dimension than the column's.
  ["1655 g", "mm"],
  ["40 mm", "g"],
  ["13.5 %", "°C"],
  ["13.5 C", "%"],
  ['59"', "g"],
  ["3 lb 10 oz", "mm"],
  ["4' 11\"", "g"],
  ["5'", "%"],
  ["42 lb/ft3", "g"],
  ["42 lb", "kg/m³"],
  // No unit, or more than one.
  ["1655 x", "g"],
  ["1655\ng", "g"],
  ["59\n1/8", "in"],
  ["1655 gr", "g"],
  ["g", "g"],
  ["g 1655", "g"],
  ["1655 g g", "g"],
  ["1655 g dry", "g"],
  ["about 1655", "g"],
  ["1655 g?", "g"],
  ["16.5°", "°C"],
  ["£12", "g"],
  ["40 x 40 mm", "mm"],
  ["40-41 mm", "mm"],
  // No measures in two units: out of order, too much of the smaller, of the larger in parts, with a sign inside.
  ["10 oz 3 lb", "g"],
  ["3 lb 16 oz", "g"],
  ["3.5 lb 2 oz", "g"],
  ["3 lb -2 oz extra", "g"],
  ["4' 12\"", "mm"],
  ["4' 11' ", "mm"],
  ["4\" 11'", "mm"],
  ["4 ft 11 mm", "mm"],
  ["4 ft 11", "mm"],
  ["-4' 11\"", "mm"],
  ["4 ft 11 in 3 mm", "mm"],
  ["1 m 50 cm", "mm"],
  // Fractions of metric units, of other denominators, improper, signed, with decimals or zero.
  ["59 1/8", "mm"],
  ["59⅛", "mm"],
  ["1/2", "g"],
  ["1/2 kg", "g"],
  ["1/2", "%"],
  ["59 1/3", "in"],
  ["59 1/10", "in"],
  ["59 1/128", "in"],
  ["59⅓", "in"],
  ["59 9/8", "in"],
  ["8/8", "in"],
  ["0/8", "in"],
  ["1/0", "in"],
  ["-5/8", "in"],
  ["-⅝", "in"],
  ["59--1/8", "in"],
  ["59.5 1/8", "in"],
  ["59 1/8 1/8", "in"],
  ["59 1 / 8", "in"],
  ["1/2/4", "in"],
  ["59 ⅛⅛", "in"],
  ["⅛59", "in"]
])("quantityReadings(%j) in a column of %s is none", (text, name) =>
  expect(quantityReadings(text, {unit: unitOf(name)})).toStrictEqual({})
);

test.each(["1655 g", "5'", "13.5 %", "59 1/8", "⅝", "3 lb 10 oz", "£12"])(
  "quantityReadings(%j) without a unit of the column is none",
  (text) => expect(quantityReadings(text)).toStrictEqual({})
);

const columnUnits = Object.values({mm: "mm", in: "in", ft: "ft", g: "g", lb: "lb", pcf: "pcf", pct: "%", f: "°F"});

test("a number in a column is the number, in the unit", () => {
  fc.assert(
    fc.property(fc.constantFrom(...columnUnits), thousandths, (name, value) => {
      const unit = unitOf(name)!;
      const written = (value / 1000).toFixed(4);
      const expected = {point: unit.toBase(value / 1000)};
      expect(quantityReadings(written, {unit})).toStrictEqual(expected);
      expect(quantityReadings(`${written} ${name}`, {unit})).toStrictEqual(expected);
      expect(quantityReadings(`${written}${name}`, {unit})).toStrictEqual(expected);
    })
  );
});

// Worked out in whole sixty-fourths of an inch, which doubles hold exactly.
test("a length written as feet, inches and a fraction is so many sixty-fourths of an inch", () => {
  const part = (max: number) => fc.integer({min: 0, max});
  fc.assert(
    fc.property(part(9), part(11), fc.integer({min: 1, max: 63}), (feet, inches, top) => {
      const wanted = ((feet * 12 + inches) * 64 + top) * (25.4 / 64);
      const unit = unitOf("mm")!;
      for (const text of [
        `${feet}' ${inches} ${top}/64"`,
        `${feet} ft ${inches}-${top}/64 in`,
        `${feet * 12 + inches} ${top}/64"`
      ])
        expect(quantityReadings(text, {unit}).point! - wanted).toBeCloseTo(0, 9);
    })
  );
});

test("letters that name no unit leave nothing to be read, wherever they stand", () => {
  const word = fc.stringMatching(/^[a-zA-Zäöüßéèøæ]{1,4}$/).filter((letters) => !unitOf(letters));
  const number = fc.constantFrom(
    ...numbers.map(([text]) => text),
    "59 1/8",
    "4' 11\"",
    "3 lb 10 oz",
    "40 mm",
    "13.5 %"
  );
  fc.assert(
    fc.property(number, word, fc.nat(), fc.constantFrom(...columnUnits), (text, letters, at, name) => {
      const cut = at % (text.length + 1);
      const marred = text.slice(0, cut) + letters + text.slice(cut);
      // The letters may have made a unit with those beside them: "k" before "g".
      fc.pre((marred.match(/\p{L}+/gu) ?? []).some((run) => !unitOf(run)));
      expect(numberReadings(marred)).toStrictEqual({});
      expect(quantityReadings(marred, {unit: unitOf(name)})).toStrictEqual({});
    }),
    {numRuns: 1000}
  );
});

test("nothing makes the readers throw, and what they read is finite", () => {
  const pieces = fc
    .array(fc.constantFrom(..."0123456789.,'’ \u00a0-−+/½⅛\"′%°£€$kglbozinft³^"), {maxLength: 70})
    .map((parts) => parts.join(""));
  const codeUnits = fc.array(fc.nat(0xffff), {maxLength: 70}).map((codes) => String.fromCharCode(...codes));
  fc.assert(
    fc.property(fc.oneof(pieces, codeUnits), fc.constantFrom(undefined, ...columnUnits), (text, name) => {
      const unit = name === undefined ? undefined : unitOf(name);
      for (const readings of [numberReadings(text), quantityReadings(text, {unit}), moneyReadings(text)])
        for (const value of Object.values(readings)) expect(Number.isFinite(value)).toBe(true);
    }),
    {numRuns: 2000}
  );
});

test("texts of ten million characters are refused at once", () => {
  const unit = unitOf("in");
  const long = 1e7;
  const started = performance.now();
  for (const text of ["1", " ", "1,", "1 ", "-", "½", "'", "1'", ",111", "a"].map((part) =>
    part.repeat(long / part.length)
  ))
    for (const readings of [numberReadings(text), quantityReadings(text, {unit}), moneyReadings(text)])
      expect(readings).toStrictEqual({});
  // Anything that is not linear takes hours; this leaves a slow machine a hundred times what it needs.
  expect(performance.now() - started).toBeLessThan(20_000);
  expect(numberReadings(`${" ".repeat(1e6)}12.5${" ".repeat(1e6)}`)).toStrictEqual({point: 12.5});
});

test("64 characters are read, 65 are not", () => {
  expect(numberReadings("1".repeat(64))).toStrictEqual(both(Number("1".repeat(64))));
  expect(numberReadings("1".repeat(65))).toStrictEqual({});
});

test.each<[string, Readings]>([
  ["£12.50", {point: 12.5}],
  ["£ 12.50", {point: 12.5}],
  ["12,50 €", {comma: 12.5}],
  ["12,50€", {comma: 12.5}],
  ["12,50\u00a0€", {comma: 12.5}],
  ["€1.234,50", {comma: 1234.5}],
  ["£1,250", {point: 1250, comma: 1.25}],
  ["USD 12.50", {point: 12.5}],
  ["12.50 usd", {point: 12.5}],
  ["CHF 1’250.00", {point: 1250}],
  ["Fr. 12.50", {point: 12.5}],
  ["1 250,00 kr", {comma: 1250}],
  ["12,50 kr.", {comma: 12.5}],
  ["-£12.50", {point: -12.5}],
  ["£-12.50", {point: -12.5}],
  ["−12,50 €", {comma: -12.5}],
  ["$.50", {point: 0.5}],
  ["USD .50", {point: 0.5}],
  ["Fr 50", both(50)],
  ["12.50Fr.", {point: 12.5}],
  ["12.50", {point: 12.5}],
  ["140", both(140)]
])("moneyReadings(%j) is %j", (text, readings) => expect(moneyReadings(text)).toStrictEqual(readings));

test.each([
  "",
  "£",
  "GBP",
  "££5",
  "£5£",
  "£5 GBP",
  "-£-5",
  "- 5",
  "(£5)",
  "Fr.50",
  "Fr.12.50",
  "USD.50",
  "5 each",
  "12 g",
  "£5 each",
  "£\n5",
  "£5/6",
  "£1e3",
  "5-",
  "12 5 £"
])("moneyReadings(%j) is none", (text) => expect(moneyReadings(text)).toStrictEqual({}));

test.each([
  ["£", "£5", true],
  ["£", "5 GBP", true],
  ["GBP", "£5", true],
  ["£", "5", true],
  ["£", "$5", false],
  ["£", "EUR 5", false],
  ["$", "CAD 5", true],
  ["CAD", "$5", true],
  ["CAD", "USD 5", false],
  ["kr", "5 SEK", true],
  ["Ft", "5 Ft", true],
  ["Ft", "5 £", false],
  ["A$", "A$5", true],
  ["A$", "US$5", false],
  ["", "£5", true]
])("in a book kept in %j, moneyReadings(%j) reads it: %s", (currency, text, reads) =>
  expect(moneyReadings(text, {currency})).toStrictEqual(reads ? both(5) : {})
);

// The outside check again: amounts as Intl writes them.
test.each([
  ["en-GB", "GBP", "point"],
  ["en-US", "USD", "point"],
  ["de-DE", "EUR", "comma"],
  ["fr-FR", "EUR", "comma"],
  ["sv-SE", "SEK", "comma"],
  ["de-CH", "CHF", "point"],
  ["pl-PL", "PLN", "comma"]
] as const)("an amount as written in %s, in %s, is read under the %s", (locale, currency, mark) => {
  const format = new Intl.NumberFormat(locale, {style: "currency", currency});
  expect(format.resolvedOptions().locale).toBe(locale);
  fc.assert(
    fc.property(fc.integer({min: 1, max: 1e9}), (cents) => {
      expect(moneyReadings(format.format(cents / 100), {currency})[mark]).toBe(cents / 100);
    })
  );
});
