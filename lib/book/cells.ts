import {type DayOrder, type DayReadings, dayReadings} from "./dates.ts";
import {type Evidence, resolve, weigh} from "./evidence.ts";
import {type Field, isNumeric} from "./field.ts";
import {fold} from "./fold.ts";
import type {Row} from "./grid.ts";
import type {Place} from "./headings.ts";
import {type DecimalMark, moneyReadings, quantityReadings, type Readings} from "./quantity.ts";

/** What the owner says of the cells of a file; what is not said is found from the cells. */
export interface CellHabits {
  decimal?: DecimalMark | undefined;
  dates?: DayOrder | undefined;
  serialsFrom?: 1900 | 1904 | undefined;
  /** The currency of the book's amounts; amounts in another are refused. Unless it is given any currency is passed over. */
  currency?: string | undefined;
  /** Words of the owner's own, by the heading of their column: `{"event": {"gedreht": "turned"}}`. */
  words?: Readonly<Record<string, Readonly<Record<string, string>>>> | undefined;
}

/** How the cells of a file were written, as far as they tell. */
export interface CellForms {
  decimal: Evidence<DecimalMark>;
  /** By the index of each column of dates. */
  dates: Map<number, Evidence<DayOrder>>;
}

/** A cell as a value of its field, blank, or what is wrong with it. */
export type CellRead =
  | {value: string | number}
  | {blank: true}
  | {fault: "cell-error" | "number-ambiguous" | "date-ambiguous" | "cell-unreadable"; wanted: string; mend: string};

const marks = ["point", "comma"] as const;
const orders = ["day-first", "month-first"] as const;

/** Cells that say that there is nothing to say, in small letters. */
export const missingCells: ReadonlySet<string> = new Set(["", "-", "–", "—", "?", "n/a", "na", "n.a.", "nil", "none"]);

/** What spreadsheets show in place of a value that they could not work out, in any language: #REF!, #¿NOMBRE?, #NV, ####, Err:502. */
const spreadsheetError = /^(#[¡¿]?[\p{L}/0]+[!?]|#N\/?[ADV]|##+|Err:\d{3})$/iu;

export function isMissing(cell: string): boolean {
  const text = cell.trim();
  return text.length < 40 && missingCells.has(text.toLowerCase());
}

/** Reads the cells of one file: finds out first how its numbers and dates are written, then reads each cell so. */
export class CellReader {
  readonly forms: CellForms;
  readonly #habits: CellHabits;
  readonly #exact: boolean;
  readonly #words: Map<string, Map<string, string>>;

  /**
   * @param exact whether the cells come from a workbook, with decimal points and days as 2026-10-31
   * @param points numbers of further rows that can only have a decimal point
   */
  constructor(rows: readonly Row[], places: readonly Place[], habits: CellHabits = {}, exact = false, points = 0) {
    this.#habits = habits;
    this.#exact = exact;
    this.#words = new Map(places.map(({field}) => [field.heading, wordsOf(field, habits.words?.[field.heading])]));
    this.forms = {decimal: this.#decimal(rows, places, points), dates: this.#dates(rows, places)};
  }

  #decimal(rows: readonly Row[], places: readonly Place[], points: number): Evidence<DecimalMark> {
    const {decimal} = this.#habits;
    if (decimal) return stated(decimal, marks);
    const numeric = places.filter(({field}) => isNumeric(field));
    const written = rows.flatMap((row) =>
      numeric.filter(({index}) => this.#isText(row, index)).map((place) => ({row, place}))
    );
    return weigh(
      written.map(({row, place}) => fitting(place, row.cells[place.index] ?? "", this.#habits)),
      marks,
      {point: points}
    );
  }

  #dates(rows: readonly Row[], places: readonly Place[]): Map<number, Evidence<DayOrder>> {
    const columns = places.filter(({field}) => field.kind === "date");
    const readings = (index: number) => rows.map(({cells}) => this.#day(cells[index] ?? ""));
    const order = this.#habits.dates;
    const whole = order
      ? stated(order, orders)
      : weigh(
          columns.flatMap(({index}) => readings(index)),
          orders
        );
    return new Map(
      columns.map(({index}) => {
        const own = order ? whole : weigh(readings(index), orders);
        if (own.habit === undefined && own.counts["day-first"] === 0) return [index, whole];
        // A column that speaks against its file is not sure of itself.
        return [index, whole.habit === undefined || own.habit === whole.habit ? own : {...own, clear: false}];
      })
    );
  }

  /** Whether a cell is written by hand, and not kept as a number by a workbook. */
  #isText({texts}: Pick<Row, "texts">, index: number): boolean {
    return !this.#exact || texts?.includes(index) === true;
  }

  #day(cell: string, dottedEither = true): DayReadings {
    return dayReadings(cell, {
      dottedEither: dottedEither && this.#habits.dates === undefined,
      ...(this.#habits.dates && {order: this.#habits.dates}),
      ...(this.#habits.serialsFrom && {serialsFrom: this.#habits.serialsFrom})
    });
  }

  /** The value of a cell. Bounds and names are not looked at here: the schema does that. */
  read(place: Place, {cells, texts}: Pick<Row, "cells" | "texts">): CellRead {
    const cell = cells[place.index] ?? "";
    const {field} = place;
    if (isMissing(cell)) return {blank: true};
    if (field.kind !== "text" && cell.length < 40 && spreadsheetError.test(cell.trim())) return spreadsheetFault(field);
    if (field.kind === "date") return this.#readDay(place, cell);
    if (isNumeric(field)) return this.#readNumber(place, cell, this.#isText({texts}, place.index));
    const word = cell.length < 200 ? this.#words.get(field.heading)?.get(fold(cell)) : undefined;
    return {value: word ?? cell.trim()};
  }

  #readNumber(place: Place, cell: string, isText: boolean): CellRead {
    const decimal = isText ? this.forms.decimal : stated("point", marks);
    const found = resolve(fitting(place, cell, this.#habits), decimal, marks);
    if (found && "value" in found) return found;
    // Narrowed down to the other mark by the column's bounds only: the schema names the bounds.
    const outside = decimal.habit && readings(place, cell, this.#habits)[decimal.habit];
    if (found && "other" in found && outside !== undefined) return {value: outside};
    const wanted =
      decimal.habit === "comma"
        ? "a number with a decimal comma, like 12,5"
        : "a number with a decimal point, like 12.5";
    if (found && "ambiguous" in found) {
      const [point, comma] = found.ambiguous.map((value) => shown(value, place));
      const mend = `With a decimal point it is ${point}, with a decimal comma ${comma}. Say which under reading in workshop.json ("decimal": "point" or "comma").`;
      return {fault: "number-ambiguous", wanted: "a number that can be read in one way only", mend};
    }
    // An amount in any currency, but not in the book's.
    if (!found && place.field.unit === "money" && Object.keys(moneyReadings(cell)).length > 0) {
      const mend = "Correct the amount, or set money.currency in workshop.json to yours.";
      const {currency} = this.#habits;
      return {fault: "cell-unreadable", wanted: `an amount in ${currency}, the currency of workshop.json`, mend};
    }
    return {fault: "cell-unreadable", wanted, mend: mendNumber(cell.trim(), place, decimal.habit)};
  }

  #readDay({index, field}: Place, cell: string): CellRead {
    const evidence = this.forms.dates.get(index)!;
    const found = resolve(this.#day(cell), evidence, orders);
    if (found && "value" in found) return found;
    if (found && "ambiguous" in found) {
      const plain = this.#day(cell, false);
      const isUntold = evidence.counts["day-first"] + evidence.counts["month-first"] === 0;
      if (isUntold && plain["month-first"] === undefined) return {value: plain["day-first"]!};
      const [dayFirst, monthFirst] = found.ambiguous;
      const mend = `Day first it is ${dayFirst}, month first ${monthFirst}. Say which under reading in workshop.json ("dates": "day-first" or "month-first"), or write ${field.example}.`;
      return {fault: "date-ambiguous", wanted: "a day that can be read in one way only", mend};
    }
    const wanted = "a calendar day like 2026-10-31";
    if (found) {
      const mend = `The others of this column have the ${evidence.habit === "day-first" ? "day" : "month"} first; this one would be ${found.other}. Write it like the others, or like ${field.example}.`;
      return {fault: "cell-unreadable", wanted, mend};
    }
    return {fault: "cell-unreadable", wanted, mend: `Correct the day; it should look like ${field.example}.`};
  }
}

function readings({field, unit}: Place, cell: string, {currency}: CellHabits): Readings {
  return field.unit === "money" ? moneyReadings(cell, {currency}) : quantityReadings(cell, unit ? {unit} : {});
}

/** The readings of a number; where some lie within the column's bounds and some do not, only those that do. */
function fitting(place: Place, cell: string, habits: CellHabits): Readings {
  const {field} = place;
  const all = readings(place, cell, habits);
  const {point, comma} = all;
  if (point === undefined || comma === undefined || point === comma) return all;
  const fits = (value: number) =>
    value >= field.minimum! && value <= field.maximum! && (field.kind !== "integer" || Number.isInteger(value));
  if (fits(point) === fits(comma)) return all;
  return fits(point) ? {point} : {comma};
}

/** A reading as a sentence shows it; with our unit where it was turned into that. */
function shown(value: number, {unit, field}: Place): string {
  return unit && unit.name !== field.unit ? `${Number(value.toPrecision(6))} ${field.unit}` : String(value);
}

function stated<K extends string>(habit: K, [a, b]: readonly [K, K]): Evidence<K> {
  return {habit, counts: {[a]: 0, [b]: 0} as Record<K, number>, clear: true};
}

/** The words a column may hold, folded, with the owner's own. */
function wordsOf({enum: words = []}: Field, own: Readonly<Record<string, string>> = {}): Map<string, string> {
  return new Map([
    ...words.map((word) => [fold(word), word] as const),
    ...Object.entries(own).map(([from, to]) => [fold(from), to] as const)
  ]);
}

function spreadsheetFault({example}: Field): CellRead {
  const mend = `The spreadsheet could not work this cell out. Type the value itself, like ${example}.`;
  return {fault: "cell-error", wanted: "a value, not a spreadsheet's error", mend};
}

/** The likeliest cure of a cell that is no number. */
function mendNumber(cell: string, place: Place, habit: DecimalMark | undefined): string {
  const text = cell.slice(0, 40);
  const [from, to, name] = habit === "comma" ? [".", ",", "comma"] : [",", ".", "point"];
  if (new RegExp(`^\\d+\\${from}\\d+$`).test(text)) return `Write a decimal ${name}: ${text.replace(from, to)}.`;
  if (/^[\d.,]*[oOlI][\d.,oOlI]*$/.test(text)) {
    return `Letter for a digit? Type ${text.replaceAll(/[oO]/g, "0").replaceAll(/[lI]/g, "1")}.`;
  }
  return shouldLook(place);
}

/** What a cell should look like; of a column in another unit than ours, which unit it is read in. */
export function shouldLook({field, unit}: Place): string {
  const own = unit && unit.name !== field.unit;
  return own
    ? `Correct the cell; the unit of its column is “${unit.name}”.`
    : `Correct the cell; it should look like ${field.example}.`;
}
