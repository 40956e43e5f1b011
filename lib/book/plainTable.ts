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
/** No row that a person writes is longer, in bytes; where one is, a quote was left open. */
const longestRow = 2 ** 20;

/**
 * Reads a file of records as columns, chunk by chunk, if it is kept in the plain form: UTF-8, commas, line ends LF or CR LF, our headings in the
 * first row; days as 2026-10-31, numbers with a decimal point and without units or thousands. Rows with any other cell, with too few or too
 * many cells, or with anything that wants a closer look are given as texts, for `readRecords` to read as it reads all others.
 *
 * A row is plain only if the schema would take it as it stands: tests/book/plainTable.test.ts draws rows at random and asks both.
 *
 * In two steps a block of rows: first where each cell ends, then column by column what it says. So the loops stay small: a million rows of eleven
 * cells take 0.6 s with every check of a cell; to split them into texts alone takes 1.4 s.
 */
export class PlainReader {
  readonly #kind: RecordKind;
  readonly #decode: (bytes: Uint8Array) => string | undefined;
  readonly #bytesExpected: number;
  #isPlain = true;
  #found: Headings | undefined;
  #readers: ColumnReader[] = [];
  /** What was given and is not read yet stands at its beginning. */
  #bytes = new Uint8Array(0);
  #unread = 0;
  #block: Block | undefined;
  #rows = 0;
  /** Rows that there is room for in the columns. */
  #room = 0;
  /** Bytes given, and those before the next row to be read. */
  #size = 0;
  #offset = 0;
  #starts = new Float64Array(1);
  #decimals = 0;
  readonly #odd: {place: number; row: Row}[] = [];

  /**
   * @param decode a text from UTF-8, undefined where it is not that
   * @param bytes the size of the file, if it is known: then no column is moved as it grows
   */
  constructor(kind: RecordKind, decode: (bytes: Uint8Array) => string | undefined, bytes = 0) {
    this.#kind = kind;
    this.#decode = decode;
    this.#bytesExpected = bytes;
  }

  /** Reads on. Returns false once it is clear that the file is not plain. */
  add(chunk: Uint8Array): boolean {
    if (this.#isPlain) this.#read(chunk);
    return this.#isPlain;
  }

  /** Reads to the end. Returns undefined where the file is not plain. */
  end(): PlainTable | undefined {
    const size = this.#size;
    // PapaParse takes a lone pair of quotes behind the last line end for nothing, as we do.
    const [first, second] = this.#bytes;
    if (this.#found && this.#unread === 2 && first === quote && second === quote) this.#unread = 0;
    // A last row may lack its line end.
    if (this.#isPlain && this.#unread > 0) this.#read(Uint8Array.of(lf));
    const isWhole = this.#isPlain && this.#unread === 0;
    if (!isWhole || !this.#found || this.#isMostlyOdd(mostOdd)) return undefined;
    this.#starts[this.#rows] = Math.min(this.#offset, size);
    return {
      found: this.#found,
      rows: this.#rows,
      columns: new Map(this.#readers.map((reader) => [reader.key, reader.column(this.#rows)])),
      odd: this.#odd,
      decimals: this.#decimals,
      starts: this.#starts.subarray(0, this.#rows + 1)
    };
  }

  #isMostlyOdd(most: number): boolean {
    return this.#odd.length > Math.max(most, this.#rows / 10);
  }

  #give(): void {
    this.#isPlain = false;
  }

  /** Reads the whole rows of what is there with a chunk more, and keeps the rest. */
  #read(chunk: Uint8Array): void {
    const size = this.#unread + chunk.length;
    if (size > this.#bytes.length) this.#bytes = copied(this.#bytes, new Uint8Array(2 * size));
    this.#bytes.set(chunk, this.#unread);
    this.#size += chunk.length;
    const bytes = this.#bytes;
    let at = this.#found ? 0 : this.#readHead(bytes.subarray(0, size));
    const block = this.#block;
    while (this.#isPlain && block && at < size) {
      const end = block.find(bytes, at, size);
      if (end === undefined) this.#give();
      if (end === undefined || block.rows === 0) break;
      this.#readBlock(block, bytes);
      this.#offset += end - at;
      at = end;
    }
    bytes.copyWithin(0, at, size);
    this.#unread = size - at;
    if (this.#unread > longestRow) this.#give();
  }

  #readBlock(block: Block, bytes: Uint8Array): void {
    const {rows} = block;
    this.#makeRoom(rows, block.startOf(rows) - block.startOf(0));
    for (let row = 0; row < rows; row++)
      this.#starts[this.#rows + row] = this.#offset + block.startOf(row) - block.startOf(0);
    for (const [column, reader] of this.#readers.entries()) reader.read(bytes, block, column, this.#rows);
    for (let row = 0; row < rows; row++) {
      if (block.isOdd[row] === 0) this.#decimals += block.decimals[row]!;
      else this.#keepOdd(bytes, block, row);
    }
    this.#rows += rows;
    if (this.#readers.some((reader) => reader.isBroken) || this.#isMostlyOdd(10 * mostOdd)) this.#give();
  }

  /**
   * Room for so many rows more, of so many bytes. Where the file's size is known, room for all of them: columns that grow by doubling may get twice
   * as large as need be.
   */
  #makeRoom(rows: number, bytes: number): void {
    const needed = this.#rows + rows;
    if (needed <= this.#room) return;
    const likely = this.#room === 0 ? Math.ceil((1.02 * this.#bytesExpected * rows) / bytes) : 0;
    this.#room = Math.max(
      needed,
      2 * this.#room,
      Math.min(likely, Math.ceil(this.#bytesExpected / this.#readers.length))
    );
    for (const reader of this.#readers) reader.reserve(this.#room);
    this.#starts = copied(this.#starts, new Float64Array(this.#room + 1));
  }

  /** The cells of a row that is not plain, divided as `readGrid` divides them. */
  #keepOdd(bytes: Uint8Array, block: Block, row: number): void {
    const cells = rowCells(bytes.subarray(block.startOf(row), block.startOf(row + 1)), this.#decode);
    const place = this.#rows + row;
    if (cells) this.#odd.push({place, row: {row: place + 2, cells}});
    else this.#give();
  }

  /** The first row, if it holds nothing but our headings, each as it is written in our own books. */
  #readHead(bytes: Uint8Array): number {
    const end = bytes.indexOf(lf);
    if (end < 0) return 0;
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
    this.#block = new Block(cells.length);
    this.#offset = end + 1;
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

/** So many rows are found and then read column by column while they are at hand: a million events in blocks of any number took a tenth longer. */
const blockRows = 2048;
const stride = blockRows + 1;

/** Where the cells of some rows end. */
class Block {
  readonly width: number;
  rows = 0;
  /**
   * Column by column, as each is read by itself: first the byte before each row, then the byte behind each row's first cell, and so on. So the cell c
   * of row r is the bytes from `ends[c * stride + r] + 1` to, not including, `ends[(c + 1) * stride + r]`, quotation marks included.
   */
  readonly ends: Int32Array;
  /** 1 for a row that wants a closer look. */
  readonly isOdd = new Uint8Array(blockRows);
  /** The numbers of each row that are written with a decimal point. */
  readonly decimals = new Uint8Array(blockRows);

  constructor(width: number) {
    this.width = width;
    this.ends = new Int32Array((width + 1) * stride);
  }

  /** Where a row begins, or behind the last row the rest. */
  startOf(row: number): number {
    return this.ends[row]! + 1;
  }

  /**
   * Finds the cells of the whole rows from a byte on, as many as there is room for: commas between cells, LF or CR LF behind rows, quotes by RFC
   * 4180. Returns where the rest begins; undefined where quotes or line ends are not plain.
   */
  find(bytes: Uint8Array, from: number, size: number): number | undefined {
    const {width, ends, isOdd} = this;
    isOdd.fill(0);
    this.decimals.fill(0);
    this.rows = 0;
    ends[0] = from - 1;
    let [row, cells, rowStart, cellStart] = [0, 0, from, from];
    for (let at = from; at < size; at++) {
      const byte = bytes[at]!;
      if (byte > comma) continue;
      if (byte === comma) {
        if (++cells <= width) ends[cells * stride + row] = at;
        cellStart = at + 1;
      } else if (byte === lf) {
        if (++cells === width) ends[cells * stride + row] = at > cellStart && bytes[at - 1] === cr ? at - 1 : at;
        else {
          isOdd[row] = 1;
          // All its cells are given as empty.
          for (let cell = 1; cell <= width; cell++) ends[cell * stride + row] = rowStart - 1 + cell;
        }
        cells = 0;
        rowStart = cellStart = at + 1;
        ends[++row] = at;
        this.rows = row;
        if (row === blockRows) break;
      } else if (byte === cr) {
        if (at + 1 < size && bytes[at + 1] !== lf) return undefined;
      } else if (byte === quote && at === cellStart) {
        const close = closingQuote(bytes, at + 1, size);
        // The rest of it has not come yet.
        if (close < 0 || close + 1 === size) break;
        const next = bytes[close + 1];
        if (next !== comma && next !== lf && next !== cr) return undefined;
        if (bytes.indexOf(quote, at + 1) < close) isOdd[row] = 1;
        at = close;
      }
    }
    return rowStart;
  }
}

/** The quote that closes a cell, doubled ones passed over; −1 where there is none. */
function closingQuote(bytes: Uint8Array, from: number, size: number): number {
  for (let at = from; at < size; at++) {
    if (bytes[at] !== quote) continue;
    if (at + 1 === size || bytes[at + 1] !== quote) return at;
    at++;
  }
  return -1;
}

/** 1 where a cell begins with a quotation mark, and so ends with one; else 0. */
function quoteAt(bytes: Uint8Array, begin: number, end: number): 0 | 1 {
  return begin < end && bytes[begin] === quote ? 1 : 0;
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
  /** Day numbers by year, month and day as one number. */
  readonly #knownDays = new Map<number, number>();
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

  reserve(rows: number): void {
    const {kind} = this.#field;
    if (kind === "date") this.#days = copied(this.#days, new Int32Array(rows));
    else if (kind === "number" || kind === "integer") this.#numbers = copied(this.#numbers, new Float64Array(rows));
    else this.#places = copied(this.#places, new Int32Array(rows));
  }

  /** @param before rows that were read before */
  read(bytes: Uint8Array, block: Block, column: number, before: number): void {
    const {kind} = this.#field;
    if (kind === "date") this.#readDays(bytes, block, column, before);
    else if (kind === "number" || kind === "integer") this.#readNumbers(bytes, block, column, before);
    else this.#readTexts(bytes, block, column, before);
  }

  column(rows: number): PlainColumn {
    const {kind} = this.#field;
    if (kind === "date") return {kind: "day", values: this.#days.subarray(0, rows)};
    if (kind === "number" || kind === "integer") return {kind: "number", values: this.#numbers.subarray(0, rows)};
    return {kind: "text", places: this.#places.subarray(0, rows), names: this.#names.names};
  }

  #readDays(bytes: Uint8Array, {rows, ends, isOdd}: Block, column: number, before: number): void {
    const days = this.#days;
    const isNeeded = !this.#field.optional;
    for (let row = 0, cell = column * stride; row < rows; row++, cell++) {
      const mark = quoteAt(bytes, ends[cell]! + 1, ends[cell + stride]!);
      const [begin, end] = [ends[cell]! + 1 + mark, ends[cell + stride]! - mark];
      let day = noDay;
      if (end - begin === 10) {
        const year = digits(bytes, begin, 4);
        const month = digits(bytes, begin + 5, 2);
        const date = digits(bytes, begin + 8, 2);
        const packed = year * 10_000 + month * 100 + date;
        if (bytes[begin + 4] !== minus || bytes[begin + 7] !== minus || year < 0 || month < 0 || date < 0)
          isOdd[row] = 1;
        else {
          day = this.#knownDays.get(packed) ?? dayOf(year, month, date);
          this.#knownDays.set(packed, day);
          if (day === noDay) isOdd[row] = 1;
        }
      } else if (end > begin || isNeeded) isOdd[row] = 1;
      days[before + row] = day;
    }
  }

  #readNumbers(bytes: Uint8Array, {rows, ends, isOdd, decimals}: Block, column: number, before: number): void {
    const numbers = this.#numbers;
    const {kind, optional, minimum = Number.NEGATIVE_INFINITY, maximum = Number.POSITIVE_INFINITY} = this.#field;
    for (let row = 0, cell = column * stride; row < rows; row++, cell++) {
      const mark = quoteAt(bytes, ends[cell]! + 1, ends[cell + stride]!);
      let at = ends[cell]! + 1 + mark;
      const end = ends[cell + stride]! - mark;
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
      numbers[before + row] = value;
    }
  }

  #readTexts(bytes: Uint8Array, {rows, ends, isOdd}: Block, column: number, before: number): void {
    const [places, names, strange] = [this.#places, this.#names, this.#strange];
    const isNeeded = !this.#field.optional;
    for (let row = 0, cell = column * stride; row < rows; row++, cell++) {
      const mark = quoteAt(bytes, ends[cell]! + 1, ends[cell + stride]!);
      const [begin, end] = [ends[cell]! + 1 + mark, ends[cell + stride]! - mark];
      let place = -1;
      if (end > begin) {
        place = names.place(bytes, begin, end);
        if (strange[place] === 1) isOdd[row] = 1;
      } else if (isNeeded) isOdd[row] = 1;
      places[before + row] = place;
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

function copied<T extends Uint8Array | Int32Array | Float64Array>(from: T, to: T): T {
  to.set(from);
  return to;
}
