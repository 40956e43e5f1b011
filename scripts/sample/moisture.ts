import type {Piece} from "./pieces.ts";
import type {Store} from "./store.ts";
import {dryingDays} from "./truthMeasuring.ts";

/**
 * True moisture content of a piece, %, by day: each day it goes the same small share of the way to what the store's air would
 * bring it to; the thinner the piece, the larger the share.
 */
export function moistureCourse(piece: Piece, store: Store): (day: number) => number {
  const first = piece.lot.measuredOn;
  const course = [piece.moisturePct];
  return (day) => {
    for (let d = first + course.length - 1; d < day; d++) {
      const stage = piece.stays.find(({to}) => d < to)?.stage ?? "finished";
      const share = 1 - Math.exp(-1 / dryingDays[stage]);
      course.push(course.at(-1)! + share * (store.moistureOn(d) - course.at(-1)!));
    }
    return course[Math.max(0, day - first)]!;
  };
}
