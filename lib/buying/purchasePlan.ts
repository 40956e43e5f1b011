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
 * At most two suppliers share a purchase; for each total the best split is kept. A split pays because lots fail independently. Every number
 * is looked at up to `finest` squares of one supplier; beyond that every `step`-th, and around the best of those each one again. (Given its
 * suppliers, profit is concave in the numbers, so the finer look misses nothing but ties.)
 * Range: a leftover must be worth less than a usable square costs, else there is no best number (refused).
 * Checked: tests/reference/purchasePlan.test.ts (R by full enumeration, and exact fractions)
 *
 * @throws RangeError when leftovers are worth more than they cost, or no offer is given
 */
export function purchasePlan(input: PlanInput, {serviceGoal = 0.9, finest = 120} = {}): PurchasePlan {
  const {offers, money, upTo = Number.POSITIVE_INFINITY} = input;
  check(offers.length > 0, "purchasePlan: offers", "at least one supplier", "none");
  check(Number.isInteger(input.finished) && input.finished >= 0, "purchasePlan: finished", "a count", input.finished);
  for (const {supplier, alpha, beta, unitCost} of offers) {
    const cost = (unitCost * (alpha + beta)) / alpha;
    const rule = `less than the ${cost.toFixed(2)} a usable shaft from ${supplier} costs`;
    check(money.leftoverValue < cost, "purchasePlan: leftoverValue", rule, money.leftoverValue);
  }
  const limits = offers.map(({available = 100}) => Math.min(available, upTo));
  const step = Math.max(1, Math.ceil(Math.max(...limits) / finest));
  const every = limits.map((limit, i) => numbers(0, limit, step, offers[i]!.minimum ?? 0));
  const coarse = splits(input, every);
  const top = best(coarse);
  const near = offers.map(({supplier, minimum = 0}, i) => {
    const chosen = top.orders.find((order) => order.supplier === supplier)?.squares ?? 0;
    return chosen === 0 ? [0] : numbers(Math.max(0, chosen - step), Math.min(limits[i]!, chosen + step), 1, minimum);
  });
  const fine = step === 1 ? [] : splits(input, near);
  const bySquares = new Map<number, PlanRow>();
  for (const row of [...coarse, ...fine]) {
    const before = bySquares.get(row.squares);
    if (!before || row.profit > before.profit) bySquares.set(row.squares, row);
  }
  const curve = [...bySquares.values()].sort((a, b) => a.squares - b.squares);
  const highest = best(curve);
  const band = curve
    .filter(({profit}) => profit >= highest.profit - 0.01 * Math.abs(highest.profit))
    .map(({squares}) => squares);
  const forService = curve.find(({service}) => service >= serviceGoal - 1e-12)?.squares;
  return {
    curve,
    best: highest,
    band: {from: Math.min(...band), to: Math.max(...band)},
    serviceGoal,
    ...(forService !== undefined && {forService})
  };
}

/** The row of highest profit, the fewest squares where several are alike. */
function best(rows: readonly PlanRow[]): PlanRow {
  return rows.reduce((a, b) => (b.profit > a.profit + 1e-9 ? b : a));
}

/** Numbers of squares from one to another that a supplier sells: none, or at least the minimum. */
function numbers(from: number, to: number, step: number, minimum: number): number[] {
  const list = [...new Set([0, Math.min(to, Math.max(from, minimum)), to])];
  for (let q = from; q <= to; q += step) if (!list.includes(q)) list.push(q);
  return list.filter((q) => q === 0 || q >= minimum).sort((a, b) => a - b);
}

/** The best split of each total over one or two suppliers, each buying one of its listed numbers. */
function splits(
  {finished, pipeline, offers, money, demand: wanted, budget = Number.POSITIVE_INFINITY}: PlanInput,
  numbersOf: readonly number[][]
): PlanRow[] {
  const stock = pipeline.reduce(
    (sum, {n, alpha, beta}) => convolve(sum, betaBinomialPmf(n, alpha, beta)),
    shifted([1], finished)
  );
  const largest = numbersOf.map((list) => list.at(-1)!).sort((a, b) => b - a);
  const demand = planDemand(wanted, stock.length + largest[0]! + (largest[1] ?? 0) + 1);
  const usable = offers.map(
    ({alpha, beta}, i) => new Map(numbersOf[i]!.map((q) => [q, betaBinomialPmf(q, alpha, beta)]))
  );
  const share = offers.map(({alpha, beta}) => alpha / (alpha + beta));
  const stockMean = stock.reduce((sum, p, k) => sum + k * p, 0);
  const found: {profit: number; i: number; qi: number; j: number; qj: number}[] = [];
  const consider = (i: number, qi: number, j: number, qj: number, sold: number) => {
    const cost = offers[i]!.unitCost * qi + offers[j]!.unitCost * qj;
    if (cost > budget + 1e-9) return;
    const available = stockMean + qi * share[i]! + qj * share[j]!;
    const profit =
      money.price * sold + money.leftoverValue * (available - sold) - money.shortageCost * (demand.mean - sold) - cost;
    const before = found[qi + qj];
    if (!before || profit > before.profit + 1e-9) found[qi + qj] = {profit, i, qi, j, qj};
  };
  offers.forEach((_, i) => {
    for (const qi of numbersOf[i]!) {
      const first = convolve(stock, usable[i]!.get(qi)!);
      // E min(D, first + u) for each u that a second supplier may add
      const reach = qi === 0 ? 0 : Math.max(0, ...numbersOf.slice(i + 1).map((list) => list.at(-1)!));
      const served = servedBeside(first, demand.served, reach);
      consider(i, qi, i, 0, served[0]!);
      for (let j = i + 1; qi > 0 && j < offers.length; j++) {
        for (const qj of numbersOf[j]!) if (qj > 0) consider(i, qi, j, qj, dot(usable[j]!.get(qj)!, served));
      }
    }
  });
  return Object.values(found).map(({i, qi, j, qj}) => {
    const supply = convolve(convolve(stock, usable[i]!.get(qi)!), usable[j]!.get(qj) ?? [1]);
    const orders = [
      {supplier: offers[i]!.supplier, squares: qi},
      {supplier: offers[j]!.supplier, squares: qj}
    ].filter(({squares}) => squares > 0);
    const cost = offers[i]!.unitCost * qi + offers[j]!.unitCost * qj;
    return {squares: qi + qj, cost, orders, ...planOutcome(supply, demand, money, cost)};
  });
}

function servedBeside(supply: readonly number[], served: readonly number[], reach: number): number[] {
  const list: number[] = [];
  for (let u = 0; u <= reach; u++) {
    let sum = 0;
    for (let s = 0; s < supply.length; s++) sum += supply[s]! * served[s + u]!;
    list.push(sum);
  }
  return list;
}

function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}

/** The demand curve up to a supply of `length − 1` shafts: known orders and a negative binomial number beside. */
export function planDemand({mean, size, known = 0}: PlanInput["demand"], length: number): DemandCurve {
  const pmf = shifted(negativeBinomialPmf(size ?? Number.POSITIVE_INFINITY, mean, Math.max(0, length - known)), known);
  return demandCurve(pmf.slice(0, length + 1), mean + known);
}

function shifted(pmf: readonly number[], by: number): number[] {
  return [...Array<number>(by).fill(0), ...pmf];
}
