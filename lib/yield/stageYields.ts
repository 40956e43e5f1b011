import type {Histories, Piece} from "../book/histories.ts";
import {byLot, stageSpells} from "../book/spells.ts";
import {aalenJohansen} from "../stats/aalenJohansen.ts";
import type {Interval} from "../stats/interval.ts";
import {fewestClusters, lotIntervals, type Resampling} from "../stats/lotInterval.ts";
import {weightedIncidence} from "../stats/weightedIncidence.ts";
import {wilson} from "../stats/wilson.ts";

/** What becomes of the pieces that reach one stage. Fractions of 1. */
export interface StageYield {
  stage: string;
  lots: number;
  entered: number;
  passed: number;
  discarded: number;
  diverted: number;
  inStage: number;
  /** Share that passes on, once all is decided. */
  yieldFraction?: number;
  yieldLow?: number;
  yieldHigh?: number;
  /** Share of which the data do not yet say what becomes. */
  undecidedFraction?: number;
  method: "lots resampled" | "Wilson on decided pieces" | "too few to say";
}

export interface StageYields {
  stages: StageYield[];
  /** From square to finished shaft: the product of the stage yields. */
  rolledFraction?: number;
  rolledLow?: number;
  rolledHigh?: number;
}

/**
 * Yield of every stage and of all together, fractions of 1, with pieces still at a stage taken for what they are: not decided.
 *
 *   stage yield = Aalen–Johansen cumulative incidence of "passed" on the stage's own clock, against discard by defect and diversion
 *   rolled yield = ∏ stage yields
 *
 * Finished ÷ started mixes different squares, finished so far ÷ bought counts every resting piece as lost, and passed ÷ decided
 * is too low when faults show before a rest is over: none of them is used.
 *
 * Interval: whole lots resampled (percentiles); where fewer than six lots have reached the stage Wilson for the yield as a share of the
 * decided pieces, and then none for the rolled yield. The upper limit leaves room for all that is undecided to pass, so that early discards
 * alone do not make a poor yield.
 * Source: Aalen & Johansen (1978), Scand. J. Statist. 5:141–150.
 * Checked: tests/reference/pipelineSixty.test.ts (R survival), tests/yield/stageYields.test.ts
 *
 * @param pieces those to look at, e.g. of one species
 * @param since look only at what happened from this day number on
 */
export function stageYields(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[],
  {since = Number.NEGATIVE_INFINITY, ...resampling}: Resampling & {since?: number}
): StageYields {
  const lots = byLot(pieces);
  const steps = settings.stages.slice(0, -1).map(({name}) => {
    const spells = lots.map((lot) => stageSpells(lot, name, asOf, since));
    return {stage: name, spells, passing: weightedIncidence(spells)};
  });
  const limits = lotIntervals(
    lots.length,
    (weights) => {
      const drawn = steps.map(({passing}) => {
        const {survival, fraction} = passing(weights);
        // Survival 1: none of the lots drawn has decided anything at this stage, which is not a yield of 0.
        return survival === 1 ? undefined : {least: fraction.passed ?? 0, most: (fraction.passed ?? 0) + survival};
      });
      const [least, most] = [drawn.map((one) => one?.least), drawn.map((one) => one?.most)];
      return [...least, product(least), ...most, product(most)];
    },
    resampling
  );
  /** From the lowest that a stage, or all together as the last index, may yield to the highest. */
  const resampledAt = (index: number): Interval | undefined => {
    const [least, most] = [limits[index], limits[steps.length + 1 + index]];
    return least && most && {low: least.low, high: Math.min(1, most.high)};
  };
  const stages = steps.map(({stage, spells}, index) => {
    const all = spells.flat();
    const count = (test: (cause: string | undefined) => boolean) => all.filter(({cause}) => test(cause)).length;
    const passed = count((cause) => cause === "passed");
    const diverted = count((cause) => cause === "diverted");
    const inStage = count((cause) => cause === undefined);
    const decided = all.length - inStage;
    const curve = aalenJohansen(all);
    const known = decided > 0;
    const yieldFraction = Math.min(1, curve.incidence.passed?.fraction.at(-1) ?? 0); // the sum can come to 1 + 2e-16
    const undecidedFraction = curve.survival.at(-1) ?? 1;
    const ofLots = spells.filter((lot) => lot.length > 0).length;
    const resampled = known && ofLots >= fewestClusters ? resampledAt(index) : undefined;
    const single = known ? wilson(Math.round(yieldFraction * decided), decided)! : undefined;
    const interval =
      resampled ?? (single && {...single, high: Math.max(single.high, yieldFraction + undecidedFraction)});
    return {
      stage,
      lots: ofLots,
      entered: all.length,
      passed,
      discarded: decided - passed - diverted,
      diverted,
      inStage,
      ...(known && {yieldFraction, undecidedFraction}),
      ...named("yield", interval),
      method: resampled ? "lots resampled" : known ? "Wilson on decided pieces" : "too few to say"
    } as StageYield;
  });
  const rolled = product(stages.map(({yieldFraction}) => yieldFraction));
  if (rolled === undefined) return {stages};
  const enough = stages.every(({lots: ofLots}) => ofLots >= fewestClusters);
  return {stages, rolledFraction: rolled, ...named("rolled", enough ? resampledAt(steps.length) : undefined)};
}

/** An interval as two fields of a flat row. */
function named(name: string, interval: Interval | undefined): Record<string, number> {
  return interval ? {[`${name}Low`]: interval.low, [`${name}High`]: interval.high} : {};
}

/** Product, undefined as soon as a factor is. */
function product(factors: readonly (number | undefined)[]): number | undefined {
  return factors.reduce<number | undefined>((a, b) => (a === undefined || b === undefined ? undefined : a * b), 1);
}
