import fc from "fast-check";
import {expect, test} from "vitest";
import {baseUnits, type Dimension, unitOf} from "../../lib/book/units.ts";

// Source: NIST SP 811 (2008), appendix B.8, factors as printed, to seven digits: read in secondary copies of the table.
// Those of the metric units are powers of ten by the SI.
test.each([
  ["in", "mm", 2.54e-2 * 1e3],
  ["ft", "mm", 3.048e-1 * 1e3],
  ["oz", "g", 2.834952e-2 * 1e3],
  ["lb", "g", 4.535924e-1 * 1e3],
  ["lb/ft³", "kg/m³", 1.601846e1],
  ["mm", "mm", 1],
  ["cm", "mm", 10],
  ["m", "mm", 1000],
  ["g", "g", 1],
  ["kg", "g", 1000],
  ["kg/m³", "kg/m³", 1],
  ["g/cm³", "kg/m³", 1000],
  ["kg/dm³", "kg/m³", 1000],
  ["t/m³", "kg/m³", 1000],
  ["%", "%", 1]
])("1 %s in %s is the published factor", (name, base, factor) => {
  const unit = unitOf(name)!;
  expect(unit.name).toBe(name);
  expect(baseUnits[unit.dimension]).toBe(base);
  expect(Math.abs(unit.toBase(1) / factor - 1)).toBeLessThan(5e-7);
});

// The yard-and-pound agreement of 1959, exact: from memory.
test("inch, foot and pound are exact, an ounce a sixteenth of a pound", () => {
  expect(unitOf("in")!.toBase(1)).toBe(25.4);
  expect(unitOf("ft")!.toBase(1)).toBe(304.8);
  expect(unitOf("lb")!.toBase(1)).toBe(453.59237);
  expect(unitOf("oz")!.toBase(16)).toBe(453.59237);
  expect(unitOf("lb/ft³")!.toBase(1)).toBeCloseTo(0.45359237 / 0.3048 ** 3, 12);
});

// Water of 1000 kg/m³ weighs 62.43 lb/ft³, rounded in use to 62.4: Wood Handbook, FPL-GTR-190 (2010), p. 4-9, read in a
// secondary source. Half a unit of the last printed digit is 0.8 in 1000 for three digits.
test("62.4 lb/ft³ is water, and so is 1 g/cm³", () => {
  expect(Math.abs(unitOf("pcf")!.toBase(62.4) - 1000)).toBeLessThan(0.8);
  expect(Math.abs(unitOf("pcf")!.toBase(62.43) - 1000)).toBeLessThan(0.08);
  expect(unitOf("g/cc")!.toBase(1)).toBe(1000);
});

// Ice melts at 32 °F = 0 °C, water boils at 212 °F = 100 °C, −40 is the same on both: common knowledge.
test("°F: 32 is 0 °C, 212 is 100 °C, −40 is −40 °C", () => {
  const {toBase} = unitOf("°F")!;
  expect([32, 212, -40, 68].map(toBase)).toEqual([0, 100, -40, 20]);
  expect(unitOf("°C")!.toBase(16.5)).toBe(16.5);
});

const spellings: Record<string, string[]> = {
  mm: ["mm", "MM", "mm.", " Mm ", "millimetres", "Millimeter"],
  cm: ["cm", "CM", "centimetres"],
  m: ["m", "M", "metre", "Meters"],
  in: ["in", "In.", "IN", "inch", "Inches", '"', "″", "”", "“", "''", "′′", "’’"],
  ft: ["ft", "FT.", "foot", "Feet", "'", "′", "’"],
  g: ["g", "G", "g.", "gram", "grams", "Grammes", "gm"],
  kg: ["kg", "Kg", "KG", "kgs", "kilos", "kilograms"],
  oz: ["oz", "OZ.", "oz.", "ounce", "ounces"],
  lb: ["lb", "lbs", "lbs.", "LB", "pound", "pounds"],
  "kg/m³": ["kg/m³", "kg/m3", "kg/m^3", "KG / M3", "kg per m³", "kg / cu. m"],
  "g/cm³": ["g/cm³", "g/cm3", "g/cc", "g/c.c.", "g/ml", "g per cubic cm"],
  "kg/dm³": ["kg/dm³", "kg/dm3", "kg/l"],
  "t/m³": ["t/m³", "T/m3"],
  "lb/ft³": [
    "lb/ft³",
    "lb/ft3",
    "lbs/cu ft",
    "lb/cu.ft.",
    "lb/cu. ft.",
    "pcf",
    "PCF",
    "lb/ft^3",
    "pounds per cubic foot"
  ],
  "%": ["%", "pct", "Pct.", "percent", "per cent", "Per Cent"],
  "°C": ["°C", "C", "c", "degC", "deg. C", "celsius", "Celsius", "ºC", "℃", "degrees C", "° C"],
  "°F": ["°F", "F", "degF", "deg F", "fahrenheit", "℉", "°\u00a0F"]
};
for (const [name, texts] of Object.entries(spellings))
  test.each(texts)(`unitOf(%j) is ${name}`, (text) => expect(unitOf(text)?.name).toBe(name));

// "gr" is the grain's symbol (NIST SP 811, B.8), and grams in some people's hands.
test.each([
  "",
  " ",
  "gr",
  "°",
  "t",
  "ton",
  "M3",
  "kg/m²",
  "kg/m",
  "/m3",
  "kg/",
  "lb/ft³ dry",
  "percent of",
  "stone",
  "l",
  "...",
  "3",
  ".in",
  "m³",
  "__proto__",
  "constructor",
  "toString",
  "hasOwnProperty"
])("unitOf(%j) is none", (text) => expect(unitOf(text)).toBeUndefined());

test("every dimension has its base unit, which leaves numbers as they are", () => {
  for (const [dimension, name] of Object.entries(baseUnits)) {
    expect(unitOf(name)?.dimension).toBe(dimension as Dimension);
    expect(unitOf(name)?.toBase(0.1)).toBe(0.1);
  }
});

test("unitOf heeds neither capitals nor spaces nor the dots of abbreviations, and no text makes it throw", () => {
  const known = fc.constantFrom(...Object.values(spellings).flat());
  fc.assert(
    fc.property(known, (text) => {
      expect(unitOf(` ${text.toUpperCase()}\u00a0`)?.name).toBe(unitOf(text)!.name);
      expect(unitOf([...text].join(" "))?.name).toBe(unitOf(text)!.name);
      expect(unitOf(text.replace(/[a-z]$/i, "$&."))?.name).toBe(unitOf(text)!.name);
    })
  );
  const codeUnits = fc.array(fc.nat(0xffff)).map((codes) => String.fromCharCode(...codes));
  fc.assert(
    fc.property(codeUnits, (text) => {
      expect([undefined, ...Object.keys(spellings)]).toContain(unitOf(text)?.name);
    })
  );
});

test("each unit grows with its number", () => {
  const value = fc.double({min: -1e6, max: 1e6, noNaN: true});
  fc.assert(
    fc.property(fc.constantFrom(...Object.keys(spellings)), value, value, (name, a, b) => {
      fc.pre(Math.abs(b - a) > 1e-6);
      const {toBase} = unitOf(name)!;
      expect(toBase(a) < toBase(b)).toBe(a < b);
    })
  );
});
