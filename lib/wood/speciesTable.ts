import type {WoodName, WoodProperty} from "./species.ts";

/**
 * How a published number reached this table: `read` on the page itself, `read in a secondary source` that repeats it, `from
 * memory` and not seen, or `computed` from numbers that were.
 */
export type Tag = "read" | "read in a secondary source" | "from memory" | "computed";

/** A published number with where it was published. */
export interface Cited {
  readonly value: number;
  readonly source: string;
  readonly tag: Tag;
}

type SpeciesRow = {readonly latin: string} & {readonly fibreSaturationPct: Cited} & {
  readonly [P in WoodProperty]?: Cited;
};

const handbook = "Wood Handbook, FPL-GTR-190 (2010)";
const shrinkageTable = `${handbook}, table 4-3`;
const changeTable = `${handbook}, table 13-5`;
const strengthTable = `${handbook}, table 5-3a`;
const greenTable = `${handbook}, table 4-1`;
const intersectionTable = `${handbook}, table 5-13`;
const database = (rows: string) => `Global Wood Density Database v1, doi 10.5061/dryad.234, ${rows}`;
const tradeSheet = "trade data sheets, stating 12 % moisture";

const cited =
  (tag: Tag) =>
  (value: number, source: string): Cited => ({value, source, tag});
const read = cited("read");
const secondary = cited("read in a secondary source");
const memory = cited("from memory");

/** "averages about 30 %", and varies by several points between species and pieces. */
const saturation = {fibreSaturationPct: read(30, `${handbook}, p. 4-2`)};

/**
 * The constants of each wood with their sources.
 *
 * Basic specific gravities are the database's and, from memory, those of the handbook's table 5-3a; shrinkages agree with the
 * change coefficients, which were read (tests/reference/wood-species.test.ts, wood-shrinkage.test.ts); green strengths of all
 * but sugar maple rest on memory.
 * European ash: one French tree, measured whole, shrank by 9.2 % only (0.34 % for 1 %, fibre saturation 27 %). That is less
 * than its radial and tangential shrinkage give, so the species' figure is kept; the density at 12 % of a stick at 8 %
 * differs by half a percent between the two.
 * A volumetric shrinkage is a measurement of its own and not what radial and tangential give: for black ash they differ by
 * nearly 3 points.
 */
export const speciesTable: Record<WoodName, SpeciesRow> = {
  "white-ash": {
    latin: "Fraxinus americana",
    ...saturation,
    radialPct: read(4.9, shrinkageTable),
    tangentialPct: read(7.8, shrinkageTable),
    volumetricPct: read(13.3, shrinkageTable),
    radialPer1Pct: read(0.00169, changeTable),
    tangentialPer1Pct: read(0.00274, changeTable),
    basicSpecificGravity: read(0.55, database("row 7201")),
    specificGravity12: secondary(0.6, strengthTable),
    modulusGreenMPa: memory(9900, strengthTable),
    modulusMPa12: secondary(12000, strengthTable),
    ruptureGreenMPa: memory(66, strengthTable),
    ruptureMPa12: secondary(103, strengthTable),
    intersectionPct: memory(24, intersectionTable),
    greenHeartwoodPct: read(46, greenTable),
    greenSapwoodPct: read(44, greenTable)
  },
  "black-ash": {
    latin: "Fraxinus nigra",
    ...saturation,
    radialPct: read(5.0, shrinkageTable),
    tangentialPct: read(7.8, shrinkageTable),
    volumetricPct: read(15.2, shrinkageTable),
    radialPer1Pct: read(0.00172, changeTable),
    tangentialPer1Pct: read(0.00274, changeTable),
    basicSpecificGravity: read(0.45, database("row 7214")),
    specificGravity12: secondary(0.49, strengthTable),
    modulusGreenMPa: memory(7200, strengthTable),
    modulusMPa12: secondary(11000, strengthTable),
    ruptureGreenMPa: memory(41, strengthTable),
    ruptureMPa12: secondary(87, strengthTable),
    greenHeartwoodPct: read(95, greenTable)
  },
  "green-ash": {
    latin: "Fraxinus pennsylvanica",
    ...saturation,
    radialPct: read(4.6, shrinkageTable),
    tangentialPct: read(7.1, shrinkageTable),
    volumetricPct: read(12.5, shrinkageTable),
    radialPer1Pct: read(0.00169, changeTable),
    tangentialPer1Pct: read(0.00274, changeTable),
    basicSpecificGravity: read(0.53, database("row 7215")),
    specificGravity12: secondary(0.56, strengthTable),
    modulusGreenMPa: memory(9700, strengthTable),
    modulusMPa12: secondary(11400, strengthTable),
    ruptureGreenMPa: memory(66, strengthTable),
    ruptureMPa12: secondary(97, strengthTable),
    greenSapwoodPct: read(58, greenTable)
  },
  "european-ash": {
    latin: "Fraxinus excelsior",
    ...saturation,
    radialPct: secondary(5.0, tradeSheet),
    tangentialPct: secondary(8.0, tradeSheet),
    volumetricPct: secondary(13.2, "a trade data sheet; others give 0.45 % for 1 % of moisture (13.5) and 15.1"),
    basicSpecificGravity: read(0.56, database("rows 7205 and 7206")),
    modulusMPa12: secondary(12900, tradeSheet),
    ruptureMPa12: secondary(106, tradeSheet)
  },
  "sugar-maple": {
    latin: "Acer saccharum",
    ...saturation,
    radialPct: secondary(4.8, shrinkageTable),
    tangentialPct: secondary(9.9, shrinkageTable),
    volumetricPct: secondary(14.7, shrinkageTable),
    radialPer1Pct: read(0.00165, changeTable),
    tangentialPer1Pct: read(0.00353, changeTable),
    basicSpecificGravity: read(0.56, database("row 268")),
    specificGravity12: secondary(0.63, strengthTable),
    modulusGreenMPa: secondary(10700, strengthTable),
    modulusMPa12: secondary(12600, strengthTable),
    ruptureGreenMPa: secondary(65, strengthTable),
    ruptureMPa12: secondary(109, strengthTable),
    greenHeartwoodPct: memory(65, greenTable),
    greenSapwoodPct: memory(72, greenTable)
  },
  "black-maple": {
    latin: "Acer nigrum",
    ...saturation,
    radialPct: memory(4.8, shrinkageTable),
    tangentialPct: memory(9.3, shrinkageTable),
    volumetricPct: memory(14.0, shrinkageTable),
    radialPer1Pct: read(0.00165, changeTable),
    tangentialPer1Pct: read(0.00353, changeTable),
    basicSpecificGravity: read(0.52, database("row 256")),
    specificGravity12: secondary(0.57, strengthTable),
    modulusGreenMPa: memory(9200, strengthTable),
    modulusMPa12: secondary(11200, strengthTable),
    ruptureGreenMPa: memory(54, strengthTable),
    ruptureMPa12: memory(92, strengthTable)
  },
  "red-maple": {
    latin: "Acer rubrum",
    ...saturation,
    radialPct: secondary(4.0, shrinkageTable),
    tangentialPct: secondary(8.2, shrinkageTable),
    volumetricPct: secondary(12.6, shrinkageTable),
    radialPer1Pct: read(0.00137, changeTable),
    tangentialPer1Pct: read(0.00289, changeTable),
    basicSpecificGravity: read(0.49, database("row 266")),
    specificGravity12: secondary(0.54, strengthTable),
    modulusGreenMPa: memory(9600, strengthTable),
    modulusMPa12: secondary(11300, strengthTable),
    ruptureGreenMPa: memory(53, strengthTable),
    ruptureMPa12: secondary(92, strengthTable)
  },
  "silver-maple": {
    latin: "Acer saccharinum",
    ...saturation,
    radialPct: secondary(3.0, shrinkageTable),
    tangentialPct: secondary(7.2, shrinkageTable),
    volumetricPct: secondary(12.0, shrinkageTable),
    radialPer1Pct: read(0.00102, changeTable),
    tangentialPer1Pct: read(0.00252, changeTable),
    basicSpecificGravity: read(0.44, database("row 267")),
    specificGravity12: memory(0.47, strengthTable),
    modulusGreenMPa: memory(6500, strengthTable),
    modulusMPa12: secondary(7900, strengthTable),
    ruptureGreenMPa: memory(40, strengthTable),
    ruptureMPa12: secondary(61, strengthTable),
    greenHeartwoodPct: memory(58, greenTable),
    greenSapwoodPct: memory(97, greenTable)
  },
  sycamore: {
    latin: "Acer pseudoplatanus",
    ...saturation,
    radialPct: secondary(4.5, "trade data sheets: 3.3 to 4.5, this and Norway maple together"),
    tangentialPct: secondary(8.0, "trade data sheets: 8.0 to 8.5, this and Norway maple together"),
    volumetricPct: memory(12.3, "European hardwood tables"),
    basicSpecificGravity: read(0.51, database("row 265")),
    modulusMPa12: secondary(10000, tradeSheet),
    ruptureMPa12: secondary(112, tradeSheet)
  }
};
