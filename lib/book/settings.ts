import {z} from "zod";
import {woodNames} from "../wood/species.ts";
import type {Problem} from "./problem.ts";

/** The name of the settings file of a book. */
export const settingsFile = "workshop.json";

const name = z.string().trim().min(1, {error: "filled in"});
const positive = z.number({error: "a number"}).positive({error: "positive"});
const notNegative = z.number({error: "a number"}).min(0, {error: "0 or more"});

const Stage = z.strictObject({
  name,
  restDays: notNegative
    .default(0)
    .describe("Least rest at this stage before the next pass; common practice, no source"),
  largeMm: positive.optional().describe("Target diameter at the large end"),
  smallMm: positive.optional().describe("Target diameter at the small end"),
  lengthMm: positive.optional().describe("Target length")
});

const Species = z.strictObject({
  wood: z
    .enum(woodNames, {error: `one of ${woodNames.join(", ")}`})
    .describe("Which published constants to use, e.g. european-ash or sugar-maple"),
  windowKgM3: z
    .strictObject({low: positive, high: positive})
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

const unique = (rows: readonly {name: string}[]) => new Set(rows.map((row) => row.name)).size === rows.length;

/**
 * The settings of a workshop, `workshop.json`. Every one has a default, so `{}` is a valid file; what is not known here is
 * refused, so that a misspelt setting is not passed over.
 */
export const Settings = z.strictObject({
  name: name.default("The workshop").describe("Name on the reports"),
  stages: z
    .array(Stage)
    .min(2, {error: "at least two stages"})
    .refine(unique, {error: "named differently each"})
    .default(defaultStages)
    .describe("The stages in order, from the square to the finished shaft"),
  defects: z
    .array(z.strictObject({name, group: z.enum(["growth", "drying", "machining", "fit"])}))
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
    .prefault({}),
  money: z
    .strictObject({
      currency: z.string().max(4).default("£").describe("Written before amounts"),
      shaftPrice: positive.default(140).describe("Price of a finished shaft, where orders give none"),
      shortageCost: notNegative.default(20).describe("What a shaft not delivered costs beyond the lost sale"),
      leftoverValue: notNegative.default(10).describe("What a shaft left over at the season's end is worth"),
      turningCostPerSquare: notNegative
        .default(6)
        .describe("Work and material spent on a square, whatever becomes of it")
    })
    .prefault({}),
  accuracy: z
    .strictObject({
      scaleG: notNegative.default(1).describe("Standard uncertainty of a weighing, g"),
      calliperMm: notNegative.default(0.1).describe("Standard uncertainty of a width or thickness, mm"),
      tapeMm: notNegative.default(1).describe("Standard uncertainty of a length, mm"),
      meterPct: notNegative.default(1.5).describe("Standard uncertainty of the moisture meter, % moisture content")
    })
    .prefault({}),
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
          .describe("Most squares of one species it can supply until the season's end")
      })
    )
    .default({})
    .describe("What is known of a supplier beyond the purchases")
});

export type Settings = z.infer<typeof Settings>;

/**
 * The settings from the text of `workshop.json`, blanks filled with the documented defaults.
 *
 * @returns the settings, or undefined beside the problems that stand in the way
 */
export function parseSettings(text: string): {settings?: Settings; problems: Problem[]} {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\ufeff/, ""));
  } catch (error) {
    return {problems: [settingProblem({wanted: "valid JSON", value: (error as Error).message})]};
  }
  const result = Settings.safeParse(json);
  if (result.success) return {settings: result.data, problems: []};
  return {
    problems: result.error.issues.map((issue) =>
      issue.code === "unrecognized_keys"
        ? settingProblem({
            heading: path(issue.path),
            value: issue.keys.join(", "),
            wanted: "a setting that this toolkit knows"
          })
        : settingProblem({heading: path(issue.path), value: excerpt(valueAt(json, issue.path)), wanted: issue.message})
    )
  };
}

function settingProblem(found: {heading?: string; value?: string; wanted: string}): Problem {
  const mend = `Correct ${settingsFile}; the README lists the settings and their defaults.`;
  return {code: "setting-unreadable", severity: "blocking", file: settingsFile, mend, ...found};
}

function path(keys: readonly PropertyKey[]): string {
  return keys.length === 0 ? "the file" : keys.map(String).join(".");
}

function valueAt(json: unknown, keys: readonly PropertyKey[]): unknown {
  return keys.reduce((value: unknown, key) => (value as Record<PropertyKey, unknown> | undefined)?.[key], json);
}

function excerpt(value: unknown): string {
  return (JSON.stringify(value) ?? "nothing").slice(0, 60);
}
