import type {Histories} from "../book/histories.ts";
import {byLot, defectOf, stageSpells} from "../book/spells.ts";
import {clusterShareInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {mean} from "../stats/mean.ts";
import {sum} from "../stats/numbers.ts";
import {weightedIncidence} from "../stats/weightedIncidence.ts";
import type {RestKind, RestStep} from "./restSteps.ts";

/** What was thrown out at the stage after a kind of rest. */
export interface AfterRest {
  /** That came to the next stages. */
  pieces: number;
  discarded: number;
  /** Of 100 pieces, the mean of the stages; absent while a stage has decided none. */
  per100?: number;
  /** 95 % limits by lots. */
  per100Low?: number;
  per100High?: number;
}

/**
 * Pieces thrown out at the stage after a kind of rest for certain defects, per 100 that came there: Aalen–Johansen incidence on each stage's own clock,
 * pieces still there censored, and the mean of the stages, each counted alike.
 *
 * Interval: Wilson's at the independent pieces that tell as much (`clusterShareInterval`); none with fewer than four lots.
 * The trap: rests were not drawn by lot. What differs after them may come of what made the piece wait.
 * Source: as `weightedIncidence`. Checked: tests/seasoning/afterRest.test.ts
 *
 * @param kinds rests that count
 * @param counts whether a defect counts
 * @param steps of `restSteps`, those that count
 */
export function afterRest(
  histories: Pick<Histories, "asOf" | "pieces">,
  {counts, ...rests}: {kinds: readonly RestKind[]; counts: (defect: string) => boolean; steps: readonly RestStep[]}
): AfterRest {
  return afterRests(histories, rests)(counts);
}

/** The same for some defects after others: what became of the pieces is made ready once. */
export function afterRests(
  {asOf, pieces}: Pick<Histories, "asOf" | "pieces">,
  {kinds, steps}: {kinds: readonly RestKind[]; steps: readonly RestStep[]}
): (counts: (defect: string) => boolean) => AfterRest {
  const lots = byLot(pieces);
  const spells = steps.map(({next, kindOf}) =>
    lots.map((lot) =>
      stageSpells(
        lot.filter((piece) => {
          const kind = kindOf(piece);
          return kind !== undefined && kinds.includes(kind);
        }),
        next,
        asOf
      )
    )
  );
  const incidences = spells.map((stage) => weightedIncidence(stage));
  const all = spells.flat(2);
  const decided = all.filter(({cause}) => cause !== undefined).length;
  return (counts) => {
    const isCounted = (cause: string | undefined) => {
      const defect = defectOf(cause ?? "");
      return defect !== undefined && counts(defect);
    };
    const share = (weights: readonly number[], out?: readonly number[]) => {
      const shares = incidences.map((incidence) => {
        const {survival, fraction} = incidence(weights, out);
        const own = Object.entries(fraction).filter(([cause]) => isCounted(cause));
        return survival === 1 ? undefined : sum(own.map(([, part]) => part));
      });
      return shares.length === 0 || shares.includes(undefined) ? undefined : mean(shares as number[]);
    };
    const value = share(lots.map(() => 1));
    const [estimate] = clusterJackknife(lots.length, (weights, out) => [share(weights, out)]);
    const interval = estimate && clusterShareInterval(estimate, decided);
    return {
      pieces: all.length,
      discarded: all.filter(({cause}) => isCounted(cause)).length,
      ...(value !== undefined && {per100: 100 * value}),
      ...(interval && {per100Low: 100 * interval.low, per100High: 100 * interval.high})
    };
  };
}
