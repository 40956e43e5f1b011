import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {check} from "../check.ts";
import {fewestClusters} from "../stats/clusterJackknife.ts";
import {deviation} from "../stats/deviation.ts";
import {studentFactor} from "../stats/interval.ts";
import {mean} from "../stats/mean.ts";
import {sum} from "../stats/numbers.ts";
import {squaresBetween, squaresWithin} from "../stats/varianceComponents.ts";

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
  /** Standard deviation of a further piece of a further lot about the mean, the doubt about the mean in it, over the mean; fraction of 1. */
  predictionFraction: number;
  /** Degrees of freedom with which that is known. */
  freedom: number;
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
          ...prediction(
            [...groupBy(weighed, ({lot}) => lot).values()].map((some) => some.map(({ratio}) => ratio)),
            sd
          ),
          ...(moisturePct !== undefined && {moisturePct})
        }
      ];
    })
  );
}

/**
 * What a piece of this density will weigh at the stage, g, and between which weights it will lie in 95 of 100 cases (prediction interval):
 *
 *   m = r · ρ₁₂ · (1 ∓ t · √V/r)
 *   V = σ_b² (1 + Σ nᵢ²/n²) + σ_w² (1 + 1/n)        σ_b² between lots, σ_w² within a lot (`varianceComponents`), nᵢ pieces of lot i, n of all
 *
 * t of Student's law with the degrees of freedom of V, which is a sum of mean squares: Satterthwaite (1946), Biometrics Bulletin 2:110–114 (from
 * memory). Where lots do not differ beyond their pieces, V = s² (1 + 1/n) with n − 1.
 *
 * Checked: tests/yield/stageMass.test.ts
 *
 * @returns no range with fewer than four lots
 * @throws RangeError unless densityAt12KgM3 is positive
 */
export function predictedMass(
  {lots, ratioCm3, predictionFraction, freedom}: StageMass,
  densityAt12KgM3: number,
  {level = 0.95} = {}
): {massG: number; lowG?: number; highG?: number} {
  const isDensity = densityAt12KgM3 > 0 && densityAt12KgM3 < Infinity;
  check(isDensity, "predictedMass: densityAt12KgM3", "positive", densityAt12KgM3);
  const massG = (ratioCm3 * densityAt12KgM3) / 1000;
  if (lots < fewestClusters) return {massG};
  const half = massG * studentFactor(level, freedom, "predictedMass") * predictionFraction;
  return {massG, lowG: massG - half, highG: massG + half};
}

/** How far a further piece of a further lot may lie from the mean, over it, and the degrees of freedom of that; lots with their values. */
function prediction(lots: readonly (readonly number[])[], sd: number): {predictionFraction: number; freedom: number} {
  const all = lots.flat();
  const [center, n, k] = [mean(all)!, all.length, lots.length];
  const alike = {predictionFraction: (sd * Math.sqrt(1 + 1 / n)) / center, freedom: n - 1};
  if (k < 2 || n === k) return alike;
  const [between, within] = [squaresBetween(lots) / (k - 1), squaresWithin(lots) / (n - k)];
  if (between <= within) return alike;
  const squares = sum(lots.map((lot) => lot.length ** 2));
  const size = (n - squares / n) / (k - 1);
  const ofLots = (between * (1 + squares / n ** 2)) / size;
  const ofPieces = within * (1 + 1 / n - (1 + squares / n ** 2) / size);
  const variance = ofLots + ofPieces;
  return {
    predictionFraction: Math.sqrt(variance) / center,
    freedom: variance ** 2 / (ofLots ** 2 / (k - 1) + ofPieces ** 2 / (n - k))
  };
}
