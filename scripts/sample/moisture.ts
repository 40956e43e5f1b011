import type {Piece} from "./pieces.ts";
import type {Store} from "./store.ts";
import {dryingDays} from "./truthMeasuring.ts";

/**
 * True moisture content of a piece on a day, %: each day it goes the same small share of the way to what the store's air would
 * bring it to; the thinner the piece, the larger the share.
 */
export function moistureOn(piece: Piece, day: number, store: Store): number {
  let moisturePct = piece.moisturePct;
  for (let d = piece.lot.measuredOn; d < day; d++) {
    const stage = piece.stays.find(({to}) => d < to)?.stage ?? "finished";
    const share = 1 - Math.exp(-1 / dryingDays[stage]);
    moisturePct += share * (store.moistureOn(d) - moisturePct);
  }
  return moisturePct;
}
