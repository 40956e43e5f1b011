import {type ParseError, parse, printParseErrorCode} from "jsonc-parser";
import * as z from "zod";
import {woodNames} from "../wood/species.ts";
import {fields} from "./field.ts";
import {delimiters} from "./grid.ts";
import {didYouMean} from "./nearest.ts";
import {excerpt, type Problem} from "./problem.ts";
import {quantityReadings} from "./quantity.ts";
import {fileNames, files, type RecordName, recordName} from "./records.ts";
import {unitOf} from "./units.ts";

/** The name of the settings file of a book. */
export const settingsFile = "workshop.json";

const name = z.string().trim().min(1, {error: "filled in"});
const positive = z.number({error: "a number"}).positive({error: "positive"});

const measured = (base: string) =>
  z.number({error: `a number of ${base}, or text with a unit, like "${base === "mm" ? "1 7/16 in" : "41 lb/ft³"}"`});

/** A number in our unit, or text with a unit of its own, like "1 7/16 in" or "41 lb/ft³". */
const inUnits = <T extends z.ZodType>(base: string, schema: T) =>
  z.preprocess((value) => {
    if (typeof value !== "string") return value;
    return quantityReadings(value, {unit: unitOf(base)!}).point ?? value;
  }, schema);

/** A size or density. */
const measure = (base: string) => inUnits(base, measured(base).positive({error: "positive"}));

const notNegative = z.number({error: "a number"}).min(0, {error: "0 or more"});

/** A whole number of days from 1 to a most. */
const wholeDays = (most: number) => {
  const error = `a whole number of days from 1 to ${most}`;
  return z.number({error}).int({error}).min(1, {error}).max(most, {error});
};

const Stage = z.strictObject({
  name: name.describe("As it stands in the events"),
  restDays: notNegative
    .default(0)
    .describe("Least rest at this stage before the next pass; common practice, no source"),
  largeMm: measure("mm").optional().describe("Target diameter at the large end"),
  smallMm: measure("mm").optional().describe("Target diameter at the small end"),
  lengthMm: measure("mm").optional().describe("Target length")
});

const Species = z.strictObject({
  wood: z
    .enum(woodNames, {error: `one of ${woodNames.join(", ")}`})
    .describe("Which published constants to use, e.g. european-ash or sugar-maple"),
  windowKgM3: z
    .strictObject({
      low: measure("kg/m³").describe("The lightest wanted, kg/m³"),
      high: measure("kg/m³").describe("The densest wanted, kg/m³")
    })
    .refine(({low, high}) => low < high, {error: "low before high"})
    .describe("Density at 12 % moisture that orders accept")
});

const defaultStages = [
  {name: "square", restDays: 60},
  {name: "rough-round", restDays: 30, largeMm: 37, smallMm: 37, lengthMm: 1490},
  {name: "second-round", restDays: 30, largeMm: 33.5, smallMm: 17, lengthMm: 1480},
  {name: "proud-round", restDays: 30, largeMm: 30.5, smallMm: 11.5, lengthMm: 1475},
  {name: "finished", restDays: 0, largeMm: 29, smallMm: 9.5, lengthMm: 1470}
];

const defaultDefects = [
  {name: "knot", group: "growth"},
  {name: "run-out", group: "growth"},
  {name: "stain", group: "growth"},
  {name: "soft", group: "growth"},
  {name: "check", group: "drying"},
  {name: "split", group: "drying"},
  {name: "warp", group: "drying"},
  {name: "tear-out", group: "machining"},
  {name: "undersize", group: "machining"},
  {name: "off-weight", group: "fit"}
] as const;

/** A word by the heading of its column. */
const byHeading = z.record(name, name);

const Habits = z.strictObject({
  file: name.optional().describe("The file or workbook it is kept in, if it has another name"),
  sheet: name.optional().describe("The sheet of a workbook, if it has another name"),
  delimiter: z.enum(delimiters, {error: "one of , ; tab |"}).optional().describe("What stands between the cells"),
  decimal: z.enum(["point", "comma"], {error: "point or comma"}).optional().describe("The decimal mark"),
  dates: z
    .enum(["day-first", "month-first"], {error: "day-first or month-first"})
    .optional()
    .describe("How 03/04/2026 is read"),
  serialsFrom: z
    .union([z.literal(1900), z.literal(1904)], {error: "1900 or 1904"})
    .optional()
    .describe("The year from which a spreadsheet's day numbers count; 1904 on old Macs"),
  headings: byHeading.optional().describe("Your heading of a column, by ours"),
  units: byHeading.optional().describe("The unit of a column, by our heading, where yours does not say it"),
  words: z.record(name, byHeading).optional().describe("Your word for one of ours, by our heading")
});

/** How a file of the book is kept, where its cells do not tell. */
export type Habits = z.infer<typeof Habits>;

const recordNames = fileNames.map(recordName) as [RecordName, ...RecordName[]];

/** What the owner knows of the orders to come that the book does not; see `demandOverride`. */
const Demand = z
  .strictObject({
    shafts: notNegative
      .optional()
      .describe("Your own number of shafts still to be ordered until the season's end, instead of the book's"),
    sd: notNegative
      .optional()
      .describe(
        "How far that number may be off, a standard deviation; without it and a range as far as the book's own, in proportion"
      ),
    low: notNegative.optional().describe("In 95 of 100 cases no fewer than this; with high, instead of sd"),
    high: notNegative.optional().describe("In 95 of 100 cases no more than this"),
    growthPct: z
      .number({error: "a number"})
      .min(-90, {error: "between -90 and 900"})
      .max(900, {error: "between -90 and 900"})
      .optional()
      .describe("Growth of orders a year from now on, %, instead of that of the past"),
    bigOrder: z
      .number({error: "a number"})
      .int({error: "a whole number"})
      .min(0, {error: "0 or more"})
      .default(0)
      .describe("Shafts that are certain to be ordered beside the rest"),
    lostPct: z
      .number({error: "a number"})
      .min(0, {error: "between 0 and 90"})
      .max(90, {error: "between 0 and 90"})
      .default(0)
      .describe("Of 100 shafts asked for, how many the book does not know of, as nothing was on the rack")
  })
  .superRefine(({shafts, sd, low, high}, {addIssue}) => {
    const fault = (heading: string, message: string) => addIssue({code: "custom", path: [heading], message});
    if ((low === undefined) !== (high === undefined))
      fault(low === undefined ? "high" : "low", `given together with ${low === undefined ? "low" : "high"}`);
    else if (low !== undefined && sd !== undefined) fault("sd", "left out where low and high are given");
    const first = [
      ["sd", sd],
      ["low", low]
    ].find(([, value]) => value !== undefined);
    if (shafts === undefined) {
      if (first) fault(String(first[0]), "given together with shafts, the number it belongs to");
    } else if (low !== undefined && high !== undefined && !(low <= shafts && shafts <= high && low < high))
      fault("low", `such that low, shafts and high rise: shafts is ${shafts}, high ${high}`);
  });

/** What the owner says of the demand for one species. */
export type DemandSetting = z.infer<typeof Demand>;

const unique = (rows: readonly {name: string}[]) => new Set(rows.map((row) => row.name)).size === rows.length;

/**
 * The settings of a workshop, `workshop.json`. Every one has a default, so `{}` is a valid file; what is not known here is
 * refused, so that a misspelt setting is not passed over.
 */
export const Settings = z.strictObject({
  // Where an editor finds what may stand here, "./workshop.schema.json"; of no meaning to the toolkit.
  $schema: z.string().optional(),
  name: name.default("The workshop").describe("Name on the reports"),
  stages: z
    .array(Stage)
    .min(2, {error: "at least two stages"})
    .refine(unique, {error: "named differently each"})
    .default(defaultStages)
    .describe("The stages in order, from the square to the finished shaft"),
  defects: z
    .array(
      z.strictObject({
        name: name.describe("As it stands in the events"),
        group: z.enum(["growth", "drying", "machining", "fit"]).describe("Where the cause lies")
      })
    )
    .refine(unique, {error: "named differently each"})
    .default([...defaultDefects])
    .describe("Why a piece may be thrown out, and where the cause lies"),
  species: z
    .record(name, Species)
    .default({
      ash: {wood: "european-ash", windowKgM3: {low: 640, high: 740}},
      maple: {wood: "sugar-maple", windowKgM3: {low: 660, high: 760}}
    })
    .describe("The species worked, each with its constants and the density window"),
  season: z
    .strictObject({
      startsOn: z
        .string()
        .regex(/^(0[1-9]|1[0-2])-(0[1-9]|1\d|2[0-8])$/, {error: "a day of the year like 06-01, up to the 28th"})
        .default("06-01")
        .describe("The day on which the selling year begins, month-day")
    })
    .prefault({})
    .describe("The selling year"),
  money: z
    .strictObject({
      currency: z.string().max(4).default("£").describe("Written before amounts"),
      shaftPrice: positive.default(140).describe("Price of a finished shaft, where orders give none"),
      shortageCost: notNegative.default(20).describe("What a shaft not delivered costs beyond the lost sale"),
      leftoverValue: notNegative.default(10).describe("What a shaft left over at the season's end is worth"),
      turningCostPerSquare: notNegative
        .default(6)
        .describe("Work and material spent on a square, whatever becomes of it"),
      interestPct: notNegative
        .default(6)
        .describe("What money tied up in timber costs a year, %; common practice, no source"),
      storageCostPerMonth: notNegative.default(0).describe("Room, racks and heat for one piece, a month")
    })
    .prefault({})
    .describe("What the buying advice reckons with"),
  accuracy: z
    .strictObject({
      scaleG: notNegative.default(1).describe("Standard uncertainty of a weighing, g"),
      calliperMm: notNegative.default(0.1).describe("Standard uncertainty of a width or thickness, mm"),
      tapeMm: notNegative.default(1).describe("Standard uncertainty of a length, mm"),
      meterPct: notNegative.default(1.5).describe("Standard uncertainty of the moisture meter, % moisture content")
    })
    .prefault({})
    .describe("How well the workshop measures"),
  suppliers: z
    .record(
      name,
      z.strictObject({
        minimum: z.number().int().min(0).default(0).describe("Fewest squares of one species worth a visit"),
        available: z
          .number()
          .int()
          .min(0)
          .default(100)
          .describe("Most squares of one species it can supply until the season's end"),
        tripCost: notNegative
          .optional()
          .describe("Carriage and fuel of one trip to it; without one the mean carriage of its last three trips"),
        discounts: z
          .array(
            z.strictObject({
              from: z
                .number()
                .int()
                .positive({error: "a number of squares"})
                .describe("Squares of one species from which it holds"),
              pct: z.number().min(0).max(90).describe("Taken off the price of every square, %")
            })
          )
          .refine((steps) => steps.every(({from}, i) => i === 0 || from > steps[i - 1]!.from), {
            error: "by number of squares, fewest first"
          })
          .default([])
          .describe("Lower prices for more squares")
      })
    )
    .default({})
    .describe("What is known of a supplier beyond the purchases"),
  demand: z
    .record(name, Demand)
    .default({})
    .describe("What you know of the orders to come, by species: what you write here counts instead of the book's own"),
  buying: z
    .strictObject({
      serviceGoal: z
        .number({error: "a chance between 0.5 and 0.999"})
        .min(0.5, {error: "a chance between 0.5 and 0.999"})
        .max(0.999, {error: "a chance between 0.5 and 0.999"})
        .default(0.9)
        .describe("Wanted chance that every order of a species can be served until the season's end"),
      budget: positive.optional().describe("Most money for squares, the work on them and the trips; without one any"),
      trips: z.number().int().min(1).optional().describe("Most suppliers visited; without one any number")
    })
    .prefault({})
    .describe("What binds the season's purchase"),
  scenarios: z
    .array(
      z.strictObject({
        name: name.describe("As it stands in the report"),
        demandPct: z.number().min(-90).max(400).optional().describe("Orders more (or, below 0, fewer), %"),
        usablePct: z.number().min(-90).max(100).optional().describe("Usable shares higher (or lower), %"),
        squareCostPct: z.number().min(-90).max(400).optional().describe("Squares dearer (or cheaper), %"),
        shaftPricePct: z.number().min(-90).max(400).optional().describe("Shafts sold dearer (or cheaper), %")
      })
    )
    .refine((some) => some.length <= 6, {error: "at most six"})
    .default([
      {name: "orders fall", demandPct: -25},
      {name: "orders rise", demandPct: 25},
      {name: "poor and dear timber", usablePct: -15, squareCostPct: 20}
    ])
    .describe("Futures of your own, for which the season's report makes its plan again"),
  store: z
    .strictObject({
      moisturePct: z
        .number({error: "a number"})
        .min(1, {error: "between 1 and 30"})
        .max(30, {error: "between 1 and 30"})
        .optional()
        .describe("Moisture that timber in the store tends to, %, where climate.csv has no reading of late"),
      days: wholeDays(3650).default(60).describe("Over so many days the readings of climate.csv are averaged")
    })
    .prefault({})
    .describe("The air of the store"),
  ready: z
    .strictObject({
      steadyDays: wholeDays(365).default(7).describe("Least days between the two weighings that are compared"),
      steadyPct: positive
        .default(0.1)
        .describe("A mass is steady when it changes by no more than this, % of it, or by scaleSteps"),
      scaleSteps: positive.default(2).describe("… or by so many times the scale's uncertainty, where that is more"),
      nearPct: positive
        .default(2)
        .describe("Points of moisture above the store's equilibrium up to which a piece counts as dry enough"),
      clearanceMm: notNegative
        .default(0.5)
        .describe("Least to be turned off the diameter at the next pass, after what the piece still shrinks and bends"),
      clearanceFraction: z
        .number({error: "a chance between 0.5 and 0.999"})
        .min(0.5, {error: "a chance between 0.5 and 0.999"})
        .max(0.999, {error: "a chance between 0.5 and 0.999"})
        .default(0.95)
        .describe("Wanted chance that so much is left")
    })
    .prefault({})
    .describe("When a piece may be turned; the shop's own rules, common practice, no source"),
  bendTest: z
    .strictObject({
      loadKg: positive.describe("Weight hung on the shaft, kg"),
      support: z
        .enum(["simple", "cantilever"], {error: "simple or cantilever"})
        .describe(
          "simple: on two supports, weight in the middle; cantilever: held at the large end, weight at the other"
        ),
      fromLargeMm: inUnits("mm", measured("mm").min(0, {error: "0 or more"}))
        .default(0)
        .describe("From the large end to where the free length begins, mm"),
      spanMm: measure("mm").describe("The free length, mm")
    })
    .optional()
    .describe("The test in which deflection_mm is read; without it deflections are not turned into stiffness"),
  rack: z
    .strictObject({
      spliceMarginMm: notNegative
        .default(0)
        .describe("How much longer than ordered a shaft must be, for splices and trimming"),
      tipMarginMm: notNegative.default(0).describe("How much thicker at the tip than ordered a shaft must be"),
      handleMassG: notNegative
        .default(0)
        .describe(
          "Mass of handle, splices and fittings that an order's weight includes, g; 0: orders speak of the bare shaft"
        ),
      handleMassSdG: notNegative.default(0).describe("How far that mass may be off, a standard deviation, g"),
      weights: z
        .strictObject({
          mass: notNegative.default(1).describe("Mass inside its window"),
          stiffness: notNegative.default(1).describe("Deflection in the workshop's test"),
          grain: notNegative.default(0.5).describe("Slope of the grain"),
          colour: notNegative.default(0.5).describe("Colour")
        })
        .prefault({})
        .describe("How much each wish of an order counts when shafts that fit are compared")
    })
    .prefault({})
    .describe("How shafts are matched to orders"),
  reading: z
    .partialRecord(z.enum(["all", ...recordNames], {error: `all or one of ${recordNames.join(", ")}`}), Habits)
    .default({})
    .describe("How your files are kept, where they do not tell themselves: for all, or for one kind of record")
});

export type Settings = z.infer<typeof Settings>;

/** What is taken from the JSON schema of the settings, or of a part of them. */
export interface SettingSchema {
  description?: string;
  default?: unknown;
  enum?: string[];
  properties?: Record<string, SettingSchema>;
  items?: SettingSchema;
  additionalProperties?: SettingSchema | false;
  propertyNames?: SettingSchema;
}

/**
 * The settings from the text of `workshop.json`, blanks filled with the documented defaults.
 *
 * @returns the settings, or undefined beside the problems that stand in the way
 */
export function parseSettings(text: string): {settings?: Settings; problems: Problem[]} {
  const source = text.replace(/^\ufeff/, "");
  const errors: ParseError[] = [];
  let json: unknown = {};
  try {
    if (source.trim() !== "") json = parse(source, errors, {allowTrailingComma: true});
  } catch {
    return {problems: [settingProblem({wanted: "valid JSON, nested no deeper than settings are"})]};
  }
  if (errors[0]) return {problems: [notJson(source, errors[0])]};
  const result = Settings.safeParse(json);
  if (result.success) {
    const problems = [...strangeDemand(result.data), ...strangeTest(result.data), ...strangeHabits(result.data)];
    return problems.length > 0 ? {problems} : {settings: result.data, problems};
  }
  return {
    problems: result.error.issues.flatMap((issue) => {
      const heading = path(issue.path);
      if (issue.code !== "unrecognized_keys")
        return [settingProblem({heading, value: shown(valueAt(json, issue.path)), wanted: issue.message})];
      const known = knownNames(issue.path);
      return issue.keys.map((value) =>
        settingProblem({heading, value, wanted: "a setting that this toolkit knows", known})
      );
    })
  };
}

function settingProblem({
  known = [],
  ...found
}: {
  heading?: string;
  value?: string;
  wanted: string;
  known?: string[];
}): Problem {
  const mend = `${didYouMean(found.value ?? "", known)}Correct ${settingsFile}; the README lists the settings and their defaults.`;
  return {code: "setting-unreadable", severity: "blocking", file: settingsFile, mend, ...found};
}

/** The names that a part of the settings may have; none where the owner names what stands there. */
function knownNames(keys: readonly PropertyKey[]): string[] {
  let part: SettingSchema | undefined = z.toJSONSchema(Settings, {io: "input"}) as SettingSchema;
  for (const key of keys)
    part = part?.properties?.[String(key)] ?? part?.items ?? (part?.additionalProperties || undefined);
  return part?.properties ? Object.keys(part.properties) : (part?.propertyNames?.enum ?? []);
}

/** Demand for a species that is not worked. */
function strangeDemand({demand, species}: Settings): Problem[] {
  const known = Object.keys(species);
  return Object.keys(demand)
    .filter((value) => !known.includes(value))
    .map((value) => settingProblem({heading: "demand", value, wanted: "a species named under species", known}));
}

/** A bending test that reaches beyond the finished shaft. */
function strangeTest({bendTest, stages}: Settings): Problem[] {
  const lengthMm = stages.at(-1)!.lengthMm;
  if (!bendTest || lengthMm === undefined || bendTest.fromLargeMm + bendTest.spanMm <= lengthMm) return [];
  const wanted = `no more, with fromLargeMm (${bendTest.fromLargeMm} mm), than the ${lengthMm} mm of a shaft at ${stages.at(-1)!.name}`;
  return [settingProblem({heading: "bendTest.spanMm", value: String(bendTest.spanMm), wanted})];
}

/** Columns that a file does not have, and units that nobody knows, under `reading`. */
function strangeHabits({reading}: Settings): Problem[] {
  return Object.entries(reading).flatMap(([record, {headings = {}, units = {}, words = {}}]) => {
    const own = record === "all" ? fileNames : fileNames.filter((file) => recordName(file) === record);
    const columns = own.flatMap((file) => fields(files[file].schema).map(([, {heading}]) => heading));
    const unknown = Object.entries({headings, units, words}).flatMap(([part, said]) =>
      Object.keys(said)
        .filter((heading) => !columns.includes(heading))
        .map((heading) => {
          const wanted = "a column of ours, by its heading";
          return settingProblem({heading: `reading.${record}.${part}`, value: heading, wanted, known: columns});
        })
    );
    const strange = Object.entries(units).filter(([, unit]) => unitOf(unit) === undefined);
    const wanted = "a unit, like mm, in, g, oz, %, °C, kg/m³ or lb/ft³";
    return [
      ...unknown,
      ...strange.map(([column, value]) => settingProblem({heading: `reading.${record}.units.${column}`, value, wanted}))
    ];
  });
}

/** Where the text stops being JSON, line and column. */
function notJson(text: string, {error, offset}: ParseError): Problem {
  const before = text.slice(0, offset).split("\n");
  const value = `${printParseErrorCode(error)} in line ${before.length}, place ${before.at(-1)!.length + 1}`;
  return settingProblem({wanted: "valid JSON (remarks after // may stand in it)", value});
}

function path(keys: readonly PropertyKey[]): string {
  return keys.length === 0 ? "the file" : keys.map(String).join(".");
}

function valueAt(json: unknown, keys: readonly PropertyKey[]): unknown {
  return keys.reduce((value: unknown, key) => (value as Record<PropertyKey, unknown> | undefined)?.[key], json);
}

function shown(value: unknown): string {
  return excerpt(JSON.stringify(value) ?? "nothing");
}
