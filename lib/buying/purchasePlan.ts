import {check} from "../check.ts";
import {betaBinomialPmf} from "../stats/betaBinomial.ts";
import {convolve} from "../stats/convolve.ts";
import {negativeBinomialPmf} from "../stats/negativeBinomial.ts";
import {type DemandCurve, demandCurve, type PlanMoney, type PlanOutcome, planOutcome} from "./planOutcome.ts";

/** A number of pieces whose share that becomes usable is uncertain: usable count ~ beta-binomial(n, alpha, beta). */
export interface UncertainPieces {
  n: number;
  alpha: number;
  beta: number;
}

/** Squares that can be bought: the usable share of a lot ~ Beta(alpha, beta), and what one costs with the work on it. */
export interface Offer {
  supplier: string;
  alpha: number;
  beta: number;
  unitCost: number;
  /** Fewest worth a visit; none or at least so many are bought. */
  minimum?: number;
  /** Most that can be had. */
  available?: number;
}

export interface PlanInput {
  /** Finished shafts on the rack that fit. */
  finished: number;
  pipeline: readonly UncertainPieces[];
  /** Shafts wanted: `known` for certain (open orders) and a negative binomial number beside; without `size` Poisson. */
  demand: {mean: number; size?: number; known?: number};
  offers: readonly Offer[];
  money: PlanMoney;
  /** Most squares looked at, of one supplier. */
  upTo?: number;
  /** Most money for squares. */
  budget?: number;
}

/** The best way to buy a number of squares, and what to expect of it. */
export interface PlanRow extends PlanOutcome {
  squares: number;
  cost: number;
  orders: {supplier: string; squares: number}[];
}

export interface PurchasePlan {
  /** One row for each number of squares: the best split over at most two suppliers. */
  curve: PlanRow[];
  best: PlanRow;
  /** The numbers of squares whose profit is within 1 % of the best. */
  band: {from: number; to: number};
  /** The smallest number with the wanted chance that every order can be served, undefined when none reaches it. */
  forService?: number;
  serviceGoal: number;
}

/**
 * How many squares to buy, and of whom: the expected profit of every number, by exact convolution; no random numbers.
 *
 *   S(Q) = finished + Σ pipeline + U₁(q₁) + U₂(q₂)       each a beta-binomial, all independent
 *   profit(Q) = p E min(D, S) + v E (S − D)⁺ − s E (D − S)⁺ − Σ cᵢ qᵢ
 *
 * At most two suppliers share a purchase; for each total the best split is kept. A split pays because lots fail independently.
 * Range: a leftover must be worth less than a usable square costs, else there is no best number (refused).
 * Checked: tests/reference/purchasePlan.test.ts (R by full enumeration, and exact fractions)
 *
 * @throws RangeError when leftovers are worth more than they cost, or no offer is given
 */
export function purchasePlan(input: PlanInput, {serviceGoal = 0.9} = {}): PurchasePlan {
  const {finished, pipeline, offers, money, budget = Number.POSITIVE_INFINITY} = input;
  check(offers.length > 0, "purchasePlan: offers", "at least one supplier", "none");
  check(Number.isInteger(finished) && finished >= 0, "purchasePlan: finished", "a count", finished);
  for (const {supplier, alpha, beta, unitCost} of offers) {
    const cost = (unitCost * (alpha + beta)) / alpha;
    check(
      money.leftoverValue < cost,
      "purchasePlan: leftoverValue",
      `less than the ${cost.toFixed(2)} a usable shaft from ${supplier} costs`,
      money.leftoverValue
    );
  }
  const limits = offers.map(({available = input.upTo ?? 100}) => Math.min(available, input.upTo ?? available));
  const stock = pipeline.reduce(
    (sum, {n, alpha, beta}) => convolve(sum, betaBinomialPmf(n, alpha, beta)),
    shifted([1], finished)
  );
  const [largest = 0, second = 0] = limits.toSorted((a, b) => b - a);
  const demand = planDemand(input.demand, stock.length + largest + second + 1);
  const usable = offers.map(({alpha, beta}, i) =>
    Array.from({length: limits[i]! + 1}, (_, q) => betaBinomialPmf(q, alpha, beta))
  );
  const allowed = (i: number, q: number) => q === 0 || q >= (offers[i]!.minimum ?? 0);

  const curve: (PlanRow | undefined)[] = [];
  const supplyOf = new Map<number, () => number[]>();
  const consider = (i: number, qi: number, j: number | undefined, qj: number, sold: number, mean: number) => {
    const cost = offers[i]!.unitCost * qi + (j === undefined ? 0 : offers[j]!.unitCost * qj);
    const squares = qi + qj;
    const profit =
      money.price * sold + money.leftoverValue * (mean - sold) - money.shortageCost * (demand.mean - sold) - cost;
    const before = curve[squares];
    if (cost > budget + 1e-9 || (before && before.profit >= profit - 1e-9)) return;
    const orders = [
      {supplier: offers[i]!.supplier, squares: qi},
      ...(j === undefined ? [] : [{supplier: offers[j]!.supplier, squares: qj}])
    ];
    curve[squares] = {squares, cost, orders: orders.filter((order) => order.squares > 0), profit} as PlanRow;
    supplyOf.set(squares, () => convolve(convolve(stock, usable[i]![qi]!), j === undefined ? [1] : usable[j]![qj]!));
  };

  const stockMean = expectation(stock);
  offers.forEach(({alpha, beta}, i) => {
    for (let qi = 0; qi <= limits[i]!; qi++) {
      if (!allowed(i, qi)) continue;
      const first = convolve(stock, usable[i]![qi]!);
      const mean = stockMean + (qi * alpha) / (alpha + beta);
      // E min(D, first + u) for each u that a second supplier may add
      const reach = qi === 0 ? 0 : Math.max(0, ...limits.slice(i + 1));
      const served = Array.from({length: reach + 1}, (_, u) =>
        first.reduce((sum, p, s) => sum + p * demand.served[s + u]!, 0)
      );
      consider(i, qi, undefined, 0, served[0]!, mean);
      for (let j = i + 1; qi > 0 && j < offers.length; j++) {
        const share = offers[j]!.alpha / (offers[j]!.alpha + offers[j]!.beta);
        for (let qj = 1; qj <= limits[j]!; qj++) {
          if (!allowed(j, qj)) continue;
          const sold = usable[j]![qj]!.reduce((sum, p, u) => sum + p * served[u]!, 0);
          consider(i, qi, j, qj, sold, mean + qj * share);
        }
      }
    }
  });
  const rows = curve.flatMap((row) =>
    row ? [{...row, ...planOutcome(supplyOf.get(row.squares)!(), demand, money, row.cost)}] : []
  );
  const best = rows.reduce((a, b) => (b.profit > a.profit + 1e-9 ? b : a));
  const near = rows
    .filter(({profit}) => profit >= best.profit - 0.01 * Math.abs(best.profit))
    .map(({squares}) => squares);
  const forService = rows.find(({service}) => service >= serviceGoal - 1e-12)?.squares;
  return {
    curve: rows,
    best,
    band: {from: Math.min(...near), to: Math.max(...near)},
    serviceGoal,
    ...(forService !== undefined && {forService})
  };
}

/** The demand curve up to a supply of `length − 1` shafts: known orders and a negative binomial number beside. */
export function planDemand({mean, size, known = 0}: PlanInput["demand"], length: number): DemandCurve {
  const pmf = shifted(negativeBinomialPmf(size ?? Number.POSITIVE_INFINITY, mean, Math.max(0, length - known)), known);
  return demandCurve(pmf.slice(0, length + 1), mean + known);
}

function shifted(pmf: readonly number[], by: number): number[] {
  return [...Array<number>(by).fill(0), ...pmf];
}

function expectation(pmf: readonly number[]): number {
  return pmf.reduce((sum, p, k) => sum + k * p, 0);
}
