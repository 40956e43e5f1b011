import {type DayOrder, type DayReadings, dayReadings} from "./dates.ts";
import {type Evidence, resolve, weigh} from "./evidence.ts";
import type {Field} from "./field.ts";
import {fold} from "./fold.ts";
import type {Row} from "./grid.ts";
import type {Place} from "./headings.ts";
import {type DecimalMark, moneyReadings, quantityReadings, type Readings} from "./quantity.ts";

/** What the owner says of the cells of a file; what is not said is found from the cells. */
export interface CellHabits {
  decimal?: DecimalMark | undefined;
  dates?: DayOrder | undefined;
  serialsFrom?: 1900 | 1904 | undefined;
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
  | {fault: "error" | "ambiguous" | "unreadable"; wanted: string; mend: string};

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
  readonly #words: Map<string, Map<string, string>>;

  /**
   * @param exact whether the cells come from a workbook, with decimal points and days as 2026-10-31
   */
  constructor(rows: readonly Row[], places: readonly Place[], habits: CellHabits = {}, exact = false) {
    this.#habits = exact ? {...habits, decimal: "point"} : habits;
    this.#words = new Map(places.map(({field}) => [field.heading, wordsOf(field, habits.words?.[field.heading])]));
    this.forms = {decimal: this.#decimal(rows, places), dates: this.#dates(rows, places)};
  }

  #decimal(rows: readonly Row[], places: readonly Place[]): Evidence<DecimalMark> {
    const {decimal} = this.#habits;
    if (decimal) return stated(decimal, marks);
    const numeric = places.filter(isNumeric);
    return weigh(
      rows.flatMap(({cells}) => numeric.map((place) => fitting(place, cells[place.index] ?? ""))),
      marks
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
        return [index, own.habit === undefined && own.counts["day-first"] === 0 ? whole : own];
      })
    );
  }

  #day(cell: string): DayReadings {
    return dayReadings(cell, {
      ...(this.#habits.dates && {order: this.#habits.dates}),
      ...(this.#habits.serialsFrom && {serialsFrom: this.#habits.serialsFrom})
    });
  }

  /** The value of a cell. Bounds and names are not looked at here: the schema does that. */
  read(place: Place, cell: string): CellRead {
    if (isMissing(cell)) return {blank: true};
    if (cell.length < 40 && spreadsheetError.test(cell.trim())) return spreadsheetFault(place.field);
    const {field} = place;
    if (field.kind === "date") return this.#readDay(place, cell);
    if (isNumeric(place)) return this.#readNumber(place, cell);
    const word = cell.length < 200 ? this.#words.get(field.heading)?.get(fold(cell)) : undefined;
    return {value: word ?? cell.trim()};
  }

  #readNumber(place: Place, cell: string): CellRead {
    const {decimal} = this.forms;
    const found = resolve(fitting(place, cell), decimal, marks);
    if (found && "value" in found) return found;
    // Narrowed down to the other mark by the column's bounds only: the schema names the bounds.
    const outside = decimal.habit && readings(place, cell)[decimal.habit];
    if (found && "other" in found && outside !== undefined) return {value: outside};
    const wanted =
      decimal.habit === "comma"
        ? "a number with a decimal comma, like 12,5"
        : "a number with a decimal point, like 12.5";
    if (found && "ambiguous" in found) {
      const [point, comma] = found.ambiguous.map((value) => shown(value, place));
      const mend = `With a decimal point it is ${point}, with a decimal comma ${comma}. Say which under reading in workshop.json ("decimal": "point" or "comma").`;
      return {fault: "ambiguous", wanted: "a number that can be read in one way only", mend};
    }
    return {fault: "unreadable", wanted, mend: mendNumber(cell.trim(), place.field, decimal.habit)};
  }

  #readDay({index, field}: Place, cell: string): CellRead {
    const evidence = this.forms.dates.get(index)!;
    const found = resolve(this.#day(cell), evidence, orders);
    if (found && "value" in found) return found;
    if (found && "ambiguous" in found) {
      const [dayFirst, monthFirst] = found.ambiguous;
      const mend = `Day first it is ${dayFirst}, month first ${monthFirst}. Say which under reading in workshop.json ("dates": "day-first" or "month-first"), or write ${field.example}.`;
      return {fault: "ambiguous", wanted: "a day that can be read in one way only", mend};
    }
    const wanted = "a calendar day like 2026-10-31";
    if (found) {
      const mend = `The others of this column have the ${evidence.habit === "day-first" ? "day" : "month"} first; this one would be ${found.other}. Write it like the others, or like ${field.example}.`;
      return {fault: "unreadable", wanted, mend};
    }
    return {fault: "unreadable", wanted, mend: `Correct the day; it should look like ${field.example}.`};
  }
}

function isNumeric({field}: Place): boolean {
  return field.kind === "number" || field.kind === "integer";
}

function readings({field, unit}: Place, cell: string): Readings {
  return field.unit === "money" ? moneyReadings(cell) : quantityReadings(cell, unit ? {unit} : {});
}

/** The readings of a number; where some lie within the column's bounds and some do not, only those that do. */
function fitting(place: Place, cell: string): Readings {
  const {field} = place;
  const all = readings(place, cell);
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
  return {fault: "error", wanted: "a value, not a spreadsheet's error", mend};
}

/** The likeliest cure of a cell that is no number. */
function mendNumber(cell: string, {example}: Field, habit: DecimalMark | undefined): string {
  const text = cell.slice(0, 40);
  const [from, to, name] = habit === "comma" ? [".", ",", "comma"] : [",", ".", "point"];
  if (new RegExp(`^\\d+\\${from}\\d+$`).test(text)) return `Write a decimal ${name}: ${text.replace(from, to)}.`;
  if (/^[\d.,]*[oOlI][\d.,oOlI]*$/.test(text)) {
    return `Letter for a digit? Type ${text.replaceAll(/[oO]/g, "0").replaceAll(/[lI]/g, "1")}.`;
  }
  return `Correct the cell; it should look like ${example}.`;
}
