import {dayText} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import {type LotCounts, lotCounts, type SpellCount, spellCounts} from "../book/spellCounts.ts";
import {byLot, purchaseSpells} from "../book/spells.ts";
import {clusterMeanInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {type EndingTimes, endingTimes} from "../stats/endingTimes.ts";
import type {Spell} from "../stats/eventTable.ts";
import {sum} from "../stats/numbers.ts";

/** The half of the year: winter from October to March, summer from April to September. Common practice, no source. */
export type HalfYear = "winter" | "summer";

/** How long pieces took at one stage, of those that passed on. Days. */
export interface StageTime {
  stage: string;
  /** When they came to the stage. */
  entered: "all year" | HalfYear;
  lots: number;
  passed: number;
  inStage: number;
  quarterDays?: number;
  medianDays?: number;
  medianLow?: number;
  medianHigh?: number;
  threeQuarterDays?: number;
  meanDays?: number;
  meanLow?: number;
  meanHigh?: number;
}

/** How much longer pieces took in winter than in summer, mean days. */
export interface HalfYearDifference {
  winterDays: number;
  summerDays: number;
  moreDays: number;
  moreLow: number;
  moreHigh: number;
  /** Whether the interval leaves out 0. */
  isClear: boolean;
}

/** The half of the year that a day number lies in. */
export function halfYearOf(day: number): HalfYear {
  const month = Number(dayText(day).slice(5, 7));
  return month >= 4 && month <= 9 ? "summer" : "winter";
}

/**
 * The days that pieces really took at each stage before they passed on, by the half year in which they came to it: quartiles, median and mean,
 * with 95 % intervals by lots. Pieces still there count as not passed yet, and a stage passed over (no day spent) tells no time.
 *
 *   G(t) = F(t)/F(∞), F the cumulative incidence of passing on the stage's own clock; see `endingTimes`
 *
 * Trap: pieces that will take longer than any yet followed are not in it.
 * Source: as `endingTimes`. Checked: tests/buying/stageTimes.test.ts; tests/recovery/stageTimes.test.ts, against the days the sample book was made with
 *
 * @returns three rows a stage but the last: all year, winter, summer; without days where none has passed
 */
export function stageTimes(histories: Pick<Histories, "settings" | "asOf">, pieces: readonly Piece[]): StageTime[] {
  return countedStageTimes(histories, spellCounts(pieces));
}

/** The same from counts of squares: the times depend on a book by these alone. */
export function countedStageTimes(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  counts: readonly SpellCount[] | LotCounts
): StageTime[] {
  const lots = lotCounts(counts, asOf);
  return settings.stages.slice(0, -1).flatMap(({name}) =>
    (["all year", "winter", "summer"] as const).map((entered): StageTime => {
      const own = spellsAt(lots, name, entered).filter((spells) => spells.length > 0);
      const times = endingTimes(own, "passed");
      const counts = {
        stage: name,
        entered,
        lots: own.length,
        passed: times?.ended ?? 0,
        inStage: sum(own.flat().map(({cause, count = 1}) => (cause === undefined ? count : 0)))
      };
      if (!times) return counts;
      const median = times.quantileInterval(0.5);
      const mean = times.meanInterval();
      return {
        ...counts,
        quarterDays: times.quantile(0.25),
        medianDays: times.quantile(0.5),
        ...(median && {medianLow: median.low, medianHigh: median.high}),
        threeQuarterDays: times.quantile(0.75),
        meanDays: times.mean,
        ...(mean && {meanLow: mean.low, meanHigh: mean.high})
      };
    })
  );
}

/**
 * Whether pieces that came to a stage in winter took longer there than those of summer: the difference of the mean days, with an interval by
 * lots; a lot that was there in both halves counts in both. One row a stage where four lots or more tell of it; `isClear` where the interval leaves out 0.
 * The intervals hold together in 95 of 100 cases: each is made at the level 1 − 0.05/stages.
 *
 * Source: Bonferroni's inequality; common practice. Checked: tests/buying/stageTimes.test.ts; tests/recovery/stageTimes.test.ts
 */
export function stageHalfYears(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[]
): (HalfYearDifference & {stage: string})[] {
  const lots = lotCounts(spellCounts(pieces), asOf);
  const names = settings.stages.slice(0, -1).map(({name}) => name);
  return names.flatMap((stage) => {
    const difference = halfYearDifference(spellsAt(lots, stage, "winter"), spellsAt(lots, stage, "summer"), "passed", {
      level: 1 - 0.05 / names.length
    });
    return difference ? [{stage, ...difference}] : [];
  });
}

/**
 * The difference of mean days between winter and summer, from spells of the same lots, lot by lot. Mean days of winter less those of summer;
 * limits by Student's law, each lot left out in turn of both halves, with the degrees of freedom of the half with fewer lots.
 *
 * Source: as `clusterJackknife`. Checked: tests/buying/stageTimes.test.ts
 *
 * @returns undefined with fewer than four lots in either half, or when nothing ended so in one of them
 */
export function halfYearDifference(
  winter: readonly (readonly Spell[])[],
  summer: readonly (readonly Spell[])[],
  cause: string,
  {level = 0.95} = {}
): HalfYearDifference | undefined {
  const seen = winter.flatMap((spells, i) => (spells.length + summer[i]!.length > 0 ? [i] : []));
  const ofWinter = endingTimes(
    seen.map((i) => winter[i]!),
    cause
  );
  const ofSummer = endingTimes(
    seen.map((i) => summer[i]!),
    cause
  );
  if (!ofWinter || !ofSummer || ofWinter.clusters < 4 || ofSummer.clusters < 4) return undefined;
  const [estimate] = clusterJackknife(seen.length, (weights, out) => {
    const [a, b] = [ofWinter.meanOf(weights, out), ofSummer.meanOf(weights, out)];
    return [a === undefined || b === undefined ? undefined : a - b];
  });
  if (!estimate) return undefined;
  const clusters = Math.min(ofWinter.clusters, ofSummer.clusters);
  const {low, high} = clusterMeanInterval({...estimate, clusters}, {level});
  return {
    winterDays: ofWinter.mean,
    summerDays: ofSummer.mean,
    moreDays: estimate.estimate,
    moreLow: low,
    moreHigh: high,
    isClear: low > 0 || high < 0
  };
}

/** When squares bought on one day pass a stage: days from purchase, of those that pass it. */
export interface PassTime {
  /** The stage they are turned to. */
  stage: string;
  /** Share of all squares bought that get so far, fraction of 1. */
  reachFraction: number;
  times: EndingTimes;
}

/**
 * The days from purchase to each turning, of the squares that come to it, and how many do. A turning is counted with pieces still before it
 * taken as not decided.
 *
 *   F_k(t) share of squares turned to stage k within t days of purchase, by Aalen–Johansen against every end before it
 *
 * Source: as `endingTimes`. Checked: tests/buying/stageTimes.test.ts
 *
 * @returns one row for each stage after the first, as far as any piece has come
 */
export function passTimes(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[]
): PassTime[] {
  const lots = byLot(pieces);
  return settings.stages.slice(1).flatMap(({name: stage}) => {
    const spells = lots.map((lot) =>
      lot.flatMap((piece): Spell[] => {
        const reached = piece.stays.find((stay) => stay.stage === stage)?.from;
        return reached === undefined
          ? purchaseSpells([piece], asOf)
          : [{exit: reached - piece.boughtOn, cause: "turned"}];
      })
    );
    const times = endingTimes(spells, "turned");
    return times ? [{stage, reachFraction: times.endShare, times}] : [];
  });
}

/** Spells at a stage of those that came to it in a part of the year, without stages passed over. */
function spellsAt(lots: LotCounts, stage: string, entered: StageTime["entered"]): Spell[][] {
  return lots.rows(stage).map((rows) => {
    const own = rows.filter(({from}) => entered === "all year" || halfYearOf(from) === entered);
    return lots.spellsOf(own).filter(({exit, cause}) => !(exit === 0 && cause === "passed"));
  });
}
