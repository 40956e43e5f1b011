import {dayText} from "../book/day.ts";
import type {Histories} from "../book/histories.ts";
import {isThere} from "../book/shafts.ts";
import type {StockPart} from "./stocktake.ts";

/** Where a piece that is no shaft stands: it may be turned, a weighing today may settle it, or it should be ready about a day. */
export type LabelState = "ready" | "weigh" | "about";

/** What a label says of a piece. */
export interface LabelRow {
  square: string;
  species: string;
  stage: string;
  /** Of a piece that is no shaft, where it is known. */
  state?: LabelState;
  /** The day of the state: for ready and weigh the day of the book, for about the day to come. */
  day?: string;
  /** Of a shaft: the day it was finished. */
  finishedOn?: string;
  /** Kilograms per cubic metre at 12 % moisture, as it was bought. */
  densityAt12KgM3: number;
}

/** Which pieces are to have a label: all in stock where nothing is said. */
export interface LabelWish extends StockPart {
  /** Numbers of the book; the labels come in their order. */
  squares?: readonly string[] | undefined;
  /** Only pieces of these states; no shafts then. */
  states?: readonly LabelState[] | undefined;
  /** By stage, in the order of the settings. */
  byStage?: boolean | undefined;
}

/** What is known of a piece that is no shaft, as `readyToTurn` gives it. */
export interface ReadyNow {
  verdict: string;
  weigh: boolean;
  until?: string;
}

/**
 * What the labels of pieces in stock say (shafts not delivered are in stock), in the order of the book, of `squares` where they are named, or
 * by stage. A piece is ready only where its verdict is; to be weighed where a weighing today may settle it; else ready about its day, if that
 * is still to come: a day of today or before is no forecast, and is left out.
 *
 * Checked: tests/rack/labelRows.test.ts
 *
 * @param readyNow by square; undefined where nothing is known
 */
export function labelRows(
  histories: Histories,
  {stages, lots, squares, states, byStage = false}: LabelWish,
  readyNow: (square: string) => ReadyNow | undefined
): LabelRow[] {
  const {settings, asOf, pieces} = histories;
  const names = settings.stages.map(({name}) => name);
  const byNumber = new Map(pieces.map((piece) => [piece.square, piece]));
  const wanted = squares === undefined ? pieces : squares.flatMap((square) => byNumber.get(square) ?? []);
  const rows = wanted.flatMap((piece): LabelRow[] => {
    const {stage, from} = piece.stays.at(-1)!;
    const isShaft = stage === names.at(-1);
    if (!isThere(piece) || stages?.includes(stage) === false || lots?.includes(piece.lot) === false) return [];
    const stands = isShaft ? {} : stateOf(readyNow(piece.square), dayText(asOf));
    if (states && (stands.state === undefined || !states.includes(stands.state))) return [];
    return [
      {
        square: piece.square,
        species: piece.species,
        stage,
        ...stands,
        ...(isShaft && {finishedOn: dayText(from)}),
        densityAt12KgM3: piece.densityAt12KgM3
      }
    ];
  });
  return byStage ? rows.toSorted((a, b) => names.indexOf(a.stage) - names.indexOf(b.stage)) : rows;
}

function stateOf(now: ReadyNow | undefined, today: string): Pick<LabelRow, "state" | "day"> {
  if (now?.verdict === "ready") return {state: "ready", day: today};
  if (now?.weigh) return {state: "weigh", day: today};
  return now?.until !== undefined && now.until > today ? {state: "about", day: now.until} : {};
}
