import type {Cells} from "./cells.ts";
import type {Problem} from "./problem.ts";
import {at, type Numbered, type RecordsRead, readRecords} from "./readRecords.ts";
import {type Event, type FileName, files, type Lot, type Order, type Reading, type Square} from "./records.ts";
import type {Settings} from "./settings.ts";
import {squareDensityAt12} from "./squareDensity.ts";

/** A workshop's history: sound rows only, each with the row it stands in. */
export interface Book {
  settings: Settings;
  lots: Numbered<Lot>[];
  squares: Numbered<Square>[];
  events: Numbered<Event>[];
  orders: Numbered<Order>[];
  climate: Numbered<Reading>[];
  /** The text of every file that was there, cell by cell, so that a refused row can be written out whole. */
  sources: Partial<Record<FileName, Cells>>;
}

/**
 * The book from the texts of its files. Every row is used or is named in a problem; rows that refer to each other must fit:
 * numbers are given once, lots, squares and orders exist, species, stages and defects are those of the settings.
 *
 * What happened to a piece in which order is not looked at here: see `histories`.
 *
 * Checked: tests/book/parseBook.test.ts
 *
 * @param texts the text of each file by its name, e.g. `{"lots.csv": "lot,bought_on,…"}`
 * @returns no book when a problem is blocking: a file or a column is missing
 */
export function parseBook(
  texts: Partial<Record<FileName, string>>,
  settings: Settings
): {book?: Book; problems: Problem[]; sources: Book["sources"]} {
  const problems: Problem[] = [];
  const sources: Partial<Record<FileName, Cells>> = {};
  const read = <F extends FileName>(file: F): RecordsRead<never>["records"] => {
    const text = texts[file];
    if (text === undefined) {
      if (files[file].required) problems.push(missingFile(file));
      return [];
    }
    const result = readRecords(text, file, files[file].schema);
    sources[file] = result.source;
    problems.push(...result.problems);
    return result.records as never;
  };
  const refuse = (problem: Problem) => problems.push(problem);
  const find = place(sources);

  const lots = sound(read("lots.csv") as Numbered<Lot>[], lotFault(settings, find), refuse);
  const lotById = new Map(lots.map((lot) => [lot.lot, lot]));
  const squares = sound(read("squares.csv") as Numbered<Square>[], squareFault(settings, lotById, find), refuse);
  const orders = sound(read("orders.csv") as Numbered<Order>[], orderFault(settings, find), refuse);
  const squareIds = new Set(squares.map(({square}) => square));
  const orderIds = new Set(orders.map(({order}) => order));
  const events = sound(
    read("events.csv") as Numbered<Event>[],
    eventFault(settings, squareIds, orderIds, find),
    refuse
  );
  const climate = read("climate.csv") as Numbered<Reading>[];
  problems.push(...miscountedLots(lots, squares, problems));
  if (problems.some(({severity}) => severity === "blocking")) return {problems, sources};
  if (lots.length === 0) return {problems: [...problems, noLots()], sources};
  return {book: {settings, lots, squares, events, orders, climate, sources}, problems, sources};
}

type Find = (
  file: FileName,
  row: number,
  heading: string
) => Pick<Problem, "file" | "row" | "column" | "cell" | "heading" | "value">;
type Fault<T> = (record: Numbered<T>) => Problem | undefined;

/** Where a cell stands and what is in it, by file, row and heading. */
function place(sources: Partial<Record<FileName, Cells>>): Find {
  const rows = new Map<FileName, Map<number, string[]>>();
  return (file, row, heading) => {
    const source = sources[file];
    if (!source) return {file, row, heading};
    if (!rows.has(file)) rows.set(file, new Map(source.rows.map(({row, cells}) => [row, cells])));
    const index = source.headings.indexOf(heading);
    if (index < 0) return {file, row, heading};
    return {...at(file, row, index, heading), value: rows.get(file)?.get(row)?.[index] ?? ""};
  };
}

/** The records without a fault; the fault of each other one is handed on. */
function sound<T>(records: readonly Numbered<T>[], fault: Fault<T>, refuse: (problem: Problem) => void): Numbered<T>[] {
  return records.filter((record) => {
    const problem = fault(record);
    if (problem) refuse(problem);
    return problem === undefined;
  });
}

/** Says of the second and later rows with one number that the first row has it. */
function onlyOnce<T>(file: FileName, heading: string, id: (record: T) => string, find: Find): Fault<T> {
  const first = new Map<string, number>();
  return (record) => {
    const row = first.get(id(record));
    if (row === undefined) first.set(id(record), record.row);
    if (row === undefined) return undefined;
    const mend = `Row ${row} has this number. Take out the row entered twice, or correct its number.`;
    return {
      ...find(file, record.row, heading),
      code: "number-twice",
      severity: "refused",
      wanted: "a number of its own",
      mend
    };
  };
}

function unknownName(
  file: FileName,
  row: number,
  heading: string,
  code: Problem["code"],
  names: readonly string[],
  find: Find
): Problem {
  const mend = `Correct the spelling, or add it to workshop.json.`;
  return {...find(file, row, heading), code, severity: "refused", wanted: `one of ${names.join(", ")}`, mend};
}

function lotFault({species}: Settings, find: Find): Fault<Lot> {
  const twice = onlyOnce<Lot>("lots.csv", "lot", ({lot}) => lot, find);
  return (lot) =>
    Object.hasOwn(species, lot.species)
      ? twice(lot)
      : unknownName("lots.csv", lot.row, "species", "species-unknown", Object.keys(species), find);
}

function squareFault(settings: Settings, lots: ReadonlyMap<string, Lot>, find: Find): Fault<Square> {
  const twice = onlyOnce<Square>("squares.csv", "square", ({square}) => square, find);
  return (square) => {
    const lot = lots.get(square.lot);
    if (lot === undefined) {
      const mend = "Correct the lot's number here, or mend the lot's row in lots.csv.";
      const wanted = "the number of a lot in lots.csv";
      return {...find("squares.csv", square.row, "lot"), code: "lot-unknown", severity: "refused", wanted, mend};
    }
    const densityKgM3 = squareDensityAt12(square, lot.species, settings);
    if (densityKgM3 < 250 || densityKgM3 > 1250) {
      const mend =
        "Look at mass, length, width, thickness and moisture: a digit missing or too many, or inches for millimetres?";
      const wanted = `such that the density at 12 % is 250 to 1250 kg/m³ (it is ${Math.round(densityKgM3)})`;
      return {
        ...find("squares.csv", square.row, "mass_g"),
        code: "density-impossible",
        severity: "refused",
        wanted,
        mend
      };
    }
    return twice(square);
  };
}

function orderFault({species}: Settings, find: Find): Fault<Order> {
  const twice = onlyOnce<Order>("orders.csv", "order", ({order}) => order, find);
  return (order) =>
    Object.hasOwn(species, order.species)
      ? twice(order)
      : unknownName("orders.csv", order.row, "species", "species-unknown", Object.keys(species), find);
}

function eventFault(
  settings: Settings,
  squares: ReadonlySet<string>,
  orders: ReadonlySet<string>,
  find: Find
): Fault<Event> {
  const stages = settings.stages.map(({name}) => name);
  const defects = settings.defects.map(({name}) => name);
  const refused = (row: number, heading: string, code: Problem["code"], wanted: string, mend: string): Problem => ({
    ...find("events.csv", row, heading),
    code,
    severity: "refused",
    wanted,
    mend
  });
  return ({row, square, event, stage, defect, order}) => {
    if (!squares.has(square)) {
      const mend = "Correct the number here, or mend the square's row in squares.csv.";
      return refused(row, "square", "square-unknown", "the number of a square in squares.csv", mend);
    }
    if (stage !== undefined && !stages.includes(stage))
      return unknownName("events.csv", row, "stage", "stage-unknown", stages, find);
    if (defect !== undefined && !defects.includes(defect))
      return unknownName("events.csv", row, "defect", "defect-unknown", defects, find);
    if (order !== undefined && !orders.has(order)) {
      return refused(
        row,
        "order",
        "order-unknown",
        "the number of an order in orders.csv",
        "Correct the number, or enter the order."
      );
    }
    if (event === "turned" && stage === undefined) {
      return refused(
        row,
        "stage",
        "stage-missing",
        "the stage that was reached",
        `Enter one of ${stages.slice(1).join(", ")}.`
      );
    }
    if (event === "discarded" && defect === undefined) {
      return refused(
        row,
        "defect",
        "defect-missing",
        "the defect it was discarded for",
        `Enter one of ${defects.join(", ")}.`
      );
    }
    if (event === "allotted" && order === undefined) {
      return refused(row, "order", "order-missing", "the order it is allotted to", "Enter the order's number.");
    }
    return undefined;
  };
}

/** Lots whose squares do not add up: listed are the sound rows that name the lot. */
function miscountedLots(
  lots: readonly Numbered<Lot>[],
  squares: readonly Square[],
  problems: readonly Problem[]
): Problem[] {
  const listed = new Map<string, number>();
  for (const {lot} of squares) listed.set(lot, (listed.get(lot) ?? 0) + 1);
  const refused = problems.some(({file, severity}) => file === "squares.csv" && severity === "refused");
  const mend = `Compare the lot with squares.csv${refused ? " and with the rows refused there" : ""}; the difference is shown as unaccounted.`;
  return lots.flatMap(({lot, squaresBought, row}) => {
    const found = listed.get(lot) ?? 0;
    if (found === squaresBought) return [];
    const code = found < squaresBought ? "lot-short" : "lot-over";
    const value = `${squaresBought} bought, ${found} listed`;
    return [
      {
        code,
        severity: "doubt",
        file: "lots.csv",
        row,
        heading: "squares_bought",
        value,
        wanted: `what squares.csv lists of lot ${lot}`,
        mend
      }
    ];
  });
}

function missingFile(file: string): Problem {
  return {
    code: "file-missing",
    severity: "blocking",
    file,
    wanted: "in the book's folder",
    mend: `Add ${file}, with its headings at least.`
  };
}

function noLots(): Problem {
  return {
    code: "file-empty",
    severity: "blocking",
    file: "lots.csv",
    wanted: "filled with at least one sound purchase",
    mend: "Enter the first purchase, or mend the rows listed."
  };
}
