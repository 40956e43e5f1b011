import {dayNumber} from "../../lib/book/day.ts";
import type {Expected} from "./expected.ts";
import type {Piece} from "./pieces.ts";
import {asOf} from "./truth.ts";
import {restStages} from "./truthStages.ts";

const end = dayNumber(asOf);

/** What did become of the pieces, followed to the end: the twin of `expected`, as shares of the squares. */
export function realised(pieces: readonly Piece[]): Expected {
  const result: Expected = {reached: zeros(), passed: zeros(), diverted: zeros(), discarded: empty()};
  const one = 1 / pieces.length;
  for (const {stage, left, defect} of pieces.flatMap(({stays}) => stays)) {
    result.reached[stage] += one;
    if (left === "turned") result.passed[stage] += one;
    if (left === "diverted") result.diverted[stage] += one;
    if (defect) result.discarded[stage][defect] = (result.discarded[stage][defect] ?? 0) + one;
  }
  return result;
}

function zeros() {
  return {square: 0, "rough-round": 0, "second-round": 0, "proud-round": 0};
}

function empty(): Expected["discarded"] {
  return {square: {}, "rough-round": {}, "second-round": {}, "proud-round": {}};
}

/** Where a piece is on the last day of the book: its stage if it is still on the way, else its fate. */
export function standing(piece: Piece): "finished" | "discarded" | "diverted" | {stage: string; days: number} {
  const stay = piece.stays.find(({to}) => to > end);
  if (stay) return {stage: stay.stage, days: end - stay.from};
  const {left} = piece.stays.at(-1)!;
  return left === "turned" ? "finished" : left;
}

/** What will become of a piece that is still in stock. */
export function fate({stays}: Piece): "finished" | "discarded" | "diverted" {
  const {left} = stays.at(-1)!;
  return left === "turned" ? "finished" : left;
}

/** How the stays that were decided by the last day of the book went, stage by stage: counts, as the book shows them. */
export function decidedByAsOf(pieces: readonly Piece[]) {
  const stays = pieces.flatMap((piece) => piece.stays.filter(({from}) => from <= end));
  return restStages.map((stage) => {
    const here = stays.filter((stay) => stay.stage === stage && stay.from <= end);
    const count = (left: string) => here.filter((stay) => stay.to <= end && stay.left === left).length;
    const [turned, discarded, diverted] = [count("turned"), count("discarded"), count("diverted")];
    return {
      stage,
      reached: here.length,
      turned,
      discarded,
      diverted,
      still: here.length - turned - discarded - diverted
    };
  });
}
