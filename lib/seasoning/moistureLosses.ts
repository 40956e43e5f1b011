import type {Histories, Piece} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {deviation} from "../stats/deviation.ts";
import {mean} from "../stats/mean.ts";
import {quantile} from "../stats/quantile.ts";
import {ovenDryMass} from "../wood/moisture.ts";
import {daysBeforeCut} from "./pieceMoisture.ts";

/** What a rest at one stage does to the pieces that have served it. */
export interface MoistureLoss {
  species: string;
  stage: string;
  /** Pieces weighed at the beginning and at the end of the rest. */
  pieces: number;
  /** Days from the first weighing at the stage to the last: median. */
  restDays?: number;
  /** Moisture content at the beginning and at the end, % of oven-dry mass: means. */
  startPct?: number;
  endPct?: number;
  /** Points of moisture lost: mean, with 95 % of pieces between low and high. */
  lossPct?: number;
  lossLow?: number;
  lossHigh?: number;
  /** Mass lost as water in the rest, and taken off by the turning that ended it, g: means. */
  waterG?: number;
  turnedOffG?: number;
}

/**
 * Moisture lost at each rest and mass taken off by each turning, kept apart.
 *
 * A weighing at the beginning of the rest (m₁, with its moisture M₁ from the meter or carried over by mass) and the last one before the next
 * cut (m₂) have the same dry wood, so
 *
 *   water = m₁ − m₂    M₂ = (1 + M₁) · m₂ / m₁ − 1    turned off = m₂ − m after the cut
 *
 * Mass resolves the loss some ten times better than the meter, whose error only shifts both ends. Pieces weighed once at a stage are left out.
 * Source: oven-dry method, M = (m − m₀)/m₀. Checked: tests/seasoning/moistureLosses.test.ts, tests/reference (moisture)
 */
export function moistureLosses({settings, pieces}: Pick<Histories, "settings" | "pieces">): MoistureLoss[] {
  const stages = settings.stages.slice(0, -1).map(({name}) => name);
  return [...groupBy(pieces, ({species}) => species)].sort().flatMap(([species, own]) => {
    const tracks = own.map((piece) => weighedRests(piece));
    return stages.map((stage) => {
      const rests = tracks.flatMap((track) => track.filter((rest) => rest.stage === stage));
      const losses = rests.map(({startPct, endPct}) => startPct - endPct);
      const cuts = rests.flatMap(({turnedOffG}) => (turnedOffG === undefined ? [] : [turnedOffG]));
      const figures = {
        restDays: quantile(
          rests.map(({days}) => days),
          0.5
        ),
        startPct: mean(rests.map(({startPct}) => startPct)),
        endPct: mean(rests.map(({endPct}) => endPct)),
        lossPct: mean(losses),
        ...(deviation(losses) !== undefined && {lossLow: quantile(losses, 0.025), lossHigh: quantile(losses, 0.975)}),
        waterG: mean(rests.map(({waterG}) => waterG)),
        turnedOffG: mean(cuts)
      };
      const known = Object.fromEntries(Object.entries(figures).filter(([, value]) => value !== undefined));
      return {species, stage, pieces: rests.length, ...known};
    });
  });
}

/** A rest that was weighed at both ends. */
export interface WeighedRest {
  stage: string;
  /** First and last weighing, day numbers. */
  from: number;
  to: number;
  days: number;
  startPct: number;
  endPct: number;
  waterG: number;
  turnedOffG?: number;
}

/**
 * The rests of a piece that were weighed at both ends; moisture is carried from one to the next by mass where the meter was not used, and the piece was
 * weighed at the end of the rest: not over days in which it dried unweighed. A rest after
 * which it weighs less than its dry wood is none: a turning in it was not entered.
 */
export function weighedRests(piece: Piece): WeighedRest[] {
  const rests: WeighedRest[] = [];
  const weighings = piece.measurements.filter(({massG}) => massG !== undefined);
  let carriedPct: number | undefined;
  for (const {stage, to: left} of piece.stays) {
    const here = weighings.filter((one) => one.stage === stage);
    const [first, last] = [here[0], here.at(-1)];
    const startPct = first?.moisturePct ?? carriedPct;
    carriedPct = undefined;
    if (!first || !last || startPct === undefined) continue;
    const dryG = ovenDryMass({massG: first.massG!, moisturePct: startPct});
    const endPct = 100 * (last.massG! / dryG - 1);
    // Lighter than its dry wood: wood was taken off without a word, and its weight says nothing of its water.
    if (endPct < 0) continue;
    // What it went on to lose unweighed nobody knows.
    if (left !== undefined && left - last.day <= daysBeforeCut) carriedPct = endPct;
    if (first === last) continue;
    const next = weighings.find((one) => one.turned && one.day >= last.day && one.stage !== stage);
    rests.push({
      stage,
      from: first.day,
      to: last.day,
      days: last.day - first.day,
      startPct,
      endPct,
      waterG: first.massG! - last.massG!,
      ...(next && next.day - last.day <= daysBeforeCut && {turnedOffG: last.massG! - next.massG!})
    });
  }
  return rests;
}
