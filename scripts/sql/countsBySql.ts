import {readFileSync} from "node:fs";
import {type BookCounts, countsInOrder, type DensityCount, type OrderCount} from "../../lib/book/bookCounts.ts";
import {type Day, dayNumber} from "../../lib/book/day.ts";
import {fields} from "../../lib/book/field.ts";
import {Lot, Order} from "../../lib/book/records.ts";
import type {Settings} from "../../lib/book/settings.ts";
import type {SpellCount, WindowSide} from "../../lib/book/spellCounts.ts";
import {woodConstants} from "../../lib/wood/species.ts";

/** A row of an answer, by the names of its columns. */
export type SqlRow = Readonly<Record<string, unknown>>;

/** Any engine that speaks standard SQL: takes one statement, gives the rows of its answer, none where it has none. */
export type SqlEngine = (statement: string) => Promise<readonly SqlRow[]>;

/** The views in the order in which they rest on each other: each is a file beside this one. */
const views = {
  square_densities: "squareDensities.sql",
  square_ends: "squareEnds.sql",
  stays: "stays.sql",
  spell_counts: "spellCounts.sql",
  density_counts: "densityCounts.sql",
  given_shafts: "givenShafts.sql",
  known_lots: "knownLots.sql",
  known_orders: "knownOrders.sql"
} as const;

/**
 * The counts of a book on a day, made by an engine from its tables `lots`, `squares`, `events` and `orders`: the same as `bookCounts` makes of
 * the book's histories. Tables of settings and views are made for it and taken away again.
 *
 * The tables hold sound rows only, as `npm run check` finds them and scripts/io/soundTables.ts writes them: no check is made here. Their columns
 * are headed as in the CSV files; days are DATE, measures DOUBLE PRECISION, and a blank is NULL. `row` numbers lots and orders in their order.
 *
 * Checked: tests/scripts/sql/countsBySql.test.ts
 */
export function countsBySql(run: SqlEngine, settings: Settings, day: Day): Promise<BookCounts> {
  return withViews(run, settings, day, async () =>
    countsInOrder({
      settings,
      asOf: dayNumber(day),
      lots: (await run('SELECT * FROM known_lots ORDER BY "row"')).map((row) => record<Lot>(row, lotFields)),
      orders: (await run('SELECT * FROM known_orders ORDER BY "row"')).map(
        (row): OrderCount => ({...record<Order>(row, orderFields), given: Number(row.given)})
      ),
      spells: (await run("SELECT * FROM spell_counts")).map(spellOf),
      densities: (await run("SELECT * FROM density_counts")).map(
        ({lot, density_kgm3, squares}): DensityCount => ({
          lot: String(lot),
          densityKgM3: Number(density_kgm3),
          squares: Number(squares)
        })
      )
    })
  );
}

/** Asks something of the views while they are there; they and the tables of settings are taken away again, whatever happens. */
export async function withViews<T>(run: SqlEngine, settings: Settings, day: Day, ask: () => Promise<T>): Promise<T> {
  const made: string[] = [];
  try {
    for (const [table, [columns, rows]] of Object.entries(settingTables(settings, day))) {
      await run(`CREATE TABLE ${table} (${columns})`);
      made.unshift(`DROP TABLE ${table}`);
      await run(`INSERT INTO ${table} VALUES ${rows.join(", ")}`);
    }
    for (const [view, file] of Object.entries(views)) {
      await run(readFileSync(new URL(file, import.meta.url), "utf8"));
      made.unshift(`DROP VIEW ${view}`);
    }
    return await ask();
  } finally {
    for (const drop of made) await run(drop);
  }
}

/** The small tables of settings, columns and rows: the day of the question, stages in their order, species with window and wood constants. */
function settingTables({stages, species}: Settings, day: Day): Record<string, [columns: string, rows: string[]]> {
  return {
    question: ["day DATE", [`(DATE '${day}')`]],
    stages: ["stage VARCHAR(1000), place INTEGER", stages.map(({name}, place) => `(${text(name)}, ${place})`)],
    species: [
      "species VARCHAR(1000), low_kgm3 DOUBLE PRECISION, high_kgm3 DOUBLE PRECISION, fibre_saturation_pct DOUBLE PRECISION, volumetric_pct DOUBLE PRECISION",
      Object.entries(species).map(
        ([
          name,
          {
            wood,
            windowKgM3: {low, high}
          }
        ]) => {
          const {fibreSaturationPct, volumetricPct} = woodConstants(wood);
          return `(${[text(name), ...[low, high, fibreSaturationPct, volumetricPct!].map(double)].join(", ")})`;
        }
      )
    ]
  };
}

const text = (value: string) => `'${value.replaceAll("'", "''")}'`;

/** Never a decimal: these need not have the double's digits. */
const double = (value: number) => `${value}e0`;

const lotFields = fields(Lot);
const orderFields = fields(Order);

/** A record from the columns of its table, blanks left out. */
function record<T>(row: SqlRow, columns: ReturnType<typeof fields>): T {
  const known = columns.flatMap(([key, {heading, kind}]) => {
    const value = row[heading];
    if (value === null || value === undefined) return [];
    return [[key, kind === "number" || kind === "integer" ? Number(value) : String(value)]];
  });
  return Object.fromEntries(known) as T;
}

function spellOf({lot, stage, from_day, to_day, outcome, side, squares}: SqlRow): SpellCount {
  return {
    lot: String(lot),
    stage: String(stage),
    from: dayNumber(String(from_day)),
    ...(to_day !== null && {to: dayNumber(String(to_day))}),
    ...(outcome !== null && {outcome: String(outcome)}),
    side: side as WindowSide,
    squares: Number(squares)
  };
}
