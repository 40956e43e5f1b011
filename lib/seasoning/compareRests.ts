import type {Histories, Piece} from "../book/histories.ts";
import {byLot} from "../book/spells.ts";
import {clusterLogInterval, clusterMeanInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {differenceInterval, type Estimated} from "../stats/differenceInterval.ts";
import {mantelHaenszel, mantelHaenszelEstimates, type TwoGroups} from "../stats/mantelHaenszel.ts";
import {sum} from "../stats/numbers.ts";
import {type AfterRest, afterRests} from "./afterRest.ts";
import type {RestKind, RestStep} from "./restSteps.ts";

/** Two kinds of rest compared by what was thrown out at the next stage: over all lots, and inside lots. Rates per 100 pieces. */
export interface RestComparison {
  one: AfterRest;
  other: AfterRest;
  /** First less other, over all lots. */
  difference?: number;
  differenceLow?: number;
  differenceHigh?: number;
  /** Lots in which both kinds stand side by side at a stage that all their pieces have left, and the pieces compared. */
  insideLots: number;
  insideOne: number;
  insideOther: number;
  /** First less other, inside lots. */
  inside?: number;
  insideLow?: number;
  insideHigh?: number;
  /** How many times as often, inside lots. */
  insideRatio?: number;
  insideRatioLow?: number;
  insideRatioHigh?: number;
}

/**
 * Whether more pieces are thrown out at the next stage after one kind of rest than after another.
 *
 *   over all lots   the difference of two `afterRest`, with Newcombe's interval of the two (`differenceInterval`); on the safe side, as lots are common to both
 *   inside lots     `mantelHaenszel`, each lot and stage a table, where all pieces of both kinds have left the next stage; limits from leaving out each lot in
 *                   turn, of the ratio on its logarithm
 *
 * Inside lots what is common to a lot (its timber, its season) falls out; over all lots it does not. Where the two disagree, believe neither.
 * The trap: nobody drew lots for who waits. Inside a lot too the owner may have taken up first what looked best.
 * Error: in simulated workshops of 12 to 70 lots in which hurry had nothing to do with the lot, the limits over all lots held the truth in 96 to 97 of 100, those of
 * the ratio inside lots in 95 to 98, those of the difference inside lots in 94 to 100.
 * Source: as `mantelHaenszel` and `clusterJackknife`. Checked: tests/seasoning/compareRests.test.ts; tests/recovery/seasoning.test.ts, against what the sample was made with
 *
 * @returns without what cannot be told: a ratio where the other has none thrown out inside lots, limits inside lots where either has none or all are of one lot, any
 * interval with fewer than four lots
 */
export function compareRests(
  histories: Pick<Histories, "asOf" | "pieces">,
  {counts, ...rests}: RestsCompared & {counts: (defect: string) => boolean}
): RestComparison {
  return restComparisons(histories, rests)(counts);
}

/** Two kinds of rest, and the steps at which they are compared. */
export interface RestsCompared {
  one: readonly RestKind[];
  other: readonly RestKind[];
  steps: readonly RestStep[];
}

/** The same for some defects after others: pieces are sorted by their rests once. */
export function restComparisons(
  histories: Pick<Histories, "asOf" | "pieces">,
  {one, other, steps}: RestsCompared
): (counts: (defect: string) => boolean) => RestComparison {
  const after = [one, other].map((kinds) => afterRests(histories, {kinds, steps}));
  const sides = byLot(histories.pieces).map((lot) => sideBySide(lot, {one, other, steps}));
  return (counts) => {
    const [first, second] = after.map((of) => of(counts));
    const [a, b] = [estimated(first!), estimated(second!)];
    const limits = a && b && differenceInterval(a, b);
    const difference = first!.per100 !== undefined && second!.per100 !== undefined && first!.per100 - second!.per100;
    const telling = sides.filter((lot) => lot.length > 0).map((lot) => lot.map((table) => counted(table, counts)));
    const all = telling.flat();
    const whole = mantelHaenszel(all);
    const [apart, times] = clusterJackknife(telling.length, (weights) => {
      const left = mantelHaenszelEstimates(telling.filter((_, i) => weights[i] !== 0).flat());
      return [left?.difference, left?.ratio ? Math.log(left.ratio) : undefined];
    });
    return {
      one: first!,
      other: second!,
      ...(difference !== false && {difference}),
      ...(limits && {differenceLow: limits.low, differenceHigh: limits.high}),
      insideLots: telling.length,
      insideOne: sum(all.map(({n}) => n)),
      insideOther: sum(all.map(({otherN}) => otherN)),
      ...(whole && {inside: 100 * whole.difference}),
      ...(apart && times && named("inside", clusterMeanInterval(apart), 100)),
      ...(whole?.ratio !== undefined && {insideRatio: whole.ratio}),
      ...(times && named("insideRatio", clusterLogInterval([times]), 1))
    };
  };
}

function named(name: string, {low, high}: {low: number; high: number}, factor: number) {
  return {[`${name}Low`]: factor * low, [`${name}High`]: factor * high};
}

function estimated({per100: value, per100Low: low, per100High: high}: AfterRest): Estimated | undefined {
  return value === undefined || low === undefined || high === undefined ? undefined : {value, low, high};
}

/** The pieces of a lot that came to a stage after either kind of rest. */
interface SideBySide {
  next: string;
  own: readonly Piece[];
  others: readonly Piece[];
}

/** Those of each stage at which the lot has both kinds, all of which have left it. */
function sideBySide(lot: readonly Piece[], {one, other, steps}: RestsCompared): SideBySide[] {
  return steps.flatMap(({next, kindOf}) => {
    const of = (kinds: readonly RestKind[]) =>
      lot.filter((piece) => {
        const kind = kindOf(piece);
        return kind !== undefined && kinds.includes(kind);
      });
    const [own, others] = [of(one), of(other)];
    const isThere = ({stays, fate}: Piece) => fate === "in stock" && stays.at(-1)!.stage === next;
    if (own.length === 0 || others.length === 0 || [...own, ...others].some(isThere)) return [];
    return [{next, own, others}];
  });
}

/** How many of them were thrown out there for the defects that count. */
function counted({next, own, others}: SideBySide, counts: (defect: string) => boolean): TwoGroups {
  const fell = (pieces: readonly Piece[]) =>
    pieces.filter(({stays, defect}) => defect !== undefined && stays.at(-1)!.stage === next && counts(defect)).length;
  return {events: fell(own), n: own.length, otherEvents: fell(others), otherN: others.length};
}
