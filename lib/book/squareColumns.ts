import {dayColumn, nameColumn, noPlace, numberColumn, placesOf, unknownPlace} from "./columnsOf.ts";
import {dayNumber} from "./day.ts";
import {noDay, type PlainTable} from "./plainTable.ts";
import {cellValue, recordOf} from "./readPlain.ts";
import type {Numbered} from "./readRecords.ts";
import {files, type Lot, type Square} from "./records.ts";
import type {Settings} from "./settings.ts";
import {type Asked, soundSquares} from "./soundRows.ts";
import {isNotedApart, speciesDensity} from "./squareDensity.ts";
import {isFarSize, middleOf} from "./unitJumps.ts";

/** The sound squares of a book, as columns by place: the order of the file, and nothing else, gives places. */
export interface SquareColumns {
  size: number;
  /** The place of each number. */
  known: ReadonlyMap<string, number>;
  /** The place of each one's lot among the sound lots. */
  lots: Int32Array;
  /** The day number on which each was measured, `noDay` where it is not noted. */
  measuredOn: Int32Array;
  massG: Float64Array;
  densityAt12KgM3: Float64Array;
  square: (place: number) => Numbered<Square>;
}

/** The columns of sound squares. */
export function columnsOfSquares(
  squares: readonly Numbered<Square>[],
  lots: readonly Lot[],
  settings: Settings
): SquareColumns {
  const placeOf = placesOf(lots.map(({lot}) => lot));
  const densities = lots.map(({species}) => speciesDensity(species, settings));
  const places = Int32Array.from(squares, ({lot}) => placeOf.get(lot)!);
  return {
    size: squares.length,
    known: placesOf(squares.map(({square}) => square)),
    lots: places,
    measuredOn: Int32Array.from(squares, ({measuredOn}) => (measuredOn === undefined ? noDay : dayNumber(measuredOn))),
    massG: Float64Array.from(squares, ({massG}) => massG),
    densityAt12KgM3: Float64Array.from(squares, (square, i) => densities[places[i]!]!.at12(square)),
    square: (place) => squares[place]!
  };
}

/**
 * The squares of a plain file that fit, as `soundSquares` finds them, with its faults: rows that may not fit are picked out by a look along each
 * column, and only these are made records and gone through one by one.
 *
 * Checked: tests/book/squareColumns.test.ts, against `soundSquares`
 *
 * @param odd the records among the odd rows of the table
 */
export function squareColumns(
  table: PlainTable,
  odd: readonly Numbered<Square>[],
  lots: readonly Numbered<Lot>[],
  asked: Asked
): SquareColumns {
  const {rows} = table;
  const oddAt = new Map(odd.map((square) => [square.row - 2, square]));
  const read = recordOf<Square>(files["squares.csv"], table);
  const lotPlaces = placesOf(lots.map(({lot}) => lot));
  const inLot = nameColumn(table, "lot", lotPlaces);
  const measuredOn = dayColumn(table, "measuredOn");
  const [lengthMm, widthMm] = [numberColumn(table, "lengthMm"), numberColumn(table, "widthMm")];
  const thicknessMm = numberColumn(table, "thicknessMm");
  const [massG, moisturePct] = [numberColumn(table, "massG"), numberColumn(table, "moisturePct")];
  const noted = numberColumn(table, "densityKgM3");
  // Columns hold nothing of use in odd rows.
  for (const {place} of table.odd) {
    const square = oddAt.get(place);
    inLot[place] = square ? (lotPlaces.get(square.lot) ?? unknownPlace) : noPlace;
    measuredOn[place] = square?.measuredOn === undefined ? noDay : dayNumber(square.measuredOn);
    lengthMm[place] = square?.lengthMm ?? Number.NaN;
    widthMm[place] = square?.widthMm ?? Number.NaN;
    thicknessMm[place] = square?.thicknessMm ?? Number.NaN;
    massG[place] = square?.massG ?? Number.NaN;
    moisturePct[place] = square?.moisturePct ?? Number.NaN;
    noted[place] = square?.densityKgM3 ?? Number.NaN;
  }
  const middles = {lengthMm: middleOf(lengthMm), widthMm: middleOf(widthMm), thicknessMm: middleOf(thicknessMm)};
  const lastDay = asked.today === undefined ? Number.MAX_SAFE_INTEGER : dayNumber(asked.today);
  const boughtOn = lots.map((lot) => dayNumber(lot.boughtOn));
  const ofLot = lots.map(({species}) => speciesDensity(species, asked.settings));
  const densities = new Float64Array(rows);
  /** Rows that are looked at one by one. */
  const isApart = new Uint8Array(rows);
  for (let place = 0; place < rows; place++) {
    const lot = inLot[place]!;
    if (lot < 0) {
      isApart[place] = 1;
      continue;
    }
    const {at12, usual} = ofLot[lot]!;
    const square = {
      lengthMm: lengthMm[place]!,
      widthMm: widthMm[place]!,
      thicknessMm: thicknessMm[place]!,
      massG: massG[place]!,
      moisturePct: moisturePct[place]!
    };
    const density = at12(square);
    densities[place] = density;
    const isUsual = density >= usual.low && density <= usual.high && !isNotedApart(square, noted[place]!);
    const isFar =
      isFarSize(lengthMm[place]!, middles.lengthMm) ||
      isFarSize(widthMm[place]!, middles.widthMm) ||
      isFarSize(thicknessMm[place]!, middles.thicknessMm);
    const day = measuredOn[place]!;
    const isTime = day === noDay || (day >= boughtOn[lot]! && day <= lastDay);
    if (!isUsual || isFar || !isTime) isApart[place] = 1;
  }
  markTwice(isApart, table, odd);
  for (const {place} of table.odd) isApart[place] = oddAt.has(place) ? 1 : 0;

  const looked: Numbered<Square>[] = [];
  for (let place = 0; place < rows; place++) if (isApart[place] === 1) looked.push(oddAt.get(place) ?? read(place));
  const keptAt = new Map(soundSquares(looked, lots, asked, middles).map((square) => [square.row - 2, square]));
  const isOdd = new Set(table.odd.map(({place}) => place));
  const isSound = (place: number) => (isApart[place] === 1 ? keptAt.has(place) : !isOdd.has(place));
  const sound = Int32Array.from(isApart.keys()).filter(isSound);
  const numbers = cellValue(table.columns.get("square")!);
  return {
    size: sound.length,
    known: placesOf(Array.from(sound, (place) => keptAt.get(place)?.square ?? String(numbers(place)))),
    lots: sound.map((place) => inLot[place]!),
    measuredOn: sound.map((place) => measuredOn[place]!),
    massG: picked(massG, sound),
    densityAt12KgM3: picked(densities, sound),
    square: (place) => keptAt.get(sound[place]!) ?? read(sound[place]!)
  };
}

function picked(values: Float64Array, places: Int32Array): Float64Array {
  const some = new Float64Array(places.length);
  for (let i = 0; i < places.length; i++) some[i] = values[places[i]!]!;
  return some;
}

/** Marks rows that share their number with another, to be looked at. */
function markTwice(isApart: Uint8Array, {columns}: PlainTable, odd: readonly Square[]): void {
  const numbers = columns.get("square");
  if (numbers?.kind !== "text") return;
  const {names, places} = numbers;
  const ofOdd = new Set(odd.map(({square}) => square));
  const times = Int32Array.from(names, (name) => (ofOdd.has(name) ? 1 : 0));
  for (const name of places) if (name >= 0) times[name]!++;
  for (let place = 0; place < isApart.length; place++)
    if (places[place]! >= 0 && times[places[place]!]! > 1) isApart[place] = 1;
}
