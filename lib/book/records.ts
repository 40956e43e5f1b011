import {z} from "zod";
import {choice, count, day, number, optional, text} from "./field.ts";

/** A purchase: the squares bought of one supplier, of one species, on one day. */
export const Lot = z.object({
  lot: text({heading: "lot", description: "Number or name of the purchase, once only", example: "L031"}),
  boughtOn: day({heading: "bought_on", description: "Day of the purchase", example: "2025-03-14"}),
  supplier: text({heading: "supplier", description: "Who sold it; always spelt the same", example: "Low Fold Sawmill"}),
  species: text({heading: "species", description: "A species named in workshop.json", example: "ash"}),
  squaresBought: count(1, 100_000, {heading: "squares_bought", description: "Squares paid for", example: "34"}),
  squaresLookedAt: optional(
    count(1, 1_000_000, {heading: "squares_looked_at", description: "Squares handled to find them", example: "180"})
  ),
  priceEach: number(0, 1_000_000, {
    heading: "price_each",
    description: "Price of one square",
    unit: "money",
    example: "12.50"
  }),
  carriage: optional(
    number(0, 1_000_000, {
      heading: "carriage",
      description: "Carriage and fuel of the whole lot",
      unit: "money",
      example: "38"
    })
  ),
  drying: optional(
    choice(["air", "kiln"], {heading: "drying", description: "How it was dried before it was sold", example: "air"})
  ),
  note: optional(text({heading: "note", description: "Anything", example: "from the butt end"}))
});

/** A square, measured when it came in. */
export const Square = z.object({
  square: text({heading: "square", description: "Number of the square, its own for life", example: "L031-07"}),
  lot: text({heading: "lot", description: "The lot it came in", example: "L031"}),
  measuredOn: optional(
    day({
      heading: "measured_on",
      description: "Day it was measured; blank: the day of the purchase",
      example: "2025-03-15"
    })
  ),
  lengthMm: number(100, 5000, {heading: "length_mm", description: "Length", unit: "mm", example: "1502"}),
  widthMm: number(5, 300, {heading: "width_mm", description: "Width", unit: "mm", example: "40.3"}),
  thicknessMm: number(5, 300, {heading: "thickness_mm", description: "Thickness", unit: "mm", example: "39.8"}),
  massG: number(1, 100_000, {heading: "mass_g", description: "Mass", unit: "g", example: "1655"}),
  moisturePct: number(0, 150, {
    heading: "mc_pct",
    description: "Moisture content, % of oven-dry mass, from the meter",
    unit: "%",
    example: "13.5"
  }),
  ringsPer25Mm: optional(
    number(0.1, 200, {heading: "rings_per_25mm", description: "Growth rings in 25 mm across them", example: "8"})
  ),
  note: optional(text({heading: "note", description: "Anything", example: "olive streak"}))
});

/** Something that happened to a piece. */
export const Event = z.object({
  date: day({heading: "date", description: "Day it happened", example: "2025-06-02"}),
  square: text({heading: "square", description: "Number of the square", example: "L031-07"}),
  event: choice(["turned", "weighed", "discarded", "diverted", "allotted", "delivered"], {
    heading: "event",
    description: "turned, weighed, discarded, diverted, allotted or delivered",
    example: "turned"
  }),
  stage: optional(
    text({heading: "stage", description: "turned: the stage reached; else the stage it is at", example: "rough-round"})
  ),
  massG: optional(
    number(1, 100_000, {
      heading: "mass_g",
      description: "Mass; on a turning, after the cut",
      unit: "g",
      example: "1098"
    })
  ),
  moisturePct: optional(
    number(0, 150, {heading: "mc_pct", description: "Moisture content from the meter", unit: "%", example: "11.0"})
  ),
  diameterMm: optional(
    number(1, 300, {heading: "diameter_mm", description: "Diameter at the large end", unit: "mm", example: "37.1"})
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
    text({heading: "defect", description: "Why it was discarded, a defect of workshop.json", example: "warp"})
  ),
  order: optional(text({heading: "order", description: "The order it is for", example: "O-212"})),
  note: optional(text({heading: "note", description: "Anything", example: "pin knot at 300 mm"}))
});

/** An order. */
export const Order = z.object({
  order: text({heading: "order", description: "Number of the order, once only", example: "O-212"}),
  orderedOn: day({heading: "ordered_on", description: "Day it came in", example: "2025-09-20"}),
  wantedBy: optional(day({heading: "wanted_by", description: "Day it was promised for", example: "2025-12-10"})),
  species: text({heading: "species", description: "A species named in workshop.json", example: "ash"}),
  lengthMm: optional(
    number(100, 5000, {heading: "length_mm", description: "Length wanted", unit: "mm", example: "1470"})
  ),
  tipMm: optional(number(1, 100, {heading: "tip_mm", description: "Tip diameter wanted", unit: "mm", example: "9.5"})),
  massMinG: optional(
    number(1, 100_000, {heading: "mass_min_g", description: "Lightest shaft it takes", unit: "g", example: "300"})
  ),
  massMaxG: optional(
    number(1, 100_000, {heading: "mass_max_g", description: "Heaviest shaft it takes", unit: "g", example: "330"})
  ),
  quantity: count(1, 100_000, {heading: "quantity", description: "Shafts ordered", example: "1"}),
  priceEach: optional(
    number(0, 1_000_000, {heading: "price_each", description: "Price of one shaft", unit: "money", example: "140"})
  ),
  note: optional(text({heading: "note", description: "Anything", example: "as the last one"}))
});

/** A reading of the air in the store. */
export const Reading = z.object({
  date: day({heading: "date", description: "Day of the reading", example: "2025-06-02"}),
  temperatureC: number(-1, 99, {heading: "temperature_c", description: "Air temperature", unit: "°C", example: "16.5"}),
  humidityPct: number(0, 100, {heading: "humidity_pct", description: "Relative humidity", unit: "%", example: "61"})
});

export type Lot = z.infer<typeof Lot>;
export type Square = z.infer<typeof Square>;
export type Event = z.infer<typeof Event>;
export type Order = z.infer<typeof Order>;
export type Reading = z.infer<typeof Reading>;

/** The CSV files of a book, in the order in which they are read. */
export const files = {
  "lots.csv": {schema: Lot, required: true, rowIs: "a purchase"},
  "squares.csv": {schema: Square, required: true, rowIs: "a square, measured when it came in"},
  "orders.csv": {schema: Order, required: true, rowIs: "an order"},
  "events.csv": {schema: Event, required: true, rowIs: "something that happened to a piece"},
  "climate.csv": {schema: Reading, required: false, rowIs: "a reading of the air in the store"}
} as const;

export type FileName = keyof typeof files;
