import {gPerOunce, gPerPound, kgM3PerPoundPerCubicFoot, mmPerFoot, mmPerInch} from "../wood/units.ts";

/** What a number with a unit measures. */
export type Dimension = "length" | "mass" | "density" | "share" | "temperature";

/** A unit in which a book may be kept. */
export interface Unit {
  /** As it is shown: "in", "lb/ft³", "°F". */
  name: string;
  dimension: Dimension;
  /** A value in this unit, in the base unit of its dimension: the product with the factor, unrounded. */
  toBase(value: number): number;
}

/** The unit in which the toolkit computes, for each dimension. */
export const baseUnits: Record<Dimension, string> = {
  length: "mm",
  mass: "g",
  density: "kg/m³",
  share: "%",
  temperature: "°C"
};

/** Every unit with its spellings, folded as `fold` does. */
const table: [Unit, string[]][] = [
  [scaled("mm", "length", 1), words("mm millimetre millimetres millimeter millimeters")],
  [scaled("cm", "length", 10), words("cm centimetre centimetres centimeter centimeters")],
  [scaled("m", "length", 1000), words("m metre metres meter meters")],
  [scaled("in", "length", mmPerInch), words("in ins inch inches \" ''")],
  [scaled("ft", "length", mmPerFoot), words("ft foot feet '")],
  [scaled("g", "mass", 1), words("g gm gms gram grams gramme grammes")],
  [scaled("kg", "mass", 1000), words("kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes")],
  [scaled("oz", "mass", gPerOunce), words("oz ozs ounce ounces")],
  [scaled("lb", "mass", gPerPound), words("lb lbs pound pounds")],
  [scaled("kg/m³", "density", 1), per("kg kgs", "m3 cum cumetre cumeter")],
  [scaled("g/cm³", "density", 1000), per("g", "cm3 cucm cc ml")],
  [scaled("kg/dm³", "density", 1000), per("kg kgs", "dm3 l litre liter")],
  [scaled("t/m³", "density", 1000), per("t", "m3 cum cumetre cumeter")],
  [
    scaled("lb/ft³", "density", kgM3PerPoundPerCubicFoot),
    ["pcf", ...per("lb lbs pound pounds", "ft3 cuft cufoot cufeet")]
  ],
  [scaled("%", "share", 1), words("% pct percent")],
  [scaled("°C", "temperature", 1), words("°c c degc degreec degreesc celsius ℃")],
  [
    {name: "°F", dimension: "temperature", toBase: (value) => ((value - 32) * 5) / 9},
    words("°f f degf degreef degreesf fahrenheit ℉")
  ]
];

/** A map, not an object: a heading may be called "constructor". */
const unitsBySpelling = new Map(table.flatMap(([unit, spellings]) => spellings.map((spelling) => [spelling, unit])));

/**
 * The unit that a text names, be it of a heading or behind a number. Capitals, spaces, dots of abbreviations, raised
 * figures and the shape of quotation marks do not matter: "lb/ft³", "lbs / cu. ft." and "LB/FT^3" are one.
 *
 * Traps: what could be two units is none: "gr" may be grains or grams, "°" alone either scale, "t" alone three tons.
 * Ounces and pounds are avoirdupois.
 *
 * Source: factors exact by definition, see lib/wood/units.ts. t(°C) = (t(°F) − 32) · 5/9.
 * Checked: tests/book/units.test.ts, against NIST SP 811, appendix B.
 *
 * @returns undefined when the whole text is not a known unit
 * @example unitOf("Inches")?.toBase(2) // 50.8, mm
 */
export function unitOf(text: string): Unit | undefined {
  const trimmed = text.trim();
  return trimmed.length > 64 ? undefined : unitsBySpelling.get(fold(trimmed));
}

function fold(text: string): string {
  return text
    .toLowerCase()
    .replace(/\s/g, "")
    .replace(/([a-z])\./g, "$1")
    .replace(/\^3|³/g, "3")
    .replace(/[º˚]/g, "°")
    .replace(/[’′]/g, "'")
    .replace(/[“”″]/g, '"')
    .replace(/([a-z])per/, "$1/")
    .replace("cubic", "cu");
}

function scaled(name: string, dimension: Dimension, factor: number): Unit {
  return {name, dimension, toBase: (value) => value * factor};
}

function words(text: string): string[] {
  return text.split(" ");
}

function per(masses: string, volumes: string): string[] {
  return words(masses).flatMap((mass) => words(volumes).map((volume) => `${mass}/${volume}`));
}
