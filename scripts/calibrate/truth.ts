/** What one supplier's timber is like. */
export interface SupplierTruth {
  name: string;
  /** Share of the lots bought there. */
  share: number;
  price: number;
  carriage: number;
  /** Added to the logit of every discard chance: 0 is the workshop's own chances, above it worse. */
  shift: number;
  /** Density at 12 %, kg/m³. */
  density: {mean: number; sdBetween: number; sdWithin: number};
}

/** What one stage does to the pieces that reach it. */
export interface StageTruth {
  /** Mean days at the stage. */
  days: number;
  discarded: number;
  diverted: number;
  /** Which defect a discard here is for: shares that add up to 1. */
  defects: Record<string, number>;
}

/** All that a simulated workshop is drawn from. */
export interface Truth {
  months: number;
  /** Lots in the first month, on average. */
  lotsPerMonth: number;
  /** Of the lots, a month. */
  growth: number;
  squaresPerLot: number;
  stages: readonly StageTruth[];
  /** Whether a discard is seen part-way through the rest, or only at its end. */
  early: boolean;
  /** Standard deviation of a lot's luck, on the logit of its discard chances. */
  lotSd: number;
  suppliers: readonly SupplierTruth[];
  /** A supplier whose lots lose more at the first stage from a month on: added to the logit there. */
  worse?: {supplier: string; fromMonth: number; shift: number};
  /** Orders of one shaft: in a month on average at the beginning, change a year, swing over the year, negative binomial size. */
  demand: {perMonth: number; growth: number; season: number; size: number};
}

/** What may happen to a piece of a lot at a stage: chances that, with passing on, add up to 1. */
export function stageChances(
  {stages, worse}: Truth,
  {name, shift}: SupplierTruth,
  stage: number,
  {u, month}: {u: number; month: number}
): {discarded: number; diverted: number; passed: number} {
  const {discarded: usual, diverted: aside} = stages[stage]!;
  const turned = worse && worse.supplier === name && stage === 0 && month >= worse.fromMonth ? worse.shift : 0;
  const odds = (usual / (1 - usual)) * Math.exp(shift + u + turned);
  const discarded = odds / (1 + odds);
  const diverted = aside * (1 - discarded);
  return {discarded, diverted, passed: 1 - discarded - diverted};
}

/** Mean of a function of a lot's luck, by the midpoint rule on ± 6 standard deviations. */
export function overLuck(lotSd: number, f: (u: number) => number): number {
  if (lotSd === 0) return f(0);
  const steps = 400;
  let [total, weight] = [0, 0];
  for (let i = 0; i < steps; i++) {
    const z = -6 + (12 * (i + 0.5)) / steps;
    const w = Math.exp((-z * z) / 2);
    total += w * f(lotSd * z);
    weight += w;
  }
  return total / weight;
}

/** What becomes of the squares of some suppliers, all decided: fractions of 1 of those bought. */
export interface TrueShares {
  /** Share that reaches each stage, and last the share finished. */
  reached: number[];
  /** Share discarded for each defect at each stage. */
  discarded: Record<string, number>[];
  diverted: number[];
}

/** The true shares of lots still to come, at the chances of a month, of all suppliers by their shares or of one. */
export function trueShares(truth: Truth, {month = 0, supplier}: {month?: number; supplier?: string} = {}): TrueShares {
  const among = truth.suppliers.filter(({name}) => supplier === undefined || name === supplier);
  const total = among.reduce((sum, {share}) => sum + share, 0);
  const mean = (f: (one: SupplierTruth, u: number) => number) =>
    among.reduce((sum, one) => sum + (one.share / total) * overLuck(truth.lotSd, (u) => f(one, u)), 0);
  const passedBefore = (one: SupplierTruth, u: number, stage: number) => {
    let share = 1;
    for (let k = 0; k < stage; k++) share *= stageChances(truth, one, k, {u, month}).passed;
    return share;
  };
  const at = truth.stages.map((_, k) => k);
  return {
    reached: [...at, at.length].map((k) => mean((one, u) => passedBefore(one, u, k))),
    discarded: at.map((k) => {
      const share = mean((one, u) => passedBefore(one, u, k) * stageChances(truth, one, k, {u, month}).discarded);
      return Object.fromEntries(
        Object.entries(truth.stages[k]!.defects).map(([defect, part]) => [defect, part * share])
      );
    }),
    diverted: at.map((k) =>
      mean((one, u) => passedBefore(one, u, k) * stageChances(truth, one, k, {u, month}).diverted)
    )
  };
}

/** Shafts ordered in a month, on average. */
export function meanOrders({demand}: Truth, month: number): number {
  const season = 1 + demand.season * Math.cos((2 * Math.PI * month) / 12);
  return demand.perMonth * (1 + demand.growth) ** (month / 12) * season;
}
