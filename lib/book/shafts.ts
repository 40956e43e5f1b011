import type {Piece} from "./histories.ts";

/** Whether the workshop has a piece: it rests, or is a shaft that was not delivered. */
export function isThere({fate, deliveredOn}: Pick<Piece, "fate" | "deliveredOn">): boolean {
  return fate === "in stock" || (fate === "finished" && deliveredOn === undefined);
}

/** Whether a piece is a shaft that may be given away: finished, neither allotted nor delivered nor thrown out since. */
export function isFreeShaft({fate, allottedTo, deliveredOn}: Pick<Piece, "fate" | "allottedTo" | "deliveredOn">) {
  return fate === "finished" && allottedTo === undefined && deliveredOn === undefined;
}

/** How many shafts each order has been given, those delivered among them, by its number. */
export function shaftsGiven(pieces: Iterable<Pick<Piece, "allottedTo">>): Map<string, number> {
  const given = new Map<string, number>();
  for (const {allottedTo} of pieces)
    if (allottedTo !== undefined) given.set(allottedTo, (given.get(allottedTo) ?? 0) + 1);
  return given;
}
