import {check} from "../check.ts";
import {betaBinomialPmf} from "../stats/betaBinomial.ts";
import {type BetaShape, betaByMoments, betaMoments} from "../stats/betaMoments.ts";
import {convolve} from "../stats/convolve.ts";
import {negativeBinomialPmf} from "../stats/negativeBinomial.ts";
import {thin} from "../stats/thin.ts";
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
  /**
   * Share of this supplier's finished shafts inside the wanted window, where Beta(alpha, beta) speaks of finishing
   * alone: each finished shaft then lies in it with this chance, on its own (see `predictiveShare`). 1 unless given.
   */
  windowShare?: number;
  /**
   * Squares of a usual lot: a larger purchase comes in several, each with a luck of its own, while the doubt about the supplier, `doubt`, the
   * variance of its share over all lots, is common to them. Without it all that is bought is one lot.
   */
  lotSize?: number;
  doubt?: number;
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

/** A way to buy a number of squares, and what to expect of it. */
export interface PlanRow extends PlanOutcome {
  squares: number;
  cost: number;
  orders: {supplier: string; squares: number}[];
}

export interface PurchasePlan {
  /** One row for each number of squares looked at, fewest first. */
  curve: PlanRow[];
  best: PlanRow;
  /** The numbers of squares whose profit is within 1 % of the best. */
  band: {from: number; to: number};
  /** The smallest number with the wanted chance that every order can be served, undefined when none reaches it. */
  forService?: number;
  serviceGoal: number;
}

/**
 * How many squares to buy, and of whom: the expected profit by number, by exact convolution; no random numbers.
 *
 *   S(Q) = finished + Σ pipeline + Σ Uᵢ(qᵢ)       each a beta-binomial, Uᵢ thinned by its window share, all independent
 *   Var of the share of q squares in lots of size l = doubt + (Var of a lot's share − doubt) · l/q       where q > l
 *   profit(Q) = p E min(D, S) + v E (S − D)⁺ − s E (D − S)⁺ − Σ cᵢ qᵢ
 *
 * The outcome of a given split is exact. The split is searched: from nothing, the next few squares always go to the supplier whose squares then
 * add most profit each (the curve); the best of these, and the best supplier alone, are improved by setting two suppliers at a time to the best
 * pair of numbers there is beside the others, until no pair can be bettered. Of two numbers one is tried throughout (beyond 40 first in steps,
 * then all about the best), in the other the profit is concave. So with one supplier the answer is the best there is; with more it is checked
 * against full enumeration, not proven.
 * A split pays because lots fail independently.
 *
 * Range: a leftover must be worth less than a usable square costs, else there is no best number (refused).
 * Checked: tests/reference/purchasePlan.test.ts (R by full enumeration, and exact fractions)
 *
 * @param options.finest the curve has about so many numbers at most; below that every number
 * @throws RangeError when leftovers are worth more than a usable square costs, a window share is not one, or no offer is given
 */
export function purchasePlan(input: PlanInput, {serviceGoal = 0.9, finest = 120} = {}): PurchasePlan {
  const {offers, money, upTo = Number.POSITIVE_INFINITY} = input;
  check(offers.length > 0, "purchasePlan: offers", "at least one supplier", "none");
  const names = offers.map(({supplier}) => supplier);
  check(new Set(names).size === names.length, "purchasePlan: offers", "of each supplier once", names.join(", "));
  check(Number.isInteger(input.finished) && input.finished >= 0, "purchasePlan: finished", "a count", input.finished);
  for (const offer of offers) {
    const {supplier, windowShare = 1} = offer;
    const {lotSize = 1, doubt = 0} = offer;
    const {variance} = betaMoments(offer);
    check(lotSize > 0, "purchasePlan: lotSize", "positive", lotSize);
    check(
      doubt >= 0 && doubt <= variance * (1 + 1e-9),
      "purchasePlan: doubt",
      `0 to the lot's variance (${variance})`,
      doubt
    );
    check(windowShare > 0 && windowShare <= 1, "purchasePlan: windowShare", "above 0 and at most 1", windowShare);
    const cost = offer.unitCost / usableShare(offer);
    const rule = `less than the ${cost.toFixed(2)} a usable shaft from ${supplier} costs`;
    check(money.leftoverValue < cost, "purchasePlan: leftoverValue", rule, money.leftoverValue);
  }
  const limits = offers.map(({available = 100}) => Math.min(available, upTo));
  const search = outcomes(input, limits);
  const block = Math.max(1, Math.ceil(limits.reduce((a, b) => a + b, 0) / finest));
  const path = growingPurchases(input, limits, block, search.row);
  const starts = [best(path), best(alone(search))];
  const highest = best(starts.map((start) => improved(start, search)));
  const curve = [...path.filter(({squares}) => squares !== highest.squares), highest].sort(
    (a, b) => a.squares - b.squares
  );
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

/**
 * The best purchase found from a known one, without the curve: for looking again when an input has changed a little.
 *
 * @param start the row of a plan with the same suppliers
 */
export function bestPurchase(input: PlanInput, start: PlanRow): PlanRow {
  const limits = input.offers.map(({available = 100}) => Math.min(available, input.upTo ?? available));
  return improved(start, outcomes(input, limits));
}

/** The exact outcome of a purchase as it stands, by the inputs given. */
export function purchaseOutcome(input: PlanInput, {orders}: Pick<PlanRow, "orders">): PlanRow {
  const split = splitOf(orders, input.offers);
  return outcomes(input, split).row(split);
}

/** Squares of each offer, in the order of the offers. */
type Split = readonly number[];

interface Outcomes {
  /** The exact outcome of a split. */
  row: (split: Split) => PlanRow;
  none: Split;
  /** The most of each supplier's squares that any best purchase holds. */
  most: Split;
  /** The split of a purchase. */
  splitOf: (row: PlanRow) => Split;
  /** The split with the best numbers of two suppliers there are, all others kept; with one supplier, i = j, its best number. */
  bestPair: (split: Split, i: number, j: number) => Split;
}

function splitOf(orders: PlanRow["orders"], offers: readonly Offer[]): Split {
  return offers.map(({supplier}) => orders.find((order) => order.supplier === supplier)?.squares ?? 0);
}

/** The distribution of the usable share of so many squares. */
function ofLots({alpha, beta, lotSize = Number.POSITIVE_INFINITY, doubt = 0}: Offer, squares: number): BetaShape {
  if (squares <= lotSize) return {alpha, beta};
  const {mean, variance} = betaMoments({alpha, beta});
  return betaByMoments({mean, variance: doubt + ((variance - doubt) * lotSize) / squares})!;
}

/** Expected share of an offer's squares that become usable. */
function usableShare({alpha, beta, windowShare = 1}: Offer): number {
  return (windowShare * alpha) / (alpha + beta);
}

/** The row of highest profit, the fewest squares where several are alike. */
function best(rows: readonly PlanRow[]): PlanRow {
  return rows.reduce((a, b) => (b.profit > a.profit + 1e-9 ? b : a));
}

/** The exact outcomes of splits of the offers; what was computed once is kept. */
function outcomes(
  {finished, pipeline, offers, money, demand: wanted, budget = Number.POSITIVE_INFINITY}: PlanInput,
  limits: Split
): Outcomes {
  const stock = pipeline.reduce(
    (sum, {n, alpha, beta}) => convolve(sum, betaBinomialPmf(n, alpha, beta)),
    shifted([1], finished)
  );
  const demand = planDemand(wanted, stock.length + limits.reduce((a, b) => a + b, 0) + 1);
  const usable = new Map<string, number[]>();
  const pmf = (i: number, q: number) => {
    const key = `${i} ${q}`;
    if (!usable.has(key)) {
      const {windowShare = 1} = offers[i]!;
      const {alpha, beta} = ofLots(offers[i]!, q);
      const finished = betaBinomialPmf(q, alpha, beta);
      usable.set(key, likely(windowShare < 1 ? thin(finished, windowShare) : finished));
    }
    return usable.get(key)!;
  };
  const supplyOf = (split: Split) =>
    split.reduce<number[]>((sum, q, i) => (q === 0 ? sum : convolve(sum, pmf(i, q))), stock);
  const costOf = (split: Split) => split.reduce((sum, q, i) => sum + q * offers[i]!.unitCost, 0);
  const known = new Map<string, PlanRow>();
  const row = (split: Split) => {
    const key = split.join(" ");
    const before = known.get(key);
    if (before) return before;
    const cost = costOf(split);
    const orders = offers.map(({supplier}, i) => ({supplier, squares: split[i]!})).filter(({squares}) => squares > 0);
    const outcome = planOutcome(supplyOf(split), demand, money, cost);
    const made = {squares: split.reduce((a, b) => a + b, 0), cost, orders, ...outcome};
    known.set(key, made);
    return made;
  };
  const worth = money.price + money.shortageCost - money.leftoverValue;
  const apart = (i: number) => money.leftoverValue * usableShare(offers[i]!) - offers[i]!.unitCost;
  const pairUpTo = (most: Split) => (split: Split, i: number, j: number) => {
    const others = split.with(i, 0).with(j, 0);
    const left = budget - costOf(others) + 1e-9;
    const payable = (k: number, money: number) => Math.min(most[k]!, Math.floor(money / offers[k]!.unitCost));
    // E min(D, others + u): a pair of numbers then costs short sums, and its profit is the same up to a constant.
    const beside = servedBeside(supplyOf(others), demand.served, most[i]! + (i === j ? 0 : most[j]!));
    let found = {split: others, q: 0, gain: worth * beside[0]!};
    const look = (q: number) => {
      const served = expectedAt(pmf(j, q), beside, most[i]!);
      const mostBeside = payable(i, left - q * offers[j]!.unitCost);
      const {n, gain} = bestNumber(offers[i]!, mostBeside, (m) => worth * dot(pmf(i, m), served) + apart(i) * m);
      const both = gain + apart(j) * q;
      if (both > found.gain + 1e-9) found = {split: others.with(j, q).with(i, n), q, gain: both};
    };
    const tried = i === j ? [0] : numbers(offers[j]!, payable(j, left));
    // A budget makes the profit jagged: then every number is looked at. Else first one in so many, then all about the best of them.
    const step = Number.isFinite(budget) ? 1 : Math.ceil(tried.length / 40);
    for (let k = 0; k < tried.length; k += k === 0 ? 1 : step) look(tried[k]!);
    const center = tried.indexOf(found.q);
    for (let k = Math.max(1, center - step + 1); k < Math.min(tried.length, center + step); k++)
      if (step > 1) look(tried[k]!);
    return found.split;
  };
  // No best purchase holds more of one supplier's squares than serve best when nothing else is bought, as a square adds the less the more
  // others there are; but its least lot may be more.
  const none = offers.map(() => 0);
  const single = offers.map((_, i) => pairUpTo(limits)(none, i, i)[i]!);
  const most = single.map((n, i) => Math.min(limits[i]!, Math.max(n, offers[i]!.minimum ?? 0)));
  return {row, none, most, bestPair: pairUpTo(most), splitOf: ({orders}) => splitOf(orders, offers)};
}

/** None, or from the least lot to the most. */
function numbers({minimum = 0}: Offer, most: number): number[] {
  const least = Math.max(1, minimum);
  return [0, ...Array.from({length: Math.max(0, most - least + 1)}, (_, k) => least + k)];
}

/** The number of one supplier's squares with the highest gain: concave, so the gain of one more turns negative once. */
function bestNumber({minimum = 0}: Offer, most: number, gain: (n: number) => number): {n: number; gain: number} {
  const nothing = {n: 0, gain: gain(0)};
  if (most < Math.max(1, minimum)) return nothing;
  let [low, high] = [minimum, most];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (gain(middle + 1) > gain(middle) + 1e-9) low = middle + 1;
    else high = middle;
  }
  const found = {n: low, gain: gain(low)};
  return found.gain > nothing.gain + 1e-9 ? found : nothing;
}

/** Σ P(u) · beside[u + v] for v = 0 … reach; `beside` goes at least so far. */
function expectedAt(pmf: readonly number[], beside: readonly number[], reach: number): number[] {
  const list = new Array<number>(reach + 1);
  for (let v = 0; v <= reach; v++) {
    let sum = 0;
    for (let u = 0; u < pmf.length; u++) sum += pmf[u]! * beside[u + v]!;
    list[v] = sum;
  }
  return list;
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

/** The mass without a far upper end of less than 1e-14 together, which no sum feels. */
function likely(pmf: number[]): number[] {
  let [end, tail] = [pmf.length, 0];
  while (end > 1 && tail + pmf[end - 1]! < 1e-14) tail += pmf[--end]!;
  return pmf.slice(0, end);
}

/** From nothing to all that can be had: each further block goes where it adds most profit a square. */
function growingPurchases(
  {offers, budget = Number.POSITIVE_INFINITY}: PlanInput,
  limits: Split,
  block: number,
  row: Outcomes["row"]
): PlanRow[] {
  let split: Split = offers.map(() => 0);
  const path = [row(split)];
  for (;;) {
    const from = row(split);
    const steps = offers.flatMap(({minimum = 0}, i) => {
      const to = Math.min(limits[i]!, split[i] === 0 ? Math.max(block, minimum) : split[i]! + block);
      const next = split.with(i, to);
      return to > split[i]! && to >= minimum && row(next).cost <= budget + 1e-9
        ? [{next, gain: (row(next).profit - from.profit) / (to - split[i]!)}]
        : [];
    });
    if (steps.length === 0) return path;
    split = steps.reduce((a, b) => (b.gain > a.gain + 1e-12 ? b : a)).next;
    path.push(row(split));
  }
}

/** Each supplier alone, with the number that serves best. */
function alone({none, row, bestPair}: Outcomes): PlanRow[] {
  return none.map((_, i) => row(bestPair(none, i, i)));
}

/** The purchase improved two suppliers at a time until no pair can be bettered. */
function improved(start: PlanRow, {row, splitOf, bestPair}: Outcomes): PlanRow {
  let split = splitOf(start);
  for (;;) {
    let next = split.length === 1 ? bestPair(split, 0, 0) : split;
    for (let i = 0; i < split.length; i++) for (let j = 0; j < i; j++) next = bestPair(next, i, j);
    if (row(next).profit <= row(split).profit + 1e-9) return row(split);
    split = next;
  }
}

/** The demand curve up to a supply of `length − 1` shafts: known orders and a negative binomial number beside. */
export function planDemand({mean, size, known = 0}: PlanInput["demand"], length: number): DemandCurve {
  const pmf = shifted(negativeBinomialPmf(size ?? Number.POSITIVE_INFINITY, mean, Math.max(0, length - known)), known);
  return demandCurve(pmf.slice(0, length + 1), mean + known);
}

function shifted(pmf: readonly number[], by: number): number[] {
  return [...Array<number>(by).fill(0), ...pmf];
}
