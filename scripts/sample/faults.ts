import {dayNumber, dayText} from "../../lib/book/day.ts";
import type {Row, TableName, Tables} from "./csv.ts";

/** A fault put into the sound book on purpose. Rows are counted as a spreadsheet does: the headings are row 1. */
export interface Fault {
  file: TableName;
  row: number;
  heading: string;
  /** What the cell holds, and what it would hold in a sound book; the latter is absent where the row itself is too many. */
  found: string;
  right?: string;
  what: string;
}

export type Slip = Omit<Fault, "row"> & {at: Row};

/** The handful of slips that a real book has: the tables are changed, and each change is listed. */
export function putInFaults(tables: Tables): Fault[] {
  return slips(tables).map(({at, ...fault}) => ({...fault, row: tables[fault.file].indexOf(at) + 2}));
}

/** The same, each with the row itself in place of its number. */
export function slips(tables: Tables): Slip[] {
  return [
    letterO(tables),
    twistedDigits(tables),
    unknownSquare(tables),
    lastYear(tables),
    noDefect(tables),
    turnedTwice(tables),
    measuredTwice(tables),
    ...shortLots(tables)
  ];
}

/** The first event from a day on that meets the wish: faults stand still when rows elsewhere change. */
function eventFrom(tables: Tables, day: string, wish: (row: Row) => boolean): Row {
  return tables["events.csv"].find((row) => row.date! >= day && wish(row))!;
}

function change(at: Row, heading: string, found: string, what: string, file: TableName = "events.csv"): Slip {
  const right = at[heading]!;
  at[heading] = found;
  return {at, file, heading, found, right, what};
}

function letterO(tables: Tables): Slip {
  const at = eventFrom(tables, "2024-03-01", (row) => row.event === "weighed" && /^\d+0\d$/.test(row.mass_g!));
  const found = at.mass_g!.replace(/0(?=\d$)/, "o");
  return change(at, "mass_g", found, "a mass typed with the letter o for a nought");
}

function twistedDigits(tables: Tables): Slip {
  const at = eventFrom(tables, "2025-09-01", (row) => row.event === "weighed" && /^1[1-3][6-9]\d$/.test(row.mass_g!));
  const found = at.mass_g!.replace(/^1(.)(.)/, "1$2$1");
  return change(at, "mass_g", found, "two digits of a mass changed places, so that the piece seems to have grown");
}

function unknownSquare(tables: Tables): Slip {
  const at = eventFrom(tables, "2025-01-15", (row) => row.event === "weighed" && /^A0/.test(row.square!));
  return change(at, "square", at.square!.replace(/^A0/, "A9"), "an event of a square that does not exist");
}

function lastYear(tables: Tables): Slip {
  const first = (row: Row) => tables["events.csv"].find(({square}) => square === row.square) === row;
  const at = eventFrom(tables, "2026-01-06", (row) => row.event === "weighed" && first(row));
  const found = dayText(dayNumber(at.date!) - 365);
  return change(at, "date", found, "the year before, as happens in January: a date before the purchase");
}

function noDefect(tables: Tables): Slip {
  const at = eventFrom(tables, "2026-09-01", (row) => row.event === "discarded");
  return change(at, "defect", "", "a discard without its defect");
}

function turnedTwice(tables: Tables): Slip {
  const once = eventFrom(tables, "2026-04-13", (row) => row.event === "turned" && row.stage === "second-round");
  const at: Row = {...once, date: dayText(dayNumber(once.date!) + 1)};
  const events = tables["events.csv"];
  events.splice(
    events.findIndex(({date}) => date! > at.date!),
    0,
    at
  );
  return {at, file: "events.csv", heading: "stage", found: at.stage!, what: "a turning entered again the day after"};
}

function measuredTwice(tables: Tables): Slip {
  const squares = tables["squares.csv"];
  const index = squares.findIndex(({measured_on}) => measured_on! >= "2025-11-01") + 6;
  const once = squares[index]!;
  const at: Row = {
    ...once,
    mass_g: String(Number(once.mass_g) - 2),
    measured_on: dayText(dayNumber(once.measured_on!) + 1)
  };
  squares.splice(index + 1, 0, at);
  return {at, file: "squares.csv", heading: "square", found: at.square!, what: "a square measured and entered twice"};
}

function shortLots(tables: Tables): Slip[] {
  const lots = tables["lots.csv"];
  const bought = [0.22, 0.58].map((share) => lots[Math.floor(share * lots.length)]!);
  return bought.map((at) => {
    const found = String(Number(at.squares_bought) + 1);
    return change(at, "squares_bought", found, "one square fewer listed than was bought and paid for", "lots.csv");
  });
}
