import type {Histories, Piece} from "../book/histories.ts";
import {discardCause} from "../book/spells.ts";
import {ascending, greatest} from "../stats/numbers.ts";
import {stateOccupation} from "../stats/stateOccupation.ts";

/** Of 100 squares bought, how many are where a number of weeks later. */
export interface Whereabouts {
  weeks: number;
  /** A stage, "finished", "diverted", or a discard by defect. */
  state: string;
  per100: number;
  /** Pieces seen for at least so long, whatever their fate. */
  followed: number;
}

/**
 * Where 100 squares go, by weeks since purchase: the share at each stage, finished, discarded for each defect and diverted
 * (Aalen–Johansen state occupation). The shares of one week add up to 100.
 *
 * Valid without a Markov assumption for shares over time since purchase (Datta & Satten 2001, Statist. Probab. Lett. 55:403–411,
 * from memory). The curve ends where fewer than 20 pieces, or a tenth of them if that is less, have been followed so long.
 *
 * Checked: tests/yield/whereSquaresGo.test.ts, tests/stats/stateOccupation.test.ts (R survival)
 */
export function whereSquaresGo(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[]
): Whereabouts[] {
  if (pieces.length === 0) return [];
  const stages = settings.stages.map(({name}) => name);
  const ends = ["diverted", ...settings.defects.map(({name}) => discardCause(name))];
  const paths = pieces.map((piece) => ({moves: moves(piece), until: Math.max(0, asOf - piece.boughtOn)}));
  const ages = ascending(pieces.map(({boughtOn}) => asOf - boughtOn));
  const followedAt = (day: number) => pieces.length - (ages.findLastIndex((age) => age < day) + 1);
  const fewest = Math.min(20, Math.ceil(pieces.length / 10));
  const longest = greatest(pieces.map((piece) => (piece.fateOn ?? asOf) - piece.boughtOn));
  const days: number[] = [];
  for (let day = 0; day <= longest + 6 && followedAt(day) >= fewest; day += 7) days.push(day);
  const {occupation} = stateOccupation(paths, {states: [...stages, ...ends], at: days});
  return days.flatMap((day, index) =>
    [...stages, ...ends]
      .filter((state) => occupation[state]!.some((share) => share > 0))
      .map((state) => ({weeks: day / 7, state, per100: 100 * occupation[state]![index]!, followed: followedAt(day)}))
  );
}

/** The way of a piece through the states, in days since purchase; a shaft that finished stays finished. */
function moves(piece: Piece): {state: string; at: number}[] {
  const way = piece.stays.map(({stage, from}) => ({state: stage, at: from - piece.boughtOn}));
  const end =
    piece.fate === "discarded" ? discardCause(piece.defect!) : piece.fate === "diverted" ? "diverted" : undefined;
  return end === undefined ? way : [...way, {state: end, at: piece.fateOn! - piece.boughtOn}];
}
