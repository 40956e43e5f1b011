import {discardChances} from "./chances.ts";
import {beta, gamma} from "./counts.ts";
import type {Lot} from "./lots.ts";
import {choose, type Random, stream, uniform} from "./random.ts";
import {windows} from "./truthDemand.ts";
import {
  type DefectName,
  defects,
  delay,
  divertChance,
  earlyDiscard,
  hurry,
  offWeight,
  type RestStage,
  restDays,
  restStages
} from "./truthStages.ts";
import {workday} from "./workday.ts";

/** A piece at one stage, from the day it got there to the day it left and how. Days are day numbers. */
export interface Stay {
  stage: RestStage;
  from: number;
  to: number;
  left: "turned" | "discarded" | "diverted";
  defect?: DefectName;
  /** Seen in the rest, not when the piece was taken up. */
  early: boolean;
  /** Turned before its rest was served. */
  hurried: boolean;
}

/** The delay of a lot at each stage, days: its pieces are taken up together, more or less. */
export function lotDelays(lot: Lot): Record<RestStage, number> {
  const random = stream(`delay ${lot.lot}`);
  const days = restStages.map((stage) => [stage, gamma(random, delay.shape, delay.meanDays[stage] * delay.lotShare)]);
  return Object.fromEntries(days) as Record<RestStage, number>;
}

/** What becomes of a square, to the very end: the book is cut off at its last day only later. */
export function path(square: string, lot: Lot, densityAt12: number, delays: Record<RestStage, number>): Stay[] {
  const random = stream(`path ${square}`);
  const stays: Stay[] = [];
  let from = lot.boughtOn;
  let hurried = false;
  for (const stage of restStages) {
    const {left, defect} = outcome(random, lot, stage, hurried, densityAt12);
    const taken = takenUp(random, stage, from, delays[stage]);
    const group = defects.find(({name}) => name === defect)?.group;
    const early = group !== undefined && random() < earlyDiscard.share[group];
    const seen = Math.max(4, restDays[stage] * beta(random, earlyDiscard.a, earlyDiscard.b));
    const to = early ? workday(from + Math.round(seen)) : taken.day;
    hurried = left === "turned" && taken.hurried;
    stays.push({stage, from, to, left, ...(defect && {defect}), early, hurried});
    if (left !== "turned") break;
    from = to;
  }
  return stays;
}

interface Outcome {
  left: Stay["left"];
  defect?: DefectName;
}

function outcome(random: Random, lot: Lot, stage: RestStage, hurried: boolean, densityAt12: number): Outcome {
  const thrown = discardChances({...lot, stage, hurried});
  const diverted = divertChance[stage];
  const kept = 1 - diverted - thrown.reduce((sum, {chance}) => sum + chance, 0);
  const tooFar = stage === "proud-round" && farOutside(lot, densityAt12) ? offWeight.chance : 0;
  const all: (Outcome & {chance: number})[] = [
    ...thrown.map(({defect, chance}) => ({left: "discarded" as const, defect, chance})),
    {left: "diverted", chance: diverted},
    {left: "discarded", defect: "off-weight", chance: kept * tooFar},
    {left: "turned", chance: kept * (1 - tooFar)}
  ];
  return choose(random, all, ({chance}) => chance);
}

function farOutside({species}: Lot, densityAt12: number): boolean {
  const {low, high} = windows[species];
  return densityAt12 < low - offWeight.marginKgM3 || densityAt12 > high + offWeight.marginKgM3;
}

function takenUp(random: Random, stage: RestStage, from: number, lotDelay: number): {day: number; hurried: boolean} {
  const hurried = random() < hurry.share;
  const own = gamma(random, delay.shape, delay.meanDays[stage] * (1 - delay.lotShare));
  const [least, most] = hurry.servedShare;
  const served = restDays[stage] * uniform(random, least, most);
  const day = from + (hurried ? Math.round(served) : Math.ceil(restDays[stage] + lotDelay + own));
  return {day: workday(day), hurried: hurried && workday(day) < from + restDays[stage]};
}
