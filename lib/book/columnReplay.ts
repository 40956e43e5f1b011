import {noPlace} from "./columnsOf.ts";
import {type EventColumns, kindAt} from "./eventColumns.ts";
import {leastMassG, mostMassG} from "./histories.ts";
import type {SquareColumns} from "./squareColumns.ts";

/** What became of each square, by its place. */
export interface Courses {
  /** 1 for a square of which some event is impossible or doubtful, or may be: nothing else said here of it holds. */
  isDoubtful: Uint8Array;
  /** The place of the stage that each has reached. */
  stages: Int32Array;
  /** The day on which it reached each stage: of stage k of square i at i · (how many stages) + k. */
  reachedOn: Int32Array;
  /** The place of the event by which an order got it, `noPlace` where none did. */
  promisedAt: Int32Array;
  /** The place of the event that ended it: it was thrown out, diverted or delivered; `noPlace` while it is there. */
  endedAt: Int32Array;
}

/**
 * Every square through its stages, by columns alone: as `Replay` takes it where all goes as it should, stage by stage, and nothing is to be told.
 * Squares about which anything may have to be told are only named, for `Replay` to go through event by event.
 *
 * Checked: tests/book/columnCounts.test.ts, against `histories`
 *
 * @param rows places of the events, in the order in which they happened
 * @param boughtOn the day number of the purchase of each lot, by its place
 * @param last the place of the last stage
 */
export function columnReplay(
  {squares, isApart, days, kinds, stages, orders, massG}: EventColumns,
  rows: Int32Array,
  {size, lots, massG: intakeG}: SquareColumns,
  boughtOn: Int32Array,
  last: number
): Courses {
  const [turned, discarded, diverted] = [kindAt("turned"), kindAt("discarded"), kindAt("diverted")];
  const [allotted, delivered] = [kindAt("allotted"), kindAt("delivered")];
  const isDoubtful = new Uint8Array(size);
  const stageOf = new Int32Array(size);
  const reachedOn = new Int32Array(size * (last + 1));
  const promisedAt = new Int32Array(size).fill(noPlace);
  const endedAt = new Int32Array(size).fill(noPlace);
  const lastMassG = intakeG.slice();
  for (let square = 0; square < size; square++) reachedOn[square * (last + 1)] = boughtOn[lots[square]!]!;

  for (let i = 0; i < rows.length; i++) {
    const place = rows[i]!;
    const square = squares[place]!;
    if (isDoubtful[square] === 1) continue;
    const [day, kind, stage, mass] = [days[place]!, kinds[place]!, stages[place]!, massG[place]!];
    const now = stageOf[square]!;
    const takes = kind === allotted || kind === delivered;
    const order = orders[place]!;
    const promised = promisedAt[square]!;
    const isTime = day >= boughtOn[lots[square]!]! && endedAt[square] === noPlace;
    const isStage = kind === turned ? stage === now + 1 : stage === noPlace || stage === now;
    const isReady = now === last ? kind !== diverted : !takes;
    const isOrder = promised === noPlace || order === noPlace || order === orders[promised];
    // A blank mass is NaN: neither too great nor too small.
    const isMass = !(mass > mostMassG(lastMassG[square]!) || mass < leastMassG(lastMassG[square]!));
    if (isApart[place] === 1 || !isTime || !isStage || !isReady || !isOrder || !isMass) {
      isDoubtful[square] = 1;
      continue;
    }
    if (kind === turned) {
      stageOf[square] = stage;
      reachedOn[square * (last + 1) + stage] = day;
    }
    if (takes && promised === noPlace && order !== noPlace) promisedAt[square] = place;
    if (kind === discarded || kind === diverted || kind === delivered) endedAt[square] = place;
    if (!Number.isNaN(mass)) lastMassG[square] = mass;
  }
  return {isDoubtful, stages: stageOf, reachedOn, promisedAt, endedAt};
}
