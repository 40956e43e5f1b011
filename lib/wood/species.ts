import {check} from "../check.ts";
import {type Cited, speciesTable} from "./speciesTable.ts";

/** The woods whose constants are stored. */
export type WoodName =
  | "white-ash"
  | "black-ash"
  | "green-ash"
  | "european-ash"
  | "sugar-maple"
  | "black-maple"
  | "red-maple"
  | "silver-maple"
  | "sycamore";

/** What is known of a wood, as plain numbers. A constant that nobody has published is absent, never guessed. */
export interface WoodConstants {
  readonly name: string;
  readonly latin: string;
  /** Moisture below which the wood begins to shrink, % of oven-dry mass. */
  readonly fibreSaturationPct: number;
  /** Shrinkage from green to oven-dry along a radius, % of the green size. */
  readonly radialPct?: number;
  /** Shrinkage from green to oven-dry along the rings, % of the green size. */
  readonly tangentialPct?: number;
  /** Shrinkage of the volume from green to oven-dry, % of the green volume: measured, not radial times tangential. */
  readonly volumetricPct?: number;
  /** Change along a radius for 1 % of moisture, as a fraction of the size, between 6 and 14 %. */
  readonly radialPer1Pct?: number;
  /** Change along the rings for 1 % of moisture, as a fraction of the size, between 6 and 14 %. */
  readonly tangentialPer1Pct?: number;
  /** Oven-dry mass over green volume, relative to water. */
  readonly basicSpecificGravity?: number;
  /** Oven-dry mass over volume at 12 %, relative to water. */
  readonly specificGravity12?: number;
  /** Modulus of elasticity in bending, MPa, green and at 12 %: mid-span load on a span of 14 depths, shear included. */
  readonly modulusGreenMPa?: number;
  readonly modulusMPa12?: number;
  /** Bending strength (modulus of rupture) of small clear pieces, MPa, green and at 12 %. */
  readonly ruptureGreenMPa?: number;
  readonly ruptureMPa12?: number;
  /** Moisture at which drying begins to add strength, %. */
  readonly intersectionPct?: number;
  /** Moisture of the living tree, %. */
  readonly greenHeartwoodPct?: number;
  readonly greenSapwoodPct?: number;
}

/** A constant that is a number. */
export type WoodProperty = Exclude<keyof WoodConstants, "name" | "latin">;

/** The stored woods, by name. */
export const woodNames = Object.keys(speciesTable) as readonly WoodName[];

/** What each number may be; wider than any published value, narrow enough to catch a wrong unit. */
const ranges: Record<WoodProperty, readonly [low: number, high: number]> = {
  fibreSaturationPct: [15, 45],
  radialPct: [0.5, 20],
  tangentialPct: [0.5, 20],
  volumetricPct: [1, 35],
  radialPer1Pct: [0.0001, 0.01],
  tangentialPer1Pct: [0.0001, 0.01],
  basicSpecificGravity: [0.1, 1.2],
  specificGravity12: [0.1, 1.3],
  modulusGreenMPa: [1000, 40000],
  modulusMPa12: [1000, 40000],
  ruptureGreenMPa: [10, 300],
  ruptureMPa12: [10, 300],
  intersectionPct: [15, 35],
  greenHeartwoodPct: [25, 300],
  greenSapwoodPct: [25, 300]
};

/**
 * The published constants of a wood, as plain numbers; or, given a workshop's own constants, the same after a check that
 * each lies where wood can lie.
 *
 * The trap: a constant is the mean of a species, and a single stick may be a tenth away from it. "Hard maple" is sugar and
 * black maple, "soft maple" is red and silver. Shrinkage (green to oven-dry) and change in use (6 to 14 %) are two
 * published tables, and both are stored: green ash and black maple carry a relative's figures in the second.
 *
 * Source: each number's own, from woodSource.
 * Checked: tests/reference/wood-species.test.ts
 *
 * @throws RangeError on a name that is not stored, and on a constant out of its range
 * @example woodConstants("white-ash").volumetricPct // 13.3
 */
export function woodConstants(species: WoodName | WoodConstants): WoodConstants {
  if (typeof species === "string") {
    check(Object.hasOwn(speciesTable, species), "woodConstants: name", `one of ${woodNames.join(", ")}`, species);
    return plain[species];
  }
  // Stored ones were looked at when they were stored.
  if (stored.has(species)) return species;
  const isWood = typeof species === "object" && species !== null;
  check(isWood, "woodConstants: species", "a stored name or constants of your own", species);
  for (const [property, [low, high]] of Object.entries(ranges) as [WoodProperty, readonly [number, number]][]) {
    const value = species[property];
    if (value === undefined && property !== "fibreSaturationPct") continue;
    const ok = value !== undefined && value >= low && value <= high;
    check(ok, `woodConstants: ${property} of ${species.name}`, `between ${low} and ${high}`, value);
  }
  return species;
}

/**
 * Where a stored constant comes from, and how far it has been seen.
 *
 * Checked: tests/wood/species.test.ts
 *
 * @returns undefined when the constant is not stored
 * @throws RangeError on a name that is not stored
 * @example woodSource("black-ash", "volumetricPct")?.tag // "read"
 */
export function woodSource(name: WoodName, property: WoodProperty): Cited | undefined {
  check(Object.hasOwn(speciesTable, name), "woodSource: name", `one of ${woodNames.join(", ")}`, name);
  return speciesTable[name][property];
}

/**
 * One constant of a wood that a formula cannot do without, in its own unit. `needing` is the function that the error
 * sentence names.
 *
 * Checked: tests/wood/species.test.ts
 *
 * @throws RangeError naming the function, the constant and the wood, when it is not known
 * @example knownConstant(woodConstants("white-ash"), "volumetricPct", "mine") // 13.3
 */
export function knownConstant(wood: WoodConstants, property: WoodProperty, needing: string): number {
  const value = wood[property];
  check(
    value !== undefined,
    `${needing}: ${property} of ${wood.name}`,
    "known; pass constants of your own that hold it",
    value
  );
  return value;
}

const plain = Object.fromEntries(
  woodNames.map((name) => {
    const {latin, ...cited} = speciesTable[name];
    const numbers = Object.entries(cited).map(([property, {value}]) => [property, value]);
    return [name, Object.freeze({name, latin, ...Object.fromEntries(numbers)})];
  })
) as Record<WoodName, WoodConstants>;

const stored: ReadonlySet<WoodConstants> = new Set(Object.values(plain));
