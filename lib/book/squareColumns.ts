import type {Numbered} from "./readRecords.ts";
import type {Lot, Square} from "./records.ts";
import type {Settings} from "./settings.ts";
import {squareDensityAt12} from "./squareDensity.ts";

/** The sound squares of a book, as columns by place. */
export interface SquareColumns {
  size: number;
  /** The place of each one's lot among the sound lots. */
  lots: Int32Array;
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
  const placeOf = new Map(lots.map(({lot}, place) => [lot, place]));
  const places = Int32Array.from(squares, ({lot}) => placeOf.get(lot)!);
  return {
    size: squares.length,
    lots: places,
    massG: Float64Array.from(squares, ({massG}) => massG),
    densityAt12KgM3: Float64Array.from(squares, (square, i) =>
      squareDensityAt12(square, lots[places[i]!]!.species, settings)
    ),
    square: (place) => squares[place]!
  };
}
