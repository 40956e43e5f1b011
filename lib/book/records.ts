import * as z from "zod";
import {choice, count, day, name, number, optional, text} from "./field.ts";

const notes = optional(
  text({
    heading: "note",
    description: "Anything",
    example: "olive streak",
    also: ["notes", "remark", "remarks", "comment", "comments"]
  })
);

/** A purchase: the squares bought of one supplier, of one species, on one day. */
export const Lot = z.object({
  lot: name({
    heading: "lot",
    description: "Number or name of the purchase, once only",
    example: "L031",
    also: ["lot no", "lot number", "purchase", "purchase no", "batch"]
  }),
  boughtOn: day({
    heading: "bought_on",
    description: "Day of the purchase",
    example: "2025-03-14",
    also: ["bought", "date bought", "purchase date", "date of purchase", "purchased", "date"]
  }),
  supplier: name({
    heading: "supplier",
    description: "Who sold it; always spelt the same",
    example: "Low Fold Sawmill",
    also: ["yard", "timber yard", "sawmill", "seller", "bought from"]
  }),
  species: name({
    heading: "species",
    description: "A species named in workshop.json",
    example: "ash",
    also: ["wood", "timber"]
  }),
  squaresBought: count(1, 100_000, {
    heading: "squares_bought",
    description: "Squares paid for",
    example: "34",
    also: ["squares", "number of squares", "no of squares", "quantity", "qty"]
  }),
  squaresLookedAt: optional(
    count(1, 1_000_000, {
      heading: "squares_looked_at",
      description: "Squares handled to find them",
      example: "180",
      also: ["looked at", "handled"]
    })
  ),
  priceEach: number(0, 1_000_000, {
    heading: "price_each",
    description: "Price of one square",
    unit: "money",
    example: "12.50",
    also: ["unit price", "price per square"],
    loosely: ["price"]
  }),
  carriage: optional(
    number(0, 1_000_000, {
      heading: "carriage",
      description: "Carriage and fuel of the whole lot",
      unit: "money",
      example: "38",
      also: ["transport", "freight"]
    })
  ),
  tripHours: optional(
    number(0, 1000, {
      heading: "trip_hours",
      description: "Hours that the trip took, the looking over included; of several lots in one trip, this lot's part",
      example: "5.5",
      also: ["hours"]
    })
  ),
  tripMiles: optional(
    number(0, 100_000, {
      heading: "trip_miles",
      description: "Miles driven for it, there and back; of several lots in one trip, this lot's part",
      example: "86",
      also: ["miles", "mileage"]
    })
  ),
  drying: optional(
    choice(["air", "kiln"], {
      heading: "drying",
      description: "How it was dried before it was sold: air or kiln",
      example: "air",
      also: ["dried"]
    })
  ),
  note: notes
});

/** A square, measured when it came in. */
export const Square = z.object({
  square: name({
    heading: "square",
    description: "Number of the square, its own for life",
    example: "L031-07",
    also: ["square no", "square number", "stick", "piece", "number", "no"]
  }),
  lot: name({
    heading: "lot",
    description: "The lot it came in",
    example: "L031",
    also: ["lot no", "lot number", "purchase", "purchase no", "batch"]
  }),
  measuredOn: optional(
    day({
      heading: "measured_on",
      description: "Day it was measured; blank: the day of the purchase",
      example: "2025-03-15",
      also: ["measured", "date measured", "date"]
    })
  ),
  lengthMm: number(100, 5000, {
    heading: "length_mm",
    description: "Length",
    unit: "mm",
    example: "1502",
    also: ["len"]
  }),
  widthMm: number(5, 300, {heading: "width_mm", description: "Width", unit: "mm", example: "40.3"}),
  thicknessMm: number(5, 300, {
    heading: "thickness_mm",
    description: "Thickness",
    unit: "mm",
    example: "39.8",
    also: ["depth"]
  }),
  massG: number(1, 100_000, {
    heading: "mass_g",
    description: "Mass; where it is blank or missing it follows from density_kgm3 and the size",
    unit: "g",
    example: "1655",
    also: ["weight"],
    instead: "density_kgm3"
  }),
  moisturePct: number(1, 150, {
    heading: "mc_pct",
    description: "Moisture content, % of oven-dry mass, from the meter",
    unit: "%",
    example: "13.5",
    also: ["moisture", "moisture content"]
  }),
  densityKgM3: optional(
    number(100, 1500, {
      heading: "density_kgm3",
      description: "Density as it came in, where the workshop notes it; compared with mass over volume",
      unit: "kg/m³",
      example: "687"
    })
  ),
  ringsPer25Mm: optional(
    number(0.1, 200, {
      heading: "rings_per_25mm",
      description: "Growth rings in 25 mm across them",
      example: "8",
      also: ["rings"]
    })
  ),
  grainOneIn: optional(
    number(1, 1000, {
      heading: "grain_one_in",
      description: "Slope of the grain, one in so many: 20 is 1 mm aside in 20 mm along",
      example: "20",
      also: ["grain", "slope of grain", "grain 1 in"]
    })
  ),
  colour: optional(
    text({
      heading: "colour",
      description: "Its colour, always in the same words",
      example: "white",
      also: ["color"]
    })
  ),
  note: notes
});

/** Something that happened to a piece. */
export const Event = z.object({
  date: day({heading: "date", description: "Day it happened", example: "2025-06-02", also: ["day", "when"]}),
  square: name({
    heading: "square",
    description: "Number of the square",
    example: "L031-07",
    also: ["square no", "square number", "stick", "piece", "number", "no"]
  }),
  event: choice(["turned", "weighed", "discarded", "diverted", "allotted", "delivered"], {
    heading: "event",
    description: "turned, weighed, discarded, diverted, allotted or delivered",
    example: "turned",
    also: ["what", "what happened"]
  }),
  stage: optional(
    name({
      heading: "stage",
      description: "turned: the stage reached; else the stage it is at",
      example: "rough-round"
    })
  ),
  massG: optional(
    number(1, 100_000, {
      heading: "mass_g",
      description: "Mass; on a turning, after the cut",
      unit: "g",
      example: "1098",
      also: ["weight"]
    })
  ),
  moisturePct: optional(
    number(1, 150, {
      heading: "mc_pct",
      description: "Moisture content from the meter",
      unit: "%",
      example: "11.0",
      also: ["moisture", "moisture content"]
    })
  ),
  diameterMm: optional(
    number(1, 300, {
      heading: "diameter_mm",
      description: "Diameter at the large end",
      unit: "mm",
      example: "37.1",
      also: ["dia", "large end"]
    })
  ),
  deflectionMm: optional(
    number(0.01, 1000, {
      heading: "deflection_mm",
      description: "Deflection in the workshop's test",
      unit: "mm",
      example: "9.4"
    })
  ),
  defect: optional(
    name({
      heading: "defect",
      description: "Why it was discarded, a defect of workshop.json",
      example: "warp",
      also: ["reason", "cause"]
    })
  ),
  order: optional(
    name({
      heading: "order",
      description: "The order it is for",
      example: "O-212",
      also: ["order no", "order number"]
    })
  ),
  note: notes
});

/** An order. */
export const Order = z.object({
  order: name({
    heading: "order",
    description: "Number of the order, once only",
    example: "O-212",
    also: ["order no", "order number", "number", "no"]
  }),
  orderedOn: day({
    heading: "ordered_on",
    description: "Day it came in",
    example: "2025-09-20",
    also: ["ordered", "date ordered", "order date", "date"]
  }),
  wantedBy: optional(
    day({
      heading: "wanted_by",
      description: "Day it was promised for",
      example: "2025-12-10",
      also: ["wanted", "due", "due date", "promised", "promised for"]
    })
  ),
  species: name({
    heading: "species",
    description: "A species named in workshop.json",
    example: "ash",
    also: ["wood", "timber"]
  }),
  lengthMm: optional(
    number(100, 5000, {heading: "length_mm", description: "Length wanted", unit: "mm", example: "1470"})
  ),
  tipMm: optional(
    number(1, 100, {
      heading: "tip_mm",
      description: "Tip diameter wanted",
      unit: "mm",
      example: "9.5",
      also: ["tip diameter"]
    })
  ),
  massMinG: optional(
    number(1, 100_000, {
      heading: "mass_min_g",
      description: "Lightest shaft it takes",
      unit: "g",
      example: "300",
      also: ["lightest", "weight min", "min weight"]
    })
  ),
  massMaxG: optional(
    number(1, 100_000, {
      heading: "mass_max_g",
      description: "Heaviest shaft it takes",
      unit: "g",
      example: "330",
      also: ["heaviest", "weight max", "max weight"]
    })
  ),
  deflectionMinMm: optional(
    number(0.01, 1000, {
      heading: "deflection_min_mm",
      description: "Stiffest shaft it takes: least deflection in the workshop's test, cut to the order",
      unit: "mm",
      example: "9",
      also: ["stiffest"]
    })
  ),
  deflectionMaxMm: optional(
    number(0.01, 1000, {
      heading: "deflection_max_mm",
      description: "Most pliant shaft it takes: greatest deflection in that test",
      unit: "mm",
      example: "11",
      also: ["most pliant"]
    })
  ),
  grainOneIn: optional(
    number(1, 1000, {
      heading: "grain_one_in",
      description: "Steepest grain it takes, one in so many",
      example: "15",
      also: ["grain", "slope of grain", "grain 1 in"]
    })
  ),
  colour: optional(
    text({
      heading: "colour",
      description: "Colour wanted, in the words of squares.csv",
      example: "white",
      also: ["color"]
    })
  ),
  quantity: count(1, 100_000, {
    heading: "quantity",
    description: "Shafts ordered",
    example: "1",
    also: ["qty", "shafts"]
  }),
  lost: optional(
    count(0, 100_000, {
      heading: "lost",
      description: "Of these, shafts that nobody got for want of one on the rack: wanted, but no longer owed",
      example: "0",
      also: ["shafts lost", "lost for want"]
    })
  ),
  priceEach: optional(
    number(0, 1_000_000, {
      heading: "price_each",
      description: "Price of one shaft",
      unit: "money",
      example: "140",
      also: ["unit price", "price per shaft"],
      loosely: ["price"]
    })
  ),
  note: notes
});

/** A reading of the air in the store. */
export const Reading = z.object({
  date: day({heading: "date", description: "Day of the reading", example: "2025-06-02", also: ["day", "when", "time"]}),
  temperatureC: number(-1, 50, {
    heading: "temperature_c",
    description: "Air temperature",
    unit: "°C",
    example: "16.5",
    also: ["temp"]
  }),
  humidityPct: number(1, 100, {
    heading: "humidity_pct",
    description: "Relative humidity",
    unit: "%",
    example: "61",
    also: ["relative humidity", "rh"]
  }),
  note: notes
});

const shafts = (heading: string, description: string, example: string) =>
  optional(number(0, 1_000_000, {heading, description, example}));

/** What the season's report said of one species on one day, kept to be compared with what came of it. */
export const Advice = z.object({
  advisedOn: day({heading: "advised_on", description: "The day for which it spoke", example: "2025-12-01"}),
  species: name({heading: "species", description: "A species named in workshop.json", example: "ash", also: ["wood"]}),
  seasonFrom: day({heading: "season_from", description: "First day of the season it was for", example: "2026-06-01"}),
  seasonTo: day({heading: "season_to", description: "Last day of that season", example: "2027-05-31"}),
  squares: count(0, 1_000_000, {heading: "squares", description: "Squares it said to buy", example: "120"}),
  squaresLow: count(0, 1_000_000, {
    heading: "squares_low",
    description: "Fewest squares within 1 % of the best expected profit",
    example: "105"
  }),
  squaresHigh: count(0, 1_000_000, {
    heading: "squares_high",
    description: "Most squares within 1 % of the best expected profit",
    example: "140"
  }),
  whom: optional(
    text({
      heading: "whom",
      description: "Squares of each supplier",
      example: "80 Low Fold Sawmill + 40 Quillmoor Sawpit"
    })
  ),
  shaftsWanted: number(0, 1_000_000, {
    heading: "shafts_wanted",
    description: "Shafts expected to be ordered from the day after it to the season's last day",
    example: "96.4"
  }),
  shaftsWantedLow: number(0, 1_000_000, {
    heading: "shafts_wanted_low",
    description: "Fewest of them in 95 of 100 cases",
    example: "61"
  }),
  shaftsWantedHigh: number(0, 1_000_000, {
    heading: "shafts_wanted_high",
    description: "Most of them in 95 of 100 cases",
    example: "139"
  }),
  usablePct: optional(
    number(0, 100, {
      heading: "usable_pct",
      description: "Share of these squares expected to become shafts inside the density window",
      unit: "%",
      example: "46.5"
    })
  ),
  usableLowPct: optional(
    number(0, 100, {
      heading: "usable_low_pct",
      description: "Lowest such share in 95 of 100 cases",
      unit: "%",
      example: "31"
    })
  ),
  usableHighPct: optional(
    number(0, 100, {
      heading: "usable_high_pct",
      description: "Highest such share in 95 of 100 cases",
      unit: "%",
      example: "61.5"
    })
  ),
  profit: optional(
    number(-1_000_000_000, 1_000_000_000, {
      heading: "profit",
      description: "Profit expected of the shafts until the season's last day, by the settings of money",
      unit: "money",
      example: "9840"
    })
  ),
  shaftsShort: shafts("shafts_short", "Shafts expected to be short at the season's end", "3.1"),
  shaftsLeftOver: shafts("shafts_left_over", "Shafts expected to be left over at the season's end", "14.2"),
  servicePct: optional(
    number(0, 100, {
      heading: "service_pct",
      description: "Chance that every order can be served",
      unit: "%",
      example: "81.5"
    })
  ),
  note: notes
});

export type Lot = z.infer<typeof Lot>;
export type Square = z.infer<typeof Square>;
export type Event = z.infer<typeof Event>;
export type Order = z.infer<typeof Order>;
export type Reading = z.infer<typeof Reading>;
export type Advice = z.infer<typeof Advice>;

/** m = ρ · V / 10⁶, in g of kg/m³ and mm³, where a square's mass is not given but its density and size are. */
function massFromDensity(values: Record<string, unknown>): void {
  const {massG, densityKgM3, lengthMm, widthMm, thicknessMm} = values;
  if (massG !== undefined || typeof densityKgM3 !== "number") return;
  const volumeMm3 = Number(lengthMm) * Number(widthMm) * Number(thicknessMm);
  if (volumeMm3 > 0) values.massG = (densityKgM3 * volumeMm3) / 1e6;
}

/** What is known of a kind of record. */
export interface RecordKind {
  schema: z.ZodObject;
  /** Whether the file must be there. */
  required: boolean;
  /** Whether it must have a row. */
  filled: boolean;
  rowIs: string;
  /** Whether a command writes it, when asked: then no new book begins with it. */
  made?: boolean;
  /** Fills in what follows from the rest of a row. */
  complete?: (values: Record<string, unknown>) => void;
}

/** The records of a book, in the order in which they are read: the file of each, its schema, and what it must have. */
export const files = {
  "lots.csv": {schema: Lot, required: true, filled: true, rowIs: "a purchase"},
  "squares.csv": {
    schema: Square,
    required: true,
    filled: true,
    rowIs: "a square, measured when it came in",
    complete: massFromDensity
  },
  "orders.csv": {schema: Order, required: true, filled: false, rowIs: "an order"},
  "events.csv": {schema: Event, required: true, filled: false, rowIs: "something that happened to a piece"},
  "climate.csv": {schema: Reading, required: false, filled: false, rowIs: "a reading of the air in the store"},
  "advice.csv": {
    schema: Advice,
    required: false,
    filled: false,
    made: true,
    rowIs: "what the season's report said of one species on one day"
  }
} as const satisfies Record<string, RecordKind>;

export type FileName = keyof typeof files;

/** The names of the records, as the settings and the sheets of a workbook have them: "lots" for "lots.csv". */
export type RecordName = FileName extends `${infer Name}.csv` ? Name : never;

/** "lots" for "lots.csv". */
export function recordName(file: FileName): RecordName {
  return file.slice(0, -".csv".length) as RecordName;
}

export const fileNames = Object.keys(files) as FileName[];

/** The files that an owner fills by hand: those that a new book begins with. */
export const ownFileNames = fileNames.filter((file) => !(files[file] as RecordKind).made);
