import {discardChances} from "./chances.ts";
import type {SpeciesName, SupplierTruth} from "./truth.ts";
import {
  type DefectName,
  divertChance,
  hurry,
  lotLogitSd,
  offWeight,
  type RestStage,
  restStages
} from "./truthStages.ts";
import {shareInWindow} from "./window.ts";

/** What is to be expected of squares of one kind, per square bought, when all of them are followed to the end. */
export interface Expected {
  /** Share of the squares bought that reach each stage. */
  reached: Record<RestStage, number>;
  passed: Record<RestStage, number>;
  diverted: Record<RestStage, number>;
  discarded: Record<RestStage, Partial<Record<DefectName, number>>>;
}

export interface Kind {
  supplier: SupplierTruth;
  species: SpeciesName;
  worse: boolean;
}

/** Expectation over the luck of lots, by the trapezium rule over ±6 SD; over haste and density it is exact. */
export function expected(kind: Kind): Expected {
  const steps = Array.from({length: 241}, (_, i) => -6 + i / 20);
  const weights = steps.map((z) => Math.exp((-z * z) / 2));
  const sum = weights.reduce((a, b) => a + b, 0);
  const parts = steps.map((z, i) => ({share: weights[i]! / sum, ...ofLuck(kind, z * lotLogitSd)}));
  const mean = (of: (part: Expected) => number) => parts.reduce((total, part) => total + part.share * of(part), 0);
  const byStage = <T>(of: (stage: RestStage) => T) =>
    Object.fromEntries(restStages.map((stage) => [stage, of(stage)])) as Record<RestStage, T>;
  const defectsAt = (stage: RestStage) => Object.keys(parts[0]!.discarded[stage]) as DefectName[];
  return {
    reached: byStage((stage) => mean((part) => part.reached[stage])),
    passed: byStage((stage) => mean((part) => part.passed[stage])),
    diverted: byStage((stage) => mean((part) => part.diverted[stage])),
    discarded: byStage((stage) =>
      Object.fromEntries(defectsAt(stage).map((defect) => [defect, mean((part) => part.discarded[stage][defect]!)]))
    )
  };
}

function ofLuck(kind: Kind, logitShift: number): Expected {
  const result = {reached: {}, passed: {}, diverted: {}, discarded: {}} as Expected;
  let reached = 1;
  for (const stage of restStages) {
    const calm = discardChances({...kind, stage, logitShift, hurried: false});
    const rash = discardChances({...kind, stage, logitShift, hurried: true});
    const share = stage === "square" ? 0 : hurry.share;
    const chances = calm.map(({defect, chance}, i) => ({
      defect,
      chance: (1 - share) * chance + share * rash[i]!.chance
    }));
    const kept = 1 - divertChance[stage] - chances.reduce((sum, {chance}) => sum + chance, 0);
    const tooFar = stage === "proud-round" ? kept * offWeight.chance * farOutside(kind) : 0;
    result.reached[stage] = reached;
    result.diverted[stage] = reached * divertChance[stage];
    result.discarded[stage] = Object.fromEntries([
      ...chances.map(({defect, chance}) => [defect, reached * chance]),
      ...(tooFar > 0 ? [["off-weight", reached * tooFar]] : [])
    ]);
    reached *= kept - tooFar;
    result.passed[stage] = reached;
  }
  return result;
}

function farOutside({supplier, species}: Kind): number {
  return 1 - shareInWindow(species, supplier.density[species]!, offWeight.marginKgM3);
}
