import {z} from "zod";
import {type BookCounted, type BookCounts, countsInOrder, type DensityCount, type OrderCount} from "./bookCounts.ts";
import {dayNumber, dayText, isDay} from "./day.ts";
import {choice, count, day, fields, name, number, optional} from "./field.ts";
import {readGrid} from "./grid.ts";
import {headingTest} from "./headings.ts";
import {didYouMean} from "./nearest.ts";
import {at, excerpt, type Problem, type ProblemCode} from "./problem.ts";
import {type Cells, type Numbered, readRecords} from "./readRecords.ts";
import {Lot, Order, type RecordKind} from "./records.ts";
import {parseSettings, type Settings, settingsFile} from "./settings.ts";
import type {SpellCount} from "./spellCounts.ts";
import {defectOf} from "./spells.ts";

const lotOf = {heading: "lot", description: "The lot they came in", example: "L031"} as const;
const squares = count(1, 1_000_000_000, {heading: "squares", description: "So many squares", example: "12"});

/** A row of spells.csv: a `SpellCount` with its days as text. */
const Spell = z.object({
  lot: name(lotOf),
  stage: name({heading: "stage", description: "The stage they were at", example: "rough-round"}),
  from: day({heading: "from", description: "Day they got there", example: "2025-06-02"}),
  to: optional(day({heading: "to", description: "Day they left; blank while there", example: "2025-08-14"})),
  outcome: optional(
    name({heading: "outcome", description: "How they left, or that they are promised", example: "passed"})
  ),
  side: choice(["below", "inside", "above"], {
    heading: "side",
    description: "How their density lies to the window",
    example: "inside"
  }),
  squares
});

const Density = z.object({
  lot: name(lotOf),
  densityKgM3: number(1, 5000, {
    heading: "density_kgm3",
    description: "Density at 12 % moisture, to a tenth",
    unit: "kg/m³",
    example: "687.4"
  }),
  squares
});

const GivenOrder = Order.extend({
  given: count(0, 1_000_000_000, {heading: "given", description: "Shafts it has been given", example: "1"})
});

/** What counts.json says of the books. */
const Books = z.array(
  z.strictObject({
    workshop: z.string().optional(),
    entered: z.string().refine(isDay),
    files: z.array(
      z
        .strictObject({file: z.string(), rows: z.int().nonnegative(), setAside: z.int().nonnegative()})
        .refine(({rows, setAside}) => setAside <= rows)
    )
  })
);

/** The tables of counts: the file of each and what a row is. */
export const countFiles = {
  "lots.csv": {schema: Lot, required: true, filled: true, rowIs: "a purchase"},
  "orders.csv": {
    schema: GivenOrder,
    required: true,
    filled: false,
    rowIs: "an order with the shafts it has been given"
  },
  "spells.csv": {schema: Spell, required: true, filled: true, rowIs: "squares that did the same"},
  "densities.csv": {schema: Density, required: true, filled: true, rowIs: "squares of one density"}
} as const satisfies Record<string, RecordKind>;

export type CountFile = keyof typeof countFiles;

/** The file of the settings and the day. */
export const countsFile = "counts.json";

/** This form of the files; another would have another number. */
const format = 1;

/** The rows of the tables of counts, headings first, blanks undefined, days as 2026-10-31; and the text of counts.json. */
export function countTables(counts: BookCounts): {
  tables: Record<CountFile, (string | number | undefined)[][]>;
  json: string;
} {
  const rows: Record<CountFile, readonly object[]> = {
    "lots.csv": counts.lots,
    "orders.csv": counts.orders,
    "spells.csv": counts.spells.map(({from, to, ...spell}) => ({
      ...spell,
      from: dayText(from),
      ...(to !== undefined && {to: dayText(to)})
    })),
    "densities.csv": counts.densities
  };
  const tables = Object.entries(rows).map(([file, own]) => {
    const columns = fields(countFiles[file as CountFile].schema);
    const cells = own.map((row) =>
      columns.map(([key]) => guarded((row as Record<string, string | number | undefined>)[key]))
    );
    return [file, [columns.map(([, {heading}]) => heading), ...cells]];
  });
  const {asOf, books, settings} = counts;
  const json = JSON.stringify({format, asOf: dayText(asOf), books, settings}, undefined, 1);
  return {tables: Object.fromEntries(tables), json: `${json}\n`};
}

/** In a spreadsheet's file an apostrophe is put before signs of a formula: a text that has one there already gets a second. */
const guarded = (cell: string | number | undefined) =>
  typeof cell === "string" && /^'+[=+\-@]/.test(cell) ? `'${cell}` : cell;
const unguarded = (cell: unknown) => (typeof cell === "string" ? cell.replace(/^'(?='*[=+\-@])/, "") : cell);

/**
 * The counts from the texts of their files. Nothing is left out: one row that does not fit and there are no counts, as what is missing could
 * not be seen in the results. Lots, stages, defects and species must be known, days in order, and the squares of a lot as many by
 * density as at the first stage.
 *
 * Checked: tests/book/countFiles.test.ts
 *
 * @param texts by name; a file that is not there is left out
 */
export function parseCounts(texts: Partial<Record<CountFile | typeof countsFile, string>>): {
  counts?: BookCounts;
  problems: Problem[];
} {
  const problems: Problem[] = [];
  const about = aboutOf(texts[countsFile], problems);
  const sources: Partial<Record<CountFile, Cells>> = {};
  const read = <T>(file: CountFile): Numbered<T>[] => {
    const text = texts[file];
    if (text === undefined) {
      problems.push(missing(file));
      return [];
    }
    const kind: RecordKind = countFiles[file];
    const grid = readGrid(text, file, {delimiter: ",", known: headingTest(kind.schema, {})});
    const {records, source, problems: found} = readRecords(grid, kind, {decimal: "point", dates: "day-first"});
    sources[file] = source;
    problems.push(...found.filter(({severity}) => severity === "blocking" || severity === "refused"));
    return records.map(
      (record) => Object.fromEntries(Object.entries(record).map(([key, cell]) => [key, unguarded(cell)])) as Numbered<T>
    );
  };
  const lots = read<Lot>("lots.csv");
  const orders = read<OrderCount>("orders.csv");
  const spells = read<z.infer<typeof Spell>>("spells.csv");
  const densities = read<DensityCount>("densities.csv");
  if (!about || problems.length > 0) return {problems};

  const fault: AddFault = (file, row, heading, said) => {
    const {columns, headings, rows} = sources[file]!;
    const index = columns[heading]!;
    const value = excerpt(rows.find((one) => one.row === row)?.cells[index] ?? "");
    problems.push({...at(file, row, index, headings[index]!), severity: "refused", value, mend, ...said});
  };
  checkLots(lots, about, fault);
  checkOrders(orders, about, fault);
  checkSpells(spells, {...about, lots}, fault);
  // A lot that is not there has no sum.
  if (problems.length === 0) checkSums(lots, {spells, densities, first: about.settings.stages[0]!.name}, fault);
  if (problems.length > 0) return {problems};
  const plain = <T>({row: _, ...rest}: Numbered<T>) => rest;
  return {
    counts: countsInOrder({
      ...about,
      lots: lots.map(plain) as Lot[],
      orders: orders.map(plain) as OrderCount[],
      spells: spells.map(
        ({row: _, from, to, ...spell}): SpellCount => ({
          lot: spell.lot,
          stage: spell.stage,
          from: dayNumber(from),
          ...(to !== undefined && {to: dayNumber(to)}),
          ...(spell.outcome !== undefined && {outcome: spell.outcome}),
          side: spell.side,
          squares: spell.squares
        })
      ),
      densities: densities.map(plain) as DensityCount[]
    }),
    problems
  };
}

const mend = "Make the counts anew from the book or the tables.";

type About = Pick<BookCounts, "settings" | "asOf" | "books">;

type AddFault = (
  file: CountFile,
  row: number,
  heading: string,
  said: {code: ProblemCode; wanted: string; mend?: string; value?: string}
) => void;

function missing(file: string): Problem {
  const wanted = `in the folder of the counts, beside ${Object.keys(countFiles).join(", ")} and ${countsFile}`;
  return {code: "file-missing", severity: "blocking", file, wanted, mend};
}

/** The settings and the day of counts.json; undefined beside the problems that stand in the way. */
function aboutOf(text: string | undefined, problems: Problem[]): About | undefined {
  const wrong = (heading: string | undefined, value: string | undefined, wanted: string) => {
    const place = {file: countsFile, ...(heading !== undefined && {heading}), ...(value !== undefined && {value})};
    problems.push({code: "setting-unreadable", severity: "blocking", ...place, wanted, mend});
    return undefined;
  };
  if (text === undefined) {
    problems.push(missing(countsFile));
    return undefined;
  }
  let json: {format?: unknown; asOf?: unknown; books?: unknown; settings?: unknown};
  try {
    json = JSON.parse(text);
  } catch (error) {
    return wrong(undefined, (error as Error).message, "valid JSON");
  }
  if (typeof json !== "object" || json === null)
    return wrong(undefined, excerpt(text), "an object with settings and a day");
  if (json.format !== format) return wrong("format", excerpt(JSON.stringify(json.format) ?? "nothing"), `${format}`);
  const {asOf} = json;
  if (typeof asOf !== "string" || !isDay(asOf))
    return wrong("asOf", excerpt(JSON.stringify(asOf) ?? "nothing"), "a calendar day like 2026-10-31");
  const books = Books.optional().safeParse(json.books);
  if (!books.success || books.data?.some(({entered}) => entered > asOf)) {
    const wanted = `a list of books, each with the last day entered, no later than ${asOf}, and its files with their rows and those set aside`;
    return wrong("books", excerpt(JSON.stringify(json.books)), wanted);
  }
  const {settings, problems: found} = parseSettings(JSON.stringify(json.settings ?? null));
  for (const {heading, value, wanted, mend: how} of found) {
    wrong(`settings.${heading ?? ""}`, value, wanted);
    problems.at(-1)!.mend = how.replace(settingsFile, countsFile);
  }
  return settings && {settings, asOf: dayNumber(asOf), ...(books.data && {books: books.data as BookCounted[]})};
}

function checkLots(lots: readonly Numbered<Lot>[], {settings, asOf}: About, fault: AddFault): void {
  const seen = new Map<string, number>();
  for (const {row, lot, species, boughtOn} of lots) {
    const earlier = seen.get(lot);
    if (earlier !== undefined)
      fault("lots.csv", row, "lot", {code: "number-twice", wanted: `given once; row ${earlier} has it`});
    else seen.set(lot, row);
    checkSpecies("lots.csv", {row, species}, settings, fault);
    checkDay("lots.csv", row, "bought_on", dayNumber(boughtOn), asOf, fault);
  }
}

function checkOrders(orders: readonly Numbered<OrderCount>[], {settings, asOf}: About, fault: AddFault): void {
  const seen = new Map<string, number>();
  for (const {row, order, species, orderedOn} of orders) {
    const earlier = seen.get(order);
    if (earlier !== undefined)
      fault("orders.csv", row, "order", {code: "number-twice", wanted: `given once; row ${earlier} has it`});
    else seen.set(order, row);
    checkSpecies("orders.csv", {row, species}, settings, fault);
    checkDay("orders.csv", row, "ordered_on", dayNumber(orderedOn), asOf, fault);
  }
}

function checkSpecies(
  file: CountFile,
  {row, species}: {row: number; species: string},
  settings: Settings,
  fault: AddFault
): void {
  if (Object.hasOwn(settings.species, species)) return;
  const known = Object.keys(settings.species);
  fault(file, row, "species", {
    code: "species-unknown",
    wanted: `a species of ${countsFile}: ${known.join(", ")}`,
    mend: `${didYouMean(species, known)}${mend}`
  });
}

function checkDay(file: CountFile, row: number, heading: string, day: number, asOf: number, fault: AddFault): void {
  if (day > asOf)
    fault(file, row, heading, {code: "date-future", wanted: `no later than ${dayText(asOf)}, the day of the counts`});
}

function checkSpells(
  spells: readonly Numbered<z.infer<typeof Spell>>[],
  {settings, asOf, lots}: About & {lots: readonly Lot[]},
  fault: AddFault
): void {
  const bought = new Map(lots.map(({lot, boughtOn}) => [lot, boughtOn]));
  const stages = settings.stages.map(({name}) => name);
  const defects = new Set(settings.defects.map(({name}) => name));
  const last = stages.at(-1)!;
  for (const {row, lot, stage, from, to, outcome} of spells) {
    const add = (heading: string, code: ProblemCode, wanted: string, more: {mend?: string} = {}) =>
      fault("spells.csv", row, heading, {code, wanted, ...more});
    const boughtOn = bought.get(lot);
    if (boughtOn === undefined) add("lot", "lot-unknown", "a lot of lots.csv");
    else if (from < boughtOn) add("from", "before-purchase", `on or after ${boughtOn}, when the lot was bought`);
    if (!stages.includes(stage))
      add("stage", "stage-unknown", `a stage of ${countsFile}: ${stages.join(", ")}`, {
        mend: `${didYouMean(stage, stages)}${mend}`
      });
    checkDay("spells.csv", row, "from", dayNumber(from), asOf, fault);
    if (to !== undefined) {
      checkDay("spells.csv", row, "to", dayNumber(to), asOf, fault);
      if (to < from) add("to", "range-turned", `on or after ${from}, when they got there`);
    }
    const defect = outcome === undefined ? undefined : defectOf(outcome);
    const stays = outcome === undefined || outcome === "allotted";
    const isKnown = stays || ["passed", "diverted", "delivered"].includes(outcome) || defect !== undefined;
    if (!isKnown)
      add("outcome", "cell-unreadable", "passed, diverted, discarded: and a defect, allotted, delivered, or blank");
    else if (defect !== undefined && !defects.has(defect))
      add("outcome", "defect-unknown", `“discarded: ” and a defect of ${countsFile}: ${[...defects].join(", ")}`);
    else if (stays !== (to === undefined))
      add("to", "cell-unreadable", stays ? "blank, as they are still there" : "filled in, as they have left");
    else if (outcome === "passed" && stage === last)
      add("outcome", "cell-unreadable", `another at ${last}, the last stage: nothing passes on from it`);
    else if ((outcome === "allotted" || outcome === "delivered") && stage !== last)
      add("outcome", "cell-unreadable", `another at ${stage}: only what is ${last}, the last stage, is ${outcome}`);
  }
}

/** The squares of each lot counted in two ways, which must give the same. */
function checkSums(
  lots: readonly Numbered<Lot>[],
  {
    spells,
    densities,
    first
  }: {spells: readonly z.infer<typeof Spell>[]; densities: readonly Numbered<DensityCount>[]; first: string},
  fault: AddFault
): void {
  const sums = new Map(lots.map(({lot}) => [lot, {byStage: 0, byDensity: 0}]));
  for (const {lot, stage, squares} of spells) if (stage === first) sums.get(lot)!.byStage += squares;
  for (const {row, lot, squares} of densities) {
    const sum = sums.get(lot);
    if (sum) sum.byDensity += squares;
    else fault("densities.csv", row, "lot", {code: "lot-unknown", wanted: "a lot of lots.csv"});
  }
  for (const {row, lot} of lots) {
    const {byStage, byDensity} = sums.get(lot)!;
    if (byStage === byDensity) continue;
    const value = `${byDensity} in densities.csv, ${byStage} at ${first} in spells.csv`;
    fault("lots.csv", row, "lot", {
      code: byStage < byDensity ? "lot-short" : "lot-over",
      value,
      wanted: "a lot of as many squares by density as by stage"
    });
  }
}
