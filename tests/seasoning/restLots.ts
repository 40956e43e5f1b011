import type {Piece} from "../../lib/book/histories.ts";
import {makePiece} from "../pieces.ts";

/** How the pieces of one lot fared: of so many hurried squares and so many served ones, how many warped, and how many had a knot, at the next stage. */
export interface RestLot {
  hurried: number;
  served: number;
  hurriedWarped?: number;
  servedWarped?: number;
  hurriedKnots?: number;
  servedKnots?: number;
  /** Served ones that still rest at the next stage. */
  open?: number;
}

/** Squares turned after 40 days or after 60 + 10, 60 + 20, … 60 + 50; those not thrown out at day 30 of the next rest are finished in the end. */
export function restLot(lot: string, of: RestLot): Piece[] {
  const {hurried, served, hurriedWarped = 0, servedWarped = 0, hurriedKnots = 0, servedKnots = 0, open = 0} = of;
  const piece = (name: string, day: number, fate: "warp" | "knot" | "open" | "finished"): Piece =>
    makePiece({
      square: `${lot}-${name}`,
      lot,
      turned: fate === "finished" ? [day, day + 40, day + 80, day + 120] : [day],
      ...((fate === "warp" || fate === "knot") && {discarded: day + 30, defect: fate})
    });
  const fateOf = (i: number, warped: number, knots: number, still: number) =>
    i < warped ? "warp" : i < warped + knots ? "knot" : i < warped + knots + still ? "open" : "finished";
  return [
    ...Array.from({length: hurried}, (_, i) => piece(`h${i}`, 40, fateOf(i, hurriedWarped, hurriedKnots, 0))),
    ...Array.from({length: served}, (_, i) =>
      piece(`s${i}`, 70 + 10 * (i % 5), fateOf(i, servedWarped, servedKnots, open))
    )
  ];
}
