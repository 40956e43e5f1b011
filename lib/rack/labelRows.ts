import {dayText} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import type {StockPart} from "./stocktake.ts";

/** What a label says of a piece. */
export interface LabelRow {
  square: string;
  species: string;
  stage: string;
  /** The day from which it may be turned; of a shaft, and where nothing is known, none. */
  readyOn?: string;
  /** Of a shaft: the day it was finished. */
  finishedOn?: string;
  /** Kilograms per cubic metre at 12 % moisture, as it was bought. */
  densityAt12KgM3: number;
}

/** Which pieces are to have a label: all in stock where nothing is said. */
export interface LabelWish extends StockPart {
  /** Numbers of the book; the labels come in their order. */
  squares?: readonly string[] | undefined;
  /** Only pieces that may be turned on the day of the book. */
  ready?: boolean | undefined;
}

/**
 * The day number from which a piece may be turned by its least rest alone: the day it came to its stage and `restDays` more. Undefined for
 * a shaft.
 */
export function restEndsOn({settings}: Pick<Histories, "settings">, piece: Piece): number | undefined {
  const {stage, from} = piece.stays.at(-1)!;
  const last = settings.stages.at(-1)!.name;
  return stage === last ? undefined : from + settings.stages.find(({name}) => name === stage)!.restDays;
}

/**
 * What the labels of pieces in stock say (shafts not delivered are in stock), in the order of the book, or of `squares` where they are named.
 *
 * Checked: tests/rack/labelRows.test.ts
 *
 * @param readyOn the day number from which a piece that is no shaft may be turned, undefined where it is not known
 */
export function labelRows(
  histories: Histories,
  {stages, lots, squares, ready = false}: LabelWish = {},
  readyOn: (piece: Piece) => number | undefined = (piece) => restEndsOn(histories, piece)
): LabelRow[] {
  const {settings, asOf, pieces} = histories;
  const last = settings.stages.at(-1)!.name;
  const byNumber = new Map(pieces.map((piece) => [piece.square, piece]));
  const wanted = squares === undefined ? pieces : squares.flatMap((square) => byNumber.get(square) ?? []);
  return wanted.flatMap((piece) => {
    const {stage, from} = piece.stays.at(-1)!;
    const isShaft = stage === last;
    const isThere = piece.fate === "in stock" || (piece.fate === "finished" && piece.deliveredOn === undefined);
    if (!isThere || stages?.includes(stage) === false || lots?.includes(piece.lot) === false) return [];
    const day = isShaft ? undefined : readyOn(piece);
    if (ready && (day === undefined || day > asOf)) return [];
    return {
      square: piece.square,
      species: piece.species,
      stage,
      ...(day !== undefined && {readyOn: dayText(day)}),
      ...(isShaft && {finishedOn: dayText(from)}),
      densityAt12KgM3: piece.densityAt12KgM3
    };
  });
}
