import type {Piece} from "../book/histories.ts";
import type {Settings} from "../book/settings.ts";
import {constantMass} from "../wood/constantMass.ts";

/** Whether the mass of a piece has come to rest at its stage. Days are day numbers. */
export interface Steadiness {
  /** Weighings at the stage, that fresh from the lathe too. */
  weighings: number;
  /** Days between the two weighings compared, the mass lost between them and the most it may be, g; undefined where no two lie far enough apart. */
  days?: number;
  lostG?: number;
  limitG?: number;
  steady?: boolean;
  /** The last weighing at the stage. */
  weighedOn?: number;
  massG?: number;
  /** The day from which on one more weighing tells; undefined where none has been made at the stage yet. */
  tellsFrom?: number;
}

/**
 * Whether a piece is steady at its stage by the shop's own rule (`ready` in the settings): its last weighing there against the latest one at least
 * `steadyDays` before it, which must not differ by more than `steadyPct` % or `scaleSteps` times the scale's uncertainty, whichever is more.
 *
 * The trap: laboratory rules of constant mass are for small pieces in moving air; a 40 mm square looks steady after hours and dries for months. Two
 * weighings far apart may differ though the piece has come to rest since: the next one tells. A piece that gains is no more steady than one that loses.
 * Steady in damp air is not dry: see `moistureNow`. Weighings before the last cut count for nothing.
 * Source: `constantMass`; the rule is common practice, no source. Checked: tests/seasoning/steadiness.test.ts
 */
export function steadiness(piece: Piece, {ready, accuracy}: Pick<Settings, "ready" | "accuracy">): Steadiness {
  const {stage} = piece.stays.at(-1)!;
  const weighed = piece.measurements.filter((one) => one.stage === stage && one.massG !== undefined);
  const last = weighed.at(-1);
  if (!last) return {weighings: 0};
  const before = weighed.findLast(({day}) => last.day - day >= ready.steadyDays);
  const known = {
    weighings: weighed.length,
    weighedOn: last.day,
    massG: last.massG!,
    // The next comparison is with the weighing after the one that was compared with now.
    tellsFrom: Math.ceil(weighed[before ? weighed.indexOf(before) + 1 : 0]!.day + ready.steadyDays)
  };
  if (!before) return known;
  const {steady, lostG, limitG} = constantMass({
    earlierMassG: before.massG!,
    laterMassG: last.massG!,
    hoursApart: 24 * (last.day - before.day),
    // A scale without error shows any change.
    scaleG: Math.max(accuracy.scaleG, 1e-9),
    rule: ownRule(ready)
  });
  return {...known, days: last.day - before.day, lostG, limitG, steady};
}

/** The most a mass may change between the two weighings, g: max(steadyPct % of it, scaleSteps · the scale's uncertainty). */
export function steadyLimit(massG: number, {ready, accuracy}: Pick<Settings, "ready" | "accuracy">): number {
  return Math.max((ready.steadyPct / 100) * massG, ready.scaleSteps * accuracy.scaleG);
}

function ownRule({steadyDays, steadyPct, scaleSteps}: Settings["ready"]) {
  const source = "the shop's own settings; common practice, no source";
  return {hours: 24 * steadyDays, limitFraction: steadyPct / 100, scaleSteps, inclusive: true, source};
}
