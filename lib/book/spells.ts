import type {Spell} from "../stats/eventTable.ts";
import type {Piece} from "./histories.ts";

/** The cause under which a discard for a defect is counted; apart from "passed", "finished" and "diverted" whatever its name. */
export const discardCause = (defect: string) => `discarded: ${defect}`;

/** The defect of a cause, undefined for a cause that is no discard. */
export function defectOf(cause: string): string | undefined {
  return cause.startsWith("discarded: ") ? cause.slice("discarded: ".length) : undefined;
}

/**
 * The time each piece spent at one stage, in days, and how it left: `passed`, `diverted` or discarded for a defect. A piece still
 * there has no cause: it is censored on the day of the question.
 *
 * With `since` (a day number) only what happened from that day on is looked at: a piece that was there already enters late,
 * a piece that had left before is out (left truncation).
 */
export function stageSpells(
  pieces: Iterable<Piece>,
  stage: string,
  asOf: number,
  since = Number.NEGATIVE_INFINITY
): Spell[] {
  const spells: Spell[] = [];
  for (const piece of pieces) {
    const stay = piece.stays.find((one) => one.stage === stage);
    if (!stay) continue;
    const cause =
      stay.left === "turned" ? "passed" : stay.left === "discarded" ? discardCause(piece.defect!) : stay.left;
    addSpell(spells, stay.from, stay.to ?? piece.deliveredOn ?? asOf, cause, since);
  }
  return spells;
}

/** The time from purchase to the end of each piece, in days: `finished`, `diverted`, discarded for a defect, or still in stock. */
export function purchaseSpells(pieces: Iterable<Piece>, asOf: number, since = Number.NEGATIVE_INFINITY): Spell[] {
  const spells: Spell[] = [];
  for (const piece of pieces) {
    const cause =
      piece.fate === "in stock" ? undefined : piece.fate === "discarded" ? discardCause(piece.defect!) : piece.fate;
    addSpell(spells, piece.boughtOn, piece.fateOn ?? asOf, cause, since);
  }
  return spells;
}

/** Adds a spell unless it was over before it was looked at; `count` pieces alike. */
export function addSpell(
  spells: Spell[],
  from: number,
  to: number,
  cause: string | undefined,
  since: number,
  count = 1
): void {
  const entry = Math.max(0, since - from);
  const exit = to - from;
  if (entry > 0 && exit <= entry) return;
  const spell: Spell = {exit};
  if (entry > 0) spell.entry = entry;
  if (cause !== undefined) spell.cause = cause;
  if (count !== 1) spell.count = count;
  spells.push(spell);
}

/** Rows grouped by a key, in the order in which the keys first come. */
export function groupBy<T>(rows: Iterable<T>, key: (row: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const name = key(row);
    const group = groups.get(name);
    if (group) group.push(row);
    else groups.set(name, [row]);
  }
  return groups;
}

/** The pieces of each lot together: what scatters independently when an interval is wanted, as pieces of one lot are alike. */
export function byLot(pieces: Iterable<Piece>): Piece[][] {
  return [...groupBy(pieces, ({lot}) => lot).values()];
}
