import Papa from "papaparse";
import {ByteNames} from "./byteNames.ts";
import {isMissing} from "./cells.ts";
import {dayNumber, isDay as isDayText} from "./day.ts";
import {exampleNote} from "./example.ts";
import type {Field} from "./field.ts";
import type {Row} from "./grid.ts";
import {type Headings, readHeadings} from "./headings.ts";
import type {RecordKind} from "./records.ts";

/** What stands for a blank cell in a column of days. */
export const noDay = -(2 ** 31);

/** The cells of one column, row by row: day numbers (`noDay` where blank), numbers (NaN where blank), or places in a list of texts (−1 where blank). */
export type PlainColumn =
  | {kind: "day"; values: Int32Array}
  | {kind: "number"; values: Float64Array}
  | {kind: "text"; places: Int32Array; names: readonly string[]};

/** A file that is kept in the plain form, as columns; what is not plain in it stands apart, row by row. */
export interface PlainTable {
  found: Headings;
  /** Rows below the headings, blank ones too: row i stands in row i + 2 of the spreadsheet. */
  rows: number;
  /** By the key of the record. In odd rows they hold nothing of use. */
  columns: Map<string, PlainColumn>;
  /** Rows with a cell that is not in the plain form, in order: their places and their cells. */
  odd: readonly {place: number; row: Row}[];
  /** Numbers of plain rows that are written with a decimal point. */
  decimals: number;
  /** Byte at which each row begins; the last entry is the end of the file. */
  starts: Float64Array;
}

/** More rows than this, and more than one in ten: the file is not plain. */
const mostOdd = 1000;

/**
 * Reads a file of records as columns, chunk by chunk, if it is kept in the plain form: UTF-8, commas, line ends LF or CR LF, our headings in the
 * first row; days as 2026-10-31, numbers with a decimal point and without units or thousands. Rows with any other cell, with too few or too
 * many cells, or with anything that wants a closer look are given as texts, for `readRecords` to read as it reads all others.
 *
 * A row is plain only if the schema would take it as it stands: tests/book/plainTable.test.ts draws rows at random and asks both.
 *
 * In two steps a chunk: first where each cell begins and ends, then column by column what it says. So the loops stay small: a million rows of eleven
 * cells take 0.8 s with every check of a cell; to split them into texts alone takes 1.4 s.
 */
export class PlainReader {
  readonly #kind: RecordKind;
  readonly #decode: (bytes: Uint8Array) => string | undefined;
  #isPlain = true;
  #found: Headings | undefined;
  #readers: ColumnReader[] = [];
  #rest = new Uint8Array(0);
  #block: Block | undefined;
  #rows = 0;
  #offset = 0;
  #starts = new Float64Array(1024);
  #decimals = 0;
  readonly #odd: {place: number; row: Row}[] = [];

  /**
   * @param decode a text from UTF-8, undefined where it is not that
   */
  constructor(kind: RecordKind, decode: (bytes: Uint8Array) => string | undefined) {
    this.#kind = kind;
    this.#decode = decode;
  }

  /** Reads on. Returns false once it is clear that the file is not plain. */
  add(chunk: Uint8Array): boolean {
    if (!this.#isPlain) return false;
    const bytes = joined(this.#rest, chunk);
    this.#rest = bytes.slice(this.#read(bytes, false));
    return this.#isPlain;
  }

  /** Reads to the end. Returns undefined where the file is not plain. */
  end(): PlainTable | undefined {
    if (this.#isPlain) this.#read(this.#rest, true);
    if (!this.#isPlain || !this.#found || this.#odd.length > Math.max(mostOdd, this.#rows / 10)) return undefined;
    this.#keepStart(this.#offset);
    return {
      found: this.#found,
      rows: this.#rows,
      columns: new Map(this.#readers.map((reader) => [reader.key, reader.column(this.#rows)])),
      odd: this.#odd,
      decimals: this.#decimals,
      starts: this.#starts.slice(0, this.#rows + 1)
    };
  }

  #give(): void {
    this.#isPlain = false;
  }

  /** Reads the whole rows of some bytes; returns where the first row begins that is not whole. */
  #read(bytes: Uint8Array, isLast: boolean): number {
    let start = 0;
    if (!this.#found) {
      start = this.#readHead(bytes, isLast);
      if (!this.#found) return start;
    }
    const width = this.#readers.length;
    const most = Math.ceil((bytes.length - start) / Math.max(1, width)) + 1;
    if (!this.#block || this.#block.most < most) this.#block = new Block(width, most);
    const block = this.#block.emptied();
    const end = block.read(bytes, start, isLast);
    if (end === undefined) {
      this.#give();
      return bytes.length;
    }
    for (let row = 0; row < block.rows; row++) this.#keepStart(this.#offset + block.starts[row]! - start, row);
    const decimals = new Uint8Array(block.rows);
    for (const [column, reader] of this.#readers.entries()) reader.read(bytes, block, column, this.#rows, decimals);
    for (let row = 0; row < block.rows; row++) {
      if (block.isOdd[row] === 0) this.#decimals += decimals[row]!;
      else this.#keepOdd(bytes, block, row);
    }
    if (this.#readers.some((reader) => reader.isBroken)) this.#give();
    this.#rows += block.rows;
    this.#offset += end - start;
    return end;
  }

  #keepStart(byte: number, row = 0): void {
    if (this.#rows + row >= this.#starts.length) {
      const starts = new Float64Array(2 * this.#starts.length);
      starts.set(this.#starts);
      this.#starts = starts;
    }
    this.#starts[this.#rows + row] = byte;
  }

  /** The cells of a row that is not plain, divided as `readGrid` divides them. */
  #keepOdd(bytes: Uint8Array, block: Block, row: number): void {
    const cells = rowCells(bytes.subarray(block.starts[row]!, block.ends[row]!), this.#decode);
    const place = this.#rows + row;
    if (cells) this.#odd.push({place, row: {row: place + 2, cells}});
    else this.#give();
  }

  /** The first row, if it holds nothing but our headings, each as it is written in our own books. */
  #readHead(bytes: Uint8Array, isLast: boolean): number {
    const line = bytes.indexOf(lf);
    if (line < 0 && !isLast) return 0;
    const end = line < 0 ? bytes.length : line;
    const mark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
    const text = this.#decode(bytes.subarray(mark, end > 0 && bytes[end - 1] === cr ? end - 1 : end));
    const cells = text?.split(",") ?? [];
    const known = new Map(
      Object.entries(this.#kind.schema.shape).map(([key, schema]) => {
        const field = schema.meta() as unknown as Field;
        return [field.heading, {key, field}];
      })
    );
    const isOurs = cells.every((cell, index) => known.has(cell) && cells.indexOf(cell) === index);
    const isWhole = [...known.values()].every(({field}) => field.optional || cells.includes(field.heading));
    if (!isOurs || !isWhole) {
      this.#give();
      return bytes.length;
    }
    const found = readHeadings({file: "", rows: [{row: 1, cells}], problems: []}, this.#kind.schema);
    if (found.problems.length > 0 || found.places.length !== cells.length) {
      this.#give();
      return bytes.length;
    }
    this.#found = found;
    this.#readers = cells.map((cell) => new ColumnReader(known.get(cell)!.key, known.get(cell)!.field, this.#decode));
    this.#offset = line < 0 ? bytes.length : line + 1;
    return this.#offset;
  }
}

/** The cells of the bytes of one row; undefined where they are not sound UTF-8 or a quote is not closed. */
export function rowCells(bytes: Uint8Array, decode: (bytes: Uint8Array) => string | undefined): string[] | undefined {
  const text = decode(bytes);
  if (text === undefined) return undefined;
  const line = text.replaceAll(/\r\n?/g, "\n").replace(/\n$/, "");
  const {data, errors} = Papa.parse(line, {
    header: false,
    delimiter: ",",
    newline: "\n",
    skipEmptyLines: false,
    dynamicTyping: false
  });
  if (data.length > 1 || errors.some(({code}) => code === "MissingQuotes" || code === "InvalidQuotes"))
    return undefined;
  return (data[0] as string[] | undefined) ?? [""];
}

const [lf, cr, comma, quote, point, minus, zero] = [10, 13, 44, 34, 46, 45, 48];

/** Where the cells of some rows stand. */
class Block {
  readonly width: number;
  /** Rows that there is room for: those of fewer cells than there are headings may be more, and then the file is not plain. */
  readonly most: number;
  rows = 0;
  readonly begins: Int32Array;
  readonly cellEnds: Int32Array;
  readonly starts: Int32Array;
  readonly ends: Int32Array;
  /** 1 for a row that wants a closer look. */
  readonly isOdd: Uint8Array;

  constructor(width: number, most: number) {
    this.width = width;
    this.most = most;
    this.begins = new Int32Array(most * width);
    this.cellEnds = new Int32Array(most * width);
    this.starts = new Int32Array(most);
    this.ends = new Int32Array(most);
    this.isOdd = new Uint8Array(most);
  }

  emptied(): this {
    this.isOdd.fill(0, 0, this.rows);
    this.rows = 0;
    return this;
  }

  /** Finds the cells of every whole row. Returns where the rest begins; undefined where quotes or line ends are not plain. */
  read(bytes: Uint8Array, from: number, isLast: boolean): number | undefined {
    const {width, begins, cellEnds} = this;
    const size = bytes.length;
    let at = from;
    while (at < size) {
      if (this.rows === this.most) return undefined;
      const start = at;
      const first = this.rows * width;
      let cell = 0;
      let isOdd = 0;
      for (;;) {
        let begin = at;
        let end: number;
        if (at < size && bytes[at] === quote) {
          begin++;
          for (
            end = bytes.indexOf(quote, begin);
            end >= 0 && bytes[end + 1] === quote;
            end = bytes.indexOf(quote, end + 2)
          )
            isOdd = 1;
          if (end < 0 || (end + 1 === size && !isLast)) return isLast ? undefined : start;
          at = end + 1;
          if (at < size && bytes[at] !== comma && bytes[at] !== lf && bytes[at] !== cr) return undefined;
        } else {
          // Never beyond the end: a look there makes this loop slow for good.
          for (; at < size; at++) {
            const byte = bytes[at]!;
            if (byte === comma || byte === lf || byte === cr) break;
          }
          end = at;
        }
        if (cell < width) {
          begins[first + cell] = begin;
          cellEnds[first + cell] = end;
        }
        cell++;
        if (at < size && bytes[at] === comma) {
          at++;
          if (at < size || isLast) continue;
        }
        break;
      }
      this.ends[this.rows] = at;
      if (at >= size) {
        if (!isLast) return start;
      } else if (bytes[at] === cr) {
        if (at + 1 >= size && !isLast) return start;
        if (bytes[at + 1] !== lf) return undefined;
        at += 2;
      } else at++;
      if (cell !== width) {
        isOdd = 1;
        for (; cell < width; cell++) begins[first + cell] = cellEnds[first + cell] = start;
      }
      this.starts[this.rows] = start;
      this.isOdd[this.rows++] = isOdd;
    }
    return at;
  }
}

/** Reads the cells of one column; a cell that is not plain makes its row odd. */
class ColumnReader {
  readonly key: string;
  readonly #field: Field;
  readonly #names: ByteNames;
  /** By the place of a text: 1 where it wants a closer look. */
  readonly #strange: number[] = [];
  #days = new Int32Array(0);
  #numbers = new Float64Array(0);
  #places = new Int32Array(0);
  /** Whether a text was no UTF-8. */
  isBroken = false;

  constructor(key: string, field: Field, decode: (bytes: Uint8Array) => string | undefined) {
    this.key = key;
    this.#field = field;
    this.#names = new ByteNames((bytes) => {
      const text = decode(bytes);
      if (text === undefined) this.isBroken = true;
      this.#strange.push(text === undefined || isStrange(text, field) ? 1 : 0);
      return text ?? "";
    });
  }

  /** @param before rows that were read before */
  read(bytes: Uint8Array, block: Block, column: number, before: number, decimals: Uint8Array): void {
    const {kind} = this.#field;
    if (kind === "date") this.#readDays(bytes, block, column, before);
    else if (kind === "number" || kind === "integer") this.#readNumbers(bytes, block, column, before, decimals);
    else this.#readTexts(bytes, block, column, before);
  }

  column(rows: number): PlainColumn {
    const {kind} = this.#field;
    if (kind === "date") return {kind: "day", values: this.#days.subarray(0, rows)};
    if (kind === "number" || kind === "integer") return {kind: "number", values: this.#numbers.subarray(0, rows)};
    return {kind: "text", places: this.#places.subarray(0, rows), names: this.#names.names};
  }

  #readDays(bytes: Uint8Array, {rows, width, begins, cellEnds, isOdd}: Block, column: number, before: number): void {
    if (before + rows > this.#days.length) this.#days = grown(this.#days, before + rows, Int32Array);
    const isNeeded = !this.#field.optional;
    // A book has long runs of rows of one day.
    let [known, knownDay] = [-1, noDay];
    for (let row = 0, cell = column; row < rows; row++, cell += width) {
      const [begin, end] = [begins[cell]!, cellEnds[cell]!];
      let day = noDay;
      if (end - begin === 10) {
        const year = digits(bytes, begin, 4);
        const month = digits(bytes, begin + 5, 2);
        const date = digits(bytes, begin + 8, 2);
        const packed = year * 10_000 + month * 100 + date;
        if (bytes[begin + 4] !== minus || bytes[begin + 7] !== minus || year < 0 || month < 0 || date < 0)
          isOdd[row] = 1;
        else if (packed === known) day = knownDay;
        else {
          day = dayOf(year, month, date);
          if (day === noDay) isOdd[row] = 1;
          else [known, knownDay] = [packed, day];
        }
      } else if (end > begin || isNeeded) isOdd[row] = 1;
      this.#days[before + row] = day;
    }
  }

  #readNumbers(
    bytes: Uint8Array,
    {rows, width, begins, cellEnds, isOdd}: Block,
    column: number,
    before: number,
    decimals: Uint8Array
  ): void {
    if (before + rows > this.#numbers.length) this.#numbers = grown(this.#numbers, before + rows, Float64Array);
    const {kind, optional, minimum = Number.NEGATIVE_INFINITY, maximum = Number.POSITIVE_INFINITY} = this.#field;
    for (let row = 0, cell = column; row < rows; row++, cell += width) {
      const end = cellEnds[cell]!;
      let at = begins[cell]!;
      let value = Number.NaN;
      if (at < end) {
        const isNegative = bytes[at] === minus;
        if (isNegative) at++;
        let whole = 0;
        let figures = 0;
        let behind = -1;
        for (; at < end; at++) {
          const figure = bytes[at]! - zero;
          if (figure >= 0 && figure <= 9) {
            whole = whole * 10 + figure;
            figures++;
            if (behind >= 0) behind++;
          } else if (bytes[at] === point && behind < 0 && figures > 0) behind = 0;
          else break;
        }
        // Three decimals may be thousands: whoever reads the others of the column can tell.
        const isPlain =
          at === end && figures > 0 && figures <= 15 && behind !== 0 && behind !== 3 && (!isNegative || whole > 0);
        if (isPlain) {
          value = behind > 0 ? whole / powers[behind]! : whole;
          if (isNegative) value = -value;
        }
        if (!isPlain || !(value >= minimum && value <= maximum) || (behind > 0 && kind === "integer")) isOdd[row] = 1;
        else if (behind > 0) decimals[row]!++;
      } else if (!optional) isOdd[row] = 1;
      this.#numbers[before + row] = value;
    }
  }

  #readTexts(bytes: Uint8Array, {rows, width, begins, cellEnds, isOdd}: Block, column: number, before: number): void {
    if (before + rows > this.#places.length) this.#places = grown(this.#places, before + rows, Int32Array);
    const isNeeded = !this.#field.optional;
    for (let row = 0, cell = column; row < rows; row++, cell += width) {
      const [begin, end] = [begins[cell]!, cellEnds[cell]!];
      let place = -1;
      if (end > begin) {
        place = this.#names.place(bytes, begin, end);
        if (this.#strange[place] === 1) isOdd[row] = 1;
      } else if (isNeeded) isOdd[row] = 1;
      this.#places[before + row] = place;
    }
  }
}

const powers = Array.from({length: 16}, (_, power) => 10 ** power);

/** Marks of a text that is read more closely: control characters, a character lost, spaces without an end. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const closer = /[\u0000-\u001f\u007f\ufffd]|^\s|\s$/;

function isStrange(text: string, {kind, enum: words = []}: Field): boolean {
  if (kind === "word") return !words.includes(text);
  return closer.test(text) || isMissing(text) || text === exampleNote || /^(#|Err:)/i.test(text);
}

/** A number of so many digits; below 0 where another character stands among them. */
function digits(bytes: Uint8Array, at: number, count: number): number {
  let number = 0;
  for (let i = at; i < at + count; i++) {
    const figure = bytes[i]! - zero;
    if (figure < 0 || figure > 9) return -1;
    number = number * 10 + figure;
  }
  return number;
}

/** The day number, `noDay` where there is no such day. */
function dayOf(year: number, month: number, date: number): number {
  const text = `${year}`.padStart(4, "0");
  const day = `${text}-${`${month}`.padStart(2, "0")}-${`${date}`.padStart(2, "0")}`;
  return isDayText(day) ? dayNumber(day) : noDay;
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  if (a.length === 0) return b;
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

function grown<T extends Int32Array<ArrayBuffer> | Float64Array<ArrayBuffer>>(
  list: T,
  least: number,
  make: new (length: number) => T
): T {
  const made = new make(Math.max(least, 2 * list.length, 1024));
  made.set(list);
  return made;
}
