import type {Histories} from "../book/histories.ts";
import {isThere} from "../book/shafts.ts";
import {greatest} from "../stats/numbers.ts";

/** Pieces of one stage in stock. */
export interface StockRow {
  species: string;
  stage: string;
  pieces: number;
  restDays: number;
  /** How many have served the stage's least rest. */
  rested: number;
  /** Days at the stage: of the longest there. */
  longestDays: number;
}

/**
 * Stock on hand by species and stage: pieces, how many have served their least rest, and the days of the longest there. Finished shafts are
 * those not delivered yet.
 *
 * Checked: tests/seasoning/stockOnHand.test.ts
 */
export function stockOnHand({settings, asOf, pieces}: Histories): StockRow[] {
  const last = settings.stages.at(-1)!.name;
  const species = [...new Set(pieces.map((piece) => piece.species))].sort();
  return species.flatMap((name) =>
    settings.stages.map(({name: stage, restDays}) => {
      const own = pieces.filter(
        (piece) => piece.species === name && isThere(piece) && piece.stays.at(-1)!.stage === stage
      );
      const days = own.map((piece) => asOf - piece.stays.at(-1)!.from);
      const rested = stage === last ? own.length : days.filter((one) => one >= restDays).length;
      return {species: name, stage, pieces: own.length, restDays, rested, longestDays: greatest(days, 0)};
    })
  );
}
