import {type SupplierTruth, turnForTheWorse} from "./truth.ts";
import {type DefectName, defects, discardChance, hurry, type RestStage} from "./truthStages.ts";

export interface Circumstances {
  supplier: SupplierTruth;
  /** Bought after the supplier got worse. */
  worse: boolean;
  stage: RestStage;
  /** The luck of the lot, added to the logit of the chance of a discard. */
  logitShift: number;
  /** Turned to this stage before the rest of the last one was served. */
  hurried: boolean;
}

/** The true chance of each discard at a stage, but for weight. */
export function discardChances(at: Circumstances): {defect: DefectName; chance: number}[] {
  const middling = defects.flatMap(({name, group}) => {
    const chance = discardChance[at.stage][name];
    if (chance === undefined) return [];
    const turnedBad = at.worse && (turnForTheWorse.stages as readonly string[]).includes(at.stage);
    const factor =
      (at.supplier.discardFactor[group] ?? 1) *
      (turnedBad ? turnForTheWorse.factor : 1) *
      (at.hurried && name === "warp" ? hurry.warpFactor : 1);
    return [{defect: name, chance: chance * factor}];
  });
  const total = middling.reduce((sum, {chance}) => sum + chance, 0);
  const shifted = 1 / (1 + ((1 - total) / total) * Math.exp(-at.logitShift));
  return middling.map(({defect, chance}) => ({defect, chance: (chance * shifted) / total}));
}
