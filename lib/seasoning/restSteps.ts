import type {Histories, Piece} from "../book/histories.ts";
import {quantile} from "../stats/quantile.ts";

/** How long a piece rested before it was turned: not as long as its least rest, or as long and less, or more, than the middle one. */
export const restKinds = ["hurried", "shorter half", "longer half"] as const;
export type RestKind = (typeof restKinds)[number];

/** A rest between two cuts, and how long pieces really rested. */
export interface RestStep {
  stage: string;
  /** The stage they were turned to, where it shows what the rest did. */
  next: string;
  /** From the settings. */
  leastDays: number;
  turned: number;
  hurried: number;
  /** Of the rests that were served: where the halves part, and what one in ten was longer than, days. */
  middleDays?: number;
  longDays?: number;
  /** Days that a piece rested there; undefined unless it was turned from there. */
  daysOf: (piece: Piece) => number | undefined;
  kindOf: (piece: Piece) => RestKind | undefined;
}

/**
 * The rests after which another rest follows, so that one can see what they did: all but that of the last stage but one, in the order of the stages.
 * Pieces are sorted by their days against the least rest and against the median of the rests that were served at the stage.
 *
 * A stage passed over (no day spent) was no rest and counts nowhere. Checked: tests/seasoning/restSteps.test.ts
 */
export function restSteps({settings, pieces}: Pick<Histories, "settings" | "pieces">): RestStep[] {
  const {stages} = settings;
  return stages.slice(0, -2).map(({name: stage, restDays: leastDays}, i) => {
    const daysOf = (piece: Piece) => {
      const stay = piece.stays.find((one) => one.stage === stage);
      const days = stay?.left === "turned" ? stay.to! - stay.from : 0;
      return days > 0 ? days : undefined;
    };
    const days = pieces.flatMap((piece) => daysOf(piece) ?? []);
    const served = days.filter((rested) => rested >= leastDays);
    const [middleDays, longDays] = [quantile(served, 0.5), quantile(served, 0.9)];
    return {
      stage,
      next: stages[i + 1]!.name,
      leastDays,
      turned: days.length,
      hurried: days.length - served.length,
      ...(middleDays !== undefined && longDays !== undefined && {middleDays, longDays}),
      daysOf,
      kindOf: (piece) => {
        const rested = daysOf(piece);
        if (rested === undefined) return undefined;
        if (rested < leastDays) return "hurried";
        return rested <= middleDays! ? "shorter half" : "longer half";
      }
    };
  });
}
