import type {Histories} from "../book/histories.ts";
import type {Reading} from "../book/records.ts";
import {groupBy} from "../book/spells.ts";
import {clusterMeanInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {mean} from "../stats/mean.ts";
import {least, sum} from "../stats/numbers.ts";
import type {MeterOffset} from "./dryingTimes.ts";
import {weighedRests} from "./moistureLosses.ts";
import {smoothedCourse} from "./smoothedCourse.ts";
import {storeCourse} from "./storeMoisture.ts";

/** What the rests at a stage took off the moisture of the pieces, and how far from the store's they ended. */
export interface RestMoisture {
  species: string;
  stage: string;
  lots: number;
  /** Weighed at the beginning and at the end of the rest. */
  pieces: number;
  /** Points of moisture lost, mean, with 95 % limits by lots. */
  lossPct: number;
  lossLow?: number;
  lossHigh?: number;
  /** Points above what the store tended to at the beginning and at the end, means, the end with 95 % limits by lots; absent where the store is not known. */
  startGapPct?: number;
  endGapPct?: number;
  endGapLow?: number;
  endGapHigh?: number;
}

/**
 * Moisture lost in each rest by species and stage, with limits for the mean, and how far above the store's equilibrium the pieces began and ended, points of
 * moisture: by the readings (`weighedRests`), less what the meter reads above the store's equation (`offsets` of `dryingTimes`), less what the store tended to on
 * the day (`smoothedCourse`).
 *
 * Interval: from how lots differ, `clusterMeanInterval`; none with fewer than four lots. `moistureLosses` tells how pieces scatter.
 * Error: the gap as `equilibriumMoisture`, ±1 point by species, where no offset is known.
 * Source: as `moistureLosses`. Checked: tests/seasoning/restMoisture.test.ts
 *
 * @returns a row for each species and stage at which a piece was weighed twice
 */
export function restMoisture(
  {settings, asOf, pieces}: Pick<Histories, "settings" | "asOf" | "pieces">,
  climate: readonly Reading[],
  {offsets}: {offsets: readonly MeterOffset[]}
): RestMoisture[] {
  const first = least(
    pieces.map(({measurements, boughtOn}) => measurements[0]?.day ?? boughtOn),
    asOf
  );
  const store = smoothedCourse(storeCourse(climate, {settings, from: first, to: asOf}));
  return [...groupBy(pieces, ({species}) => species)].sort().flatMap(([species, own]) => {
    const offset = offsets.find((one) => one.species === species)?.offsetPct ?? 0;
    const lots = [...groupBy(own, ({lot}) => lot).values()].map((lot) => lot.flatMap((piece) => weighedRests(piece)));
    const gap = (pct: number, day: number) => {
      const tendsTo = store[day - first];
      return tendsTo === undefined ? [] : [pct - offset - tendsTo];
    };
    return settings.stages.slice(0, -1).flatMap(({name: stage}): RestMoisture[] => {
      const rests = lots.map((lot) => lot.filter((rest) => rest.stage === stage)).filter((lot) => lot.length > 0);
      const all = rests.flat();
      if (all.length === 0) return [];
      const lost = rests.map((lot) => lot.map(({startPct, endPct}) => startPct - endPct));
      const left = rests.map((lot) => lot.flatMap(({endPct, to}) => gap(endPct, to)));
      const startGapPct = mean(all.flatMap(({startPct, from}) => gap(startPct, from)));
      const endGapPct = mean(left.flat());
      const [ofLost, ofLeft] = [lost, left].map(meanOfLots);
      const [loss, end] = clusterJackknife(rests.length, (weights) => [ofLost!(weights), ofLeft!(weights)]).map(
        (one) => one && clusterMeanInterval(one)
      );
      return [
        {
          species,
          stage,
          lots: rests.length,
          pieces: all.length,
          lossPct: mean(lost.flat())!,
          ...(loss && {lossLow: loss.low, lossHigh: loss.high}),
          ...(startGapPct !== undefined && {startGapPct}),
          ...(endGapPct !== undefined && {endGapPct}),
          ...(end && {endGapLow: end.low, endGapHigh: end.high})
        }
      ];
    });
  });
}

/** The mean of all numbers when lot i counts weights[i] times: each lot is added up once. */
function meanOfLots(lots: readonly (readonly number[])[]): (weights: readonly number[]) => number | undefined {
  const totals = lots.map((own) => ({n: own.length, total: sum(own)}));
  return (weights) => {
    const n = sum(totals.map((own, i) => weights[i]! * own.n));
    return n === 0 ? undefined : sum(totals.map((own, i) => weights[i]! * own.total)) / n;
  };
}
