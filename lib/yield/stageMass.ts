import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {check} from "../check.ts";
import {fewestClusters} from "../stats/clusterJackknife.ts";
import {deviation} from "../stats/deviation.ts";
import {studentFactor} from "../stats/interval.ts";
import {mean} from "../stats/mean.ts";

/** What pieces of one species weigh at one stage for the density they came in with. */
export interface StageMass {
  species: string;
  stage: string;
  pieces: number;
  lots: number;
  /** Mean of mass ÷ density at 12 %, cm³: the volume that a piece would have to have. */
  ratioCm3: number;
  /** Standard deviation of that ratio between pieces, over its mean; fraction of 1. */
  scatterFraction: number;
  /** Mean of the moisture read at the stage, % of oven-dry mass; absent where none was. */
  moisturePct?: number;
}

/**
 * What a piece weighs at each stage for its density at 12 % as it came in, species by species: its first mass at the stage over that density,
 * with the scatter of single pieces.
 *
 *   mass = r · ρ₁₂        r mean of mass ÷ ρ₁₂ over pieces weighed at the stage
 *
 * Range: stages at which two pieces or more were weighed. The trap: r holds for the diameters of now; after a change of the pattern it is wrong until
 * enough pieces of the new one were weighed. Checked: tests/yield/stageMass.test.ts, against what the sample book's later pieces came to weigh
 */
export function stageMass({settings, pieces}: Pick<Histories, "settings" | "pieces">): StageMass[] {
  return [...groupBy(pieces, ({species}) => species)].sort().flatMap(([species, own]) =>
    settings.stages.flatMap(({name: stage}): StageMass[] => {
      const weighed = own.flatMap(({lot, densityAt12KgM3, intake, measurements}) => {
        const first =
          stage === settings.stages[0]!.name
            ? intake.massG
            : measurements.find((one) => one.stage === stage && one.massG !== undefined)?.massG;
        return first === undefined ? [] : [{lot, ratio: (1000 * first) / densityAt12KgM3}];
      });
      const ratios = weighed.map(({ratio}) => ratio);
      const sd = deviation(ratios);
      if (sd === undefined) return [];
      const ratioCm3 = mean(ratios)!;
      const moisturePct = mean(
        own.flatMap(({intake, measurements}) =>
          stage === settings.stages[0]!.name
            ? [intake.moisturePct]
            : (measurements.find((one) => one.stage === stage && one.moisturePct !== undefined)?.moisturePct ?? [])
        )
      );
      return [
        {
          species,
          stage,
          pieces: ratios.length,
          lots: new Set(weighed.map(({lot}) => lot)).size,
          ratioCm3,
          scatterFraction: sd / ratioCm3,
          ...(moisturePct !== undefined && {moisturePct})
        }
      ];
    })
  );
}

/**
 * What a piece of this density will weigh at the stage, g, and between which weights it will lie in 95 of 100 cases (prediction interval):
 *
 *   m = r · ρ₁₂ · (1 ∓ t · s · √(1 + 1/n))        s scatter as a fraction, n pieces, t of Student's law with lots − 1 degrees of freedom, as lots are what
 *                                                scatters independently
 *
 * Checked: tests/yield/stageMass.test.ts
 *
 * @returns no range with fewer than four lots
 * @throws RangeError unless densityAt12KgM3 is positive
 */
export function predictedMass(
  {pieces, lots, ratioCm3, scatterFraction}: StageMass,
  densityAt12KgM3: number,
  {level = 0.95} = {}
): {massG: number; lowG?: number; highG?: number} {
  const isDensity = densityAt12KgM3 > 0 && densityAt12KgM3 < Infinity;
  check(isDensity, "predictedMass: densityAt12KgM3", "positive", densityAt12KgM3);
  const massG = (ratioCm3 * densityAt12KgM3) / 1000;
  if (lots < fewestClusters) return {massG};
  const t = studentFactor(level, lots - 1, "predictedMass");
  const half = massG * t * scatterFraction * Math.sqrt(1 + 1 / pieces);
  return {massG, lowG: massG - half, highG: massG + half};
}
