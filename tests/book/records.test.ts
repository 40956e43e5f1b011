import {expect, test} from "vitest";
import {fields} from "../../lib/book/field.ts";
import {type FileName, files, ownFileNames} from "../../lib/book/records.ts";

const names = Object.keys(files) as FileName[];
const metas = (file: FileName) => fields(files[file].schema).map(([key, field]) => ({key, ...field}));
const ofKind = (kind: string, cell: string) => (kind === "number" || kind === "integer" ? Number(cell) : cell);

/** The columns of the book as its owner knows them; those that must be there end in "!". */
const columns: Record<FileName, string> = {
  "lots.csv":
    "lot! bought_on! supplier! species! squares_bought! squares_looked_at price_each! carriage trip_hours trip_miles drying note",
  "squares.csv":
    "square! lot! measured_on length_mm! width_mm! thickness_mm! mass_g! mc_pct! density_kgm3 rings_per_25mm grain_one_in colour note",
  "orders.csv":
    "order! ordered_on! wanted_by species! length_mm tip_mm mass_min_g mass_max_g deflection_min_mm deflection_max_mm grain_one_in colour quantity! lost price_each note",
  "events.csv": "date! square! event! stage mass_g mc_pct diameter_mm deflection_mm defect order note",
  "climate.csv": "date! temperature_c! humidity_pct! note",
  "advice.csv":
    "advised_on! species! season_from! season_to! squares! squares_low! squares_high! whom shafts_wanted! shafts_wanted_low! shafts_wanted_high! usable_pct usable_low_pct usable_high_pct profit shafts_short shafts_left_over service_pct note"
};

test.each(names)("%s has its columns, the required ones required", (file) => {
  expect(
    metas(file)
      .map(({heading, optional}) => (optional ? heading : `${heading}!`))
      .join(" ")
  ).toBe(columns[file]);
});

test.each(names)("%s reads the example of each of its columns", (file) => {
  const record = Object.fromEntries(metas(file).map(({key, kind, example}) => [key, ofKind(kind, example)]));
  expect(files[file].schema.safeParse(record).error).toBeUndefined();
});

test.each(names)("%s says of each column what it is, with the unit that its heading names", (file) => {
  for (const {heading, description, unit} of metas(file)) {
    expect(description.length, heading).toBeGreaterThan(3);
    const named = /_(mm|g|pct|c|kgm3)$/.exec(heading)?.[1];
    const units = {mm: "mm", g: "g", pct: "%", c: "°C", kgm3: "kg/m³"} as const;
    if (named) expect(unit, heading).toBe(units[named as keyof typeof units]);
  }
});

test("only climate.csv and advice.csv may be missing", () => {
  expect(names.filter((file) => !files[file].required)).toEqual(["climate.csv", "advice.csv"]);
  expect(names.filter((file) => !ownFileNames.includes(file))).toEqual(["advice.csv"]);
});

test.each<[FileName, string, unknown, string]>([
  ["lots.csv", "squaresBought", 0, "between 1 and 100000"],
  ["lots.csv", "squaresBought", 2.5, "a whole number"],
  ["lots.csv", "priceEach", -1, "between 0 and 1000000"],
  ["lots.csv", "drying", "sun", "one of air, kiln"],
  ["squares.csv", "massG", -1655, "between 1 and 100000"],
  ["squares.csv", "lengthMm", 59, "between 100 and 5000"],
  ["squares.csv", "moisturePct", 151, "between 1 and 150"],
  ["events.csv", "date", "2026-02-31", "a calendar day like 2026-10-31"],
  ["events.csv", "event", "sold", "one of turned, weighed, discarded, diverted, allotted, delivered"],
  ["orders.csv", "quantity", 0, "between 1 and 100000"],
  ["climate.csv", "humidityPct", 101, "between 1 and 100"],
  ["advice.csv", "squares", 12.5, "a whole number"],
  ["advice.csv", "usablePct", 101, "between 0 and 100"]
])("%s refuses %s of %j: it must be %s", (file, key, value, wanted) => {
  const record = Object.fromEntries(metas(file).map((meta) => [meta.key, ofKind(meta.kind, meta.example)]));
  const {error} = files[file].schema.safeParse({...record, [key]: value});
  expect(error?.issues.map(({path, message}) => [path[0], message])).toEqual([[key, wanted]]);
});
