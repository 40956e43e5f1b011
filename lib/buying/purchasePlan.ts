import {check} from "../check.ts";
import {betaBinomialPmf} from "../stats/betaBinomial.ts";
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
 *   profit(Q) = p E min(D, S) + v E (S − D)⁺ − s E (D − S)⁺ − Σ cᵢ qᵢ
 *
 * The outcome of a given split is exact. The split is searched: from nothing, the next few squares always go to the supplier whose squares then
 * add most profit each (the curve); the best of these is improved supplier by supplier, as profit is concave in the number of each, and by
 * moving squares from one to another, and so is each supplier alone; under a budget, where what it leaves over decides, every purchase of the
 * curve is. With one supplier the number is the best there is; over several with least lots or a budget the search is checked against full
 * enumeration, not proven. A split pays because lots fail independently.
 *
 * Range: a leftover must be worth less than a usable square costs, else there is no best number (refused).
 * Checked: tests/reference/purchasePlan.test.ts (R by full enumeration, and exact fractions)
 *
 * @param options.finest the curve has about so many numbers at most; below that every number
 * @throws RangeError when leftovers are worth more than they cost, a window share is not one, or no offer is given
 */
export function purchasePlan(input: PlanInput, {serviceGoal = 0.9, finest = 120} = {}): PurchasePlan {
  const {offers, money, upTo = Number.POSITIVE_INFINITY} = input;
  check(offers.length > 0, "purchasePlan: offers", "at least one supplier", "none");
  check(Number.isInteger(input.finished) && input.finished >= 0, "purchasePlan: finished", "a count", input.finished);
  for (const offer of offers) {
    const {supplier, windowShare = 1} = offer;
    check(windowShare > 0 && windowShare <= 1, "purchasePlan: windowShare", "above 0 and at most 1", windowShare);
    const cost = offer.unitCost / usableShare(offer);
    const rule = `less than the ${cost.toFixed(2)} a usable shaft from ${supplier} costs`;
    check(money.leftoverValue < cost, "purchasePlan: leftoverValue", rule, money.leftoverValue);
  }
  const limits = offers.map(({available = 100}) => Math.min(available, upTo));
  const search = outcomes(input, limits);
  const block = Math.max(1, Math.ceil(limits.reduce((a, b) => a + b, 0) / finest));
  const path = growingPurchases(input, limits, block, search.row);
  const starts = [...(input.budget === undefined ? [best(path)] : path), ...alone(input, limits, search)];
  const highest = best(starts.map((start) => improved(start, input, limits, search, block)));
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
 * The best purchase found from a known one supplier by supplier, without the curve: for looking again when an input has changed a little.
 *
 * @param start the row of a plan with the same suppliers
 */
export function bestPurchase(input: PlanInput, start: PlanRow): PlanRow {
  const limits = input.offers.map(({available = 100}) => Math.min(available, input.upTo ?? available));
  return improved(start, input, limits, outcomes(input, limits));
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
  /** The number of one supplier's squares that serves best, all others kept. */
  bestNumber: (split: Split, i: number) => number;
}

function splitOf(orders: PlanRow["orders"], offers: readonly Offer[]): Split {
  return offers.map(({supplier}) => orders.find((order) => order.supplier === supplier)?.squares ?? 0);
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
    const {alpha, beta, windowShare = 1} = offers[i]!;
    if (!usable.has(key)) {
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
  const bestNumber = (split: Split, i: number) => {
    const {unitCost, minimum = 0} = offers[i]!;
    const others = split.with(i, 0);
    const most = Math.min(limits[i]!, Math.floor((budget - costOf(others)) / unitCost + 1e-9));
    // E min(D, others + u), so that each number costs one short sum: profit is the same up to a constant
    const served = servedBeside(supplyOf(others), demand.served, most);
    const gain = (q: number) => {
      const sold = dot(pmf(i, q), served);
      return (
        (money.price + money.shortageCost - money.leftoverValue) * sold +
        (money.leftoverValue * usableShare(offers[i]!) - unitCost) * q
      );
    };
    if (most < minimum) return 0;
    let [low, high] = [minimum, most]; // concave: the best number is where the gain of one more turns negative
    while (low < high) {
      const middle = Math.floor((low + high) / 2);
      if (gain(middle + 1) > gain(middle) + 1e-9) low = middle + 1;
      else high = middle;
    }
    return gain(low) > gain(0) + 1e-9 ? low : 0;
  };
  return {row, bestNumber};
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

/** Each supplier alone, with the least lot and with the number that serves best, as far as the budget goes. */
function alone({offers, budget = Number.POSITIVE_INFINITY}: PlanInput, limits: Split, search: Outcomes): PlanRow[] {
  const none = limits.map(() => 0);
  return offers.flatMap(({minimum = 0}, i) =>
    [Math.max(1, minimum), search.bestNumber(none, i)]
      .filter((n) => n <= limits[i]!)
      .map((n) => search.row(none.with(i, n)))
      .filter(({cost}) => cost <= budget + 1e-9)
  );
}

/** The purchase improved supplier by supplier and, where a block is given, by moving squares between two, until nothing helps. */
function improved(
  start: PlanRow,
  {offers, budget = Number.POSITIVE_INFINITY}: PlanInput,
  limits: Split,
  {row, bestNumber}: Outcomes,
  block?: number
): PlanRow {
  const allowed = (one: Split) =>
    one.every((q, i) => q === 0 || (q >= (offers[i]!.minimum ?? 0) && q <= limits[i]!)) &&
    row(one).cost <= budget + 1e-9;
  let split = splitOf(start.orders, offers);
  for (;;) {
    const tuned = offers.reduce<Split>((one, _, i) => one.with(i, bestNumber(one, i)), split);
    const moved = block === undefined ? [] : exchanges(tuned, offers, budget, block, bestNumber).filter(allowed);
    const next = [tuned, ...moved].reduce((a, b) => (row(b).profit > row(a).profit + 1e-9 ? b : a));
    if (row(next).profit <= row(split).profit + 1e-9) return row(split);
    split = next;
  }
}

/**
 * The splits in which one supplier gives way to another, which then takes as many as serve best: by a block or by one; by any number where the
 * other is to come in with a least lot, and under a budget.
 */
function exchanges(
  split: Split,
  offers: readonly Offer[],
  budget: number,
  block: number,
  bestNumber: Outcomes["bestNumber"]
): Split[] {
  return offers.flatMap(({minimum = 0}, i) =>
    split.flatMap((q, j) => {
      if (i === j || q === 0) return [];
      const jumps = Number.isFinite(budget) || (split[i] === 0 && minimum > 0);
      const fewer = jumps ? [...Array(q).keys()] : [q - block, q - 1, 0].filter((n) => n >= 0 && n < q);
      return [...new Set(fewer)].map((n) => split.with(j, n)).map((less) => less.with(i, bestNumber(less, i)));
    })
  );
}

/** The demand curve up to a supply of `length − 1` shafts: known orders and a negative binomial number beside. */
export function planDemand({mean, size, known = 0}: PlanInput["demand"], length: number): DemandCurve {
  const pmf = shifted(negativeBinomialPmf(size ?? Number.POSITIVE_INFINITY, mean, Math.max(0, length - known)), known);
  return demandCurve(pmf.slice(0, length + 1), mean + known);
}

function shifted(pmf: readonly number[], by: number): number[] {
  return [...Array<number>(by).fill(0), ...pmf];
}
