import {check} from "../check.ts";
import {betaBinomialPmf} from "../stats/betaBinomial.ts";
import {type BetaShape, betaByMoments, betaMoments} from "../stats/betaMoments.ts";
import {convolved} from "../stats/convolve.ts";
import {negativeBinomialPmf} from "../stats/negativeBinomial.ts";
import {thin} from "../stats/thin.ts";
import {
  type DemandCurve,
  demandCurve,
  outcomeOf,
  type PlanMoney,
  type PlanOutcome,
  planOutcome
} from "./planOutcome.ts";
import {remembered, rememberedUpTo} from "./remembered.ts";

/** A number of pieces whose share that becomes usable is uncertain: usable count ~ beta-binomial(n, alpha, beta). */
export interface UncertainPieces {
  /** The lot they are of, where that is asked for. */
  lot?: string;
  n: number;
  alpha: number;
  beta: number;
  /** Standard deviation of what moves the share of all timber together, as a part of this share. 0 unless given. */
  common?: number;
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
  /** Standard deviation of what moves the share of all timber together, as a part of this share. 0 unless given. */
  common?: number;
  unitCost: number;
  /** From so many squares on each of them costs this instead; fewest first. */
  priceBreaks?: readonly {from: number; unitCost: number}[];
  /** Fewest worth a visit; none or at least so many are bought. */
  minimum?: number;
  /** Most that can be had. */
  available?: number;
}

/** What is wanted of one species, what there is, and what may be bought. */
export interface Need {
  /** Finished shafts on the rack that fit. */
  finished: number;
  pipeline: readonly UncertainPieces[];
  /** Shafts wanted: `known` for certain (open orders) and a negative binomial number beside; without `size` Poisson. */
  demand: {mean: number; size?: number; known?: number};
  offers: readonly Offer[];
  money: PlanMoney;
  /**
   * How all timber may turn out together: every share becomes share · (1 + common · z). Three levels with mean 0, variance 1 and the first
   * five moments of the normal law (Gauss and Hermite) unless given.
   */
  levels?: readonly Level[];
}

/** A way for all timber to turn out: better (z above 0) or worse, and how likely. */
export interface Level {
  z: number;
  weight: number;
}

/** Gauss–Hermite, three points: exact for polynomials up to the fifth degree. Abramowitz & Stegun (1964), table 25.10 (from memory). */
const hermite: readonly Level[] = [
  {z: -Math.sqrt(3), weight: 1 / 6},
  {z: 0, weight: 2 / 3},
  {z: Math.sqrt(3), weight: 1 / 6}
];
const certain: readonly Level[] = [{z: 0, weight: 1}];

/** Five points of the same kind, for a number of shafts taken as normal in the rough outcome. */
const normalPoints = [
  {x: 0, weight: 8 / 15},
  ...[-1, 1].flatMap((sign) => [
    {x: sign * Math.sqrt(5 - Math.sqrt(10)), weight: (7 + 2 * Math.sqrt(10)) / 60},
    {x: sign * Math.sqrt(5 + Math.sqrt(10)), weight: (7 - 2 * Math.sqrt(10)) / 60}
  ])
];

/** Squares of each offer, in the order of the offers. */
export type Split = readonly number[];

/** Outcomes of purchases for one need. */
export interface Outcomes {
  /** Exactly, by convolution: what was worked out once is kept. */
  exact: (split: Split) => PlanOutcome & {cost: number};
  /** The same for each way in which all timber may turn out, in the order of the levels. */
  byLevel: (split: Split) => PlanOutcome[];
  /** Profit with the usable number of new squares taken as normal: for searching, some thousand times faster. */
  roughProfit: (split: Split) => number;
  costOf: (split: Split) => number;
  /** Distribution of shafts there will be, level by level. */
  supplyOf: (split: Split) => Likely[];
  levels: readonly Level[];
  demand: DemandCurve;
  /** No purchase can give more profit than one of so many usable shafts at so much cost (Jensen): rises by this slope from there on. */
  mostServedSlope: (usable: number) => number;
}

/**
 * The outcomes of purchases, exact and rough, for one need.
 *
 *   S(q) = finished + Σ pipeline + Σ Uᵢ(qᵢ)       within a level each a beta-binomial, Uᵢ thinned by its window share, all independent
 *   Var of the share of q squares in lots of size l = doubt + (Var of a lot's share − doubt) · l/q       where q > l
 *
 * What pipeline and new squares share, as the doubt about yields that both still have before them, is not independent: it is mixed outside the
 * convolution, level by level.
 *
 * Where more than five thousand shafts may come together, what comes of many lots, their sum within a level is taken as normal with that mean
 * and variance, rounded to whole shafts: the law to which sums of independent lots tend. Against the convolution the profit errs by less than a
 * thousandth there (tests/buying/outcomes.test.ts).
 *
 * @param most squares of each offer that will be asked for at most
 * @param like what is asked of many needs alike, as a plan again for another price: the distributions that they have in common are worked out
 * once for it
 */
export function outcomes(need: Need, most: Split, like: object = need): Outcomes {
  const {finished, pipeline, offers, money, demand: wanted} = need;
  const isCommon = [...pipeline, ...offers].some(({common = 0}) => common > 0);
  const levels = isCommon ? (need.levels ?? hermite) : certain;
  const isCrowd = finished + [...pipeline.map(({n}) => n), ...most].reduce((a, b) => a + b, 0) > crowd;
  const inCommon = keptFor(like);
  const ofStock = [levels, isCrowd, finished, pipeline.map(({n, alpha, beta, common}) => [n, alpha, beta, common])];
  const inStock = inCommon("stock", ofStock, () => levels.map((level) => stockAt(level, need, isCrowd)));
  const reach = Math.max(...inStock.map(({law}) => endOf(law))) + most.reduce((a, b) => a + b, 0);
  const {demand, served, atMost} = inCommon("demand", [ofStock, wanted, reach], () => {
    const demand = planDemand(wanted, reach + 1);
    // E min(D, stock + u) and P(D ≤ stock + u) for whole u, level by level.
    const besideStock = (f: readonly number[]) => inStock.map(({law}) => averaged(law, f, reach - endOf(law)));
    return {demand, served: besideStock(demand.served), atMost: besideStock(demand.atMost)};
  });
  const ofOffers = offers.map(({alpha, beta, windowShare, lotSize, doubt, common}) => {
    return {alpha, beta, windowShare, lotSize, doubt, common};
  });
  const usable = inCommon("usable", [levels, most, ofOffers], () =>
    levels.map((level) => usableAt(level, offers, most))
  );
  const costOf = (split: Split) => {
    let cost = 0;
    for (let i = 0; i < split.length; i++) if (split[i]! > 0) cost += split[i]! * costEach(offers[i]!, split[i]!);
    return cost;
  };
  const likelySupply = (split: Split, level: number) =>
    isCrowd
      ? normalCount(supplyMoments(split, level), reach)
      : joined(inStock[level]!.law, usable[level]!.likely(split));
  const byLevel = (split: Split) => {
    split.forEach((q, i) => {
      check(q <= most[i]!, `outcomes: squares of ${offers[i]!.supplier}`, `at most ${most[i]}, as said`, q);
    });
    const cost = costOf(split);
    return levels.map((_, level) => {
      if (isCrowd) {
        const {from, p} = likelySupply(split, level);
        return planOutcome(p, demand, money, cost, from);
      }
      // Averaged over the stock once, the functions of demand need no sum of stock and purchase: of a stock of 2,000 pieces a plan takes a third of
      // the time, of a small one as long.
      const {from, p} = usable[level]!.likely(split);
      let [sold, available, service] = [0, inStock[level]!.mean, 0];
      for (let k = 0; k < p.length; k++) {
        sold += p[k]! * served[level]!(from + k);
        available += p[k]! * (from + k);
        service += p[k]! * atMost[level]!(from + k);
      }
      return outcomeOf({sold, available, service}, demand.mean, money, cost);
    });
  };
  const asked = new Map<string, PlanOutcome & {cost: number}>();
  const exact = (split: Split) => {
    const key = split.join(" ");
    const before = asked.get(key);
    if (before) return before;
    const parts = byLevel(split);
    const over = (f: (part: PlanOutcome) => number) =>
      parts.reduce((sum, part, level) => sum + levels[level]!.weight * f(part), 0);
    const made = {
      cost: costOf(split),
      profit: over(({profit}) => profit),
      service: over(({service}) => service),
      fillRate: over(({fillRate}) => fillRate),
      expectedShort: over(({expectedShort}) => expectedShort),
      expectedLeftover: over(({expectedLeftover}) => expectedLeftover)
    };
    asked.set(key, made);
    return made;
  };

  /** E min(D, stock + u) for any u: between whole numbers a straight line. */
  const besideAt = (level: number, u: number) => {
    const at = served[level]!;
    if (u <= 0) return at(0);
    const below = Math.min(Math.floor(u), reach - endOf(inStock[level]!.law) - 1);
    if (below < 0) return at(0);
    const low = at(below);
    return low + (u - below) * (at(below + 1) - low);
  };
  const worth = money.price + money.shortageCost - money.leftoverValue;
  const supplyMoments = (split: Split, level: number) => {
    const [stocked, bought] = [inStock[level]!, usable[level]!.moments(split)];
    return {mean: stocked.mean + bought.mean, variance: stocked.variance + bought.variance};
  };
  const roughProfit = (split: Split) => {
    let profit = -money.shortageCost * demand.mean - costOf(split);
    for (let level = 0; level < levels.length; level++) {
      const {mean, variance} = usable[level]!.moments(split);
      const sd = Math.sqrt(variance);
      let served = 0;
      for (const {x, weight} of normalPoints) served += weight * besideAt(level, mean + sd * x);
      profit += levels[level]!.weight * (worth * served + money.leftoverValue * (mean + inStock[level]!.mean));
    }
    return profit;
  };
  const factors = usable.map(({means}) => relative(means, offers));
  const mostServedSlope = (usable: number) => {
    let slope = 0;
    for (let level = 0; level < levels.length; level++) {
      const factor = factors[level]!;
      const at = Math.floor(usable * factor);
      slope += levels[level]!.weight * factor * (besideAt(level, at + 1) - besideAt(level, at));
    }
    return slope;
  };
  const supplyOf = (split: Split) => levels.map((_, level) => likelySupply(split, level));
  return {exact, byLevel, roughProfit, costOf, supplyOf, levels, demand, mostServedSlope};
}

/** The most by which a level lifts the usable share of any offer. */
function relative(means: readonly number[], offers: readonly Offer[]): number {
  return Math.max(...means.map((mean, i) => mean / offerShare(offers[i]!)));
}

/** What each of so many squares of an offer costs. */
export function costEach({unitCost, priceBreaks}: Offer, squares: number): number {
  return priceBreaks?.findLast(({from}) => squares >= from)?.unitCost ?? unitCost;
}

/** Expected share of an offer's squares that become usable. */
export function offerShare({alpha, beta, windowShare = 1}: Offer): number {
  return (windowShare * alpha) / (alpha + beta);
}

/** What a usable shaft of an offer costs at its lowest price. */
export function lowestUsableCost(offer: Offer): number {
  const lowest = Math.min(offer.unitCost, ...(offer.priceBreaks ?? []).map(({unitCost}) => unitCost));
  return lowest / offerShare(offer);
}

/** Squares of each offer in a purchase. */
export function splitOf(
  offers: readonly Pick<Offer, "supplier">[],
  orders: readonly {supplier: string; squares: number}[]
): Split {
  return offers.map(({supplier}) => orders.find((order) => order.supplier === supplier)?.squares ?? 0);
}

/** The demand curve up to a supply of `length − 1` shafts: known orders and a negative binomial number beside. */
export function planDemand({mean, size, known = 0}: Need["demand"], length: number): DemandCurve {
  const pmf = shifted(negativeBinomialPmf(size ?? Number.POSITIVE_INFINITY, mean, Math.max(0, length - known)), known);
  return demandCurve(pmf.slice(0, length + 1), mean + known);
}

/** The share times a factor, its precision kept. */
function moved({alpha, beta}: BetaShape, factor: number): BetaShape {
  if (factor === 1) return {alpha, beta};
  const m = alpha + beta;
  const share = Math.min(1 - 1e-9, Math.max(1e-9, (alpha / m) * factor));
  return {alpha: share * m, beta: (1 - share) * m};
}

/** The distribution of the usable share of so many squares. */
function ofLots({alpha, beta, lotSize = Number.POSITIVE_INFINITY, doubt = 0}: Offer, squares: number): BetaShape {
  if (squares <= lotSize) return {alpha, beta};
  const {mean, variance} = betaMoments({alpha, beta});
  const own = Math.min(doubt, variance);
  return betaByMoments({mean, variance: own + ((variance - own) * lotSize) / squares})!;
}

/** What was worked out for needs alike, by what it hangs on. */
const known = new WeakMap<object, Map<string, unknown>>();

/** Gives what was worked out before from the same numbers, or works it out. */
function keptFor(like: object): <T>(what: string, from: readonly unknown[], make: () => T) => T {
  const kept = known.get(like) ?? new Map<string, unknown>();
  known.set(like, kept);
  return <T>(what: string, from: readonly unknown[], make: () => T) => {
    const key = `${what} ${JSON.stringify(from)}`;
    if (!kept.has(key)) kept.set(key, make());
    return kept.get(key) as T;
  };
}

/** What is on the rack and becomes of the pieces on their way. */
function stockAt(
  {z}: Level,
  {finished, pipeline}: Need,
  isCrowd: boolean
): {mean: number; variance: number; law: Likely} {
  let [mean, variance, most] = [finished, 0, finished];
  let law: Likely = {...nothing, from: finished};
  for (const {n, common = 0, ...shape} of pipeline) {
    const {alpha, beta} = moved(shape, 1 + common * z);
    const {mean: p, variance: ofShare} = betaMoments({alpha, beta});
    mean += n * p;
    variance += n * p * (1 - p) + n * (n - 1) * ofShare;
    most += n;
    if (!isCrowd) law = joined(law, {from: 0, p: new Float64Array(betaBinomialPmf(n, alpha, beta))});
  }
  return {mean, variance, law: isCrowd ? normalCount({mean, variance}, most) : law};
}

/** What becomes of new squares: how many are usable. */
interface Usable {
  likely: (split: Split) => Likely;
  moments: (split: Split) => {mean: number; variance: number};
  /** Of one square of each offer. */
  means: readonly number[];
}

function usableAt({z}: Level, offers: readonly Offer[], most: Split): Usable {
  const shapes = offers.map((offer) => moved(offer, 1 + (offer.common ?? 0) * z));
  const means = shapes.map(({alpha, beta}, i) => (alpha / (alpha + beta)) * (offers[i]!.windowShare ?? 1));
  const laws = offers.map((offer, i) => {
    const {windowShare = 1} = offer;
    return remembered((q: number) => {
      const {alpha, beta} = ofLots({...offer, ...shapes[i]!}, q);
      const count = betaBinomialPmf(q, alpha, beta);
      return likely({from: 0, p: new Float64Array(windowShare < 1 ? thin(count, windowShare) : count)});
    });
  });
  // Purchases that begin alike share the sums of what they begin with.
  const begun = new Map<string, Likely>();
  const variances = offers.map((offer, i) => {
    const {windowShare = 1} = offer;
    return rememberedUpTo(most[i]!, (q) => {
      const {mean, variance} = betaMoments(ofLots({...offer, ...shapes[i]!}, q));
      const p = mean * windowShare;
      return q * p * (1 - p) + q * (q - 1) * variance * windowShare ** 2;
    });
  });
  return {
    means,
    likely: (split) => {
      let sum = nothing;
      let key = "";
      split.forEach((q, i) => {
        key += ` ${q}`;
        if (q === 0) return;
        const before = begun.get(key);
        sum = before ?? joined(sum, laws[i]!(q));
        if (!before) begun.set(key, sum);
      });
      return sum;
    },
    moments: (split) => {
      let [mean, variance] = [0, 0];
      for (let i = 0; i < split.length; i++) {
        const q = split[i]!;
        if (q === 0) continue;
        mean += q * means[i]!;
        variance += variances[i]!(q);
      }
      return {mean, variance};
    }
  };
}

/** Σ P(s) · f(s + u) for u = 0 … most, each worked out when it is first asked for. */
function averaged({from, p}: Likely, f: readonly number[], most: number): (u: number) => number {
  return rememberedUpTo(most, (u) => {
    let sum = 0;
    for (let k = 0; k < p.length; k++) sum += p[k]! * f[from + k + u]!;
    return sum;
  });
}

/** From so many shafts on their sum is taken as normal. */
const crowd = 5000;

/** A number of shafts taken as normal: the whole numbers within seven standard deviations and up to the most there can be, by its density. */
function normalCount({mean, variance}: {mean: number; variance: number}, most: number): Likely {
  const sd = Math.sqrt(variance);
  const from = Math.max(0, Math.floor(mean - 7 * sd));
  const to = Math.min(most, Math.ceil(mean + 7 * sd));
  const p = new Float64Array(to - from + 1);
  let total = 0;
  for (let k = 0; k < p.length; k++) {
    const off = sd === 0 ? (from + k === Math.round(mean) ? 0 : Number.POSITIVE_INFINITY) : (from + k - mean) / sd;
    p[k] = Math.exp(-(off ** 2) / 2);
    total += p[k]!;
  }
  for (let k = 0; k < p.length; k++) p[k]! /= total;
  return {from, p};
}

/** The counts that a number of shafts can well be: P(from + k) = p[k]. */
export interface Likely {
  from: number;
  p: Float64Array;
}

/** Without the far ends, each of less than 1e-14 together, which no sum feels. */
function likely({from, p}: Likely): Likely {
  let [start, end] = [0, p.length];
  for (let tail = p[start]!; start < end - 1 && tail < 1e-14; tail += p[start]!) start++;
  for (let tail = p[end - 1]!; end > start + 1 && tail < 1e-14; tail += p[end - 1]!) end--;
  return {from: from + start, p: p.subarray(start, end)};
}

/** None for certain. */
const nothing: Likely = {from: 0, p: Float64Array.of(1)};

/** The sum of two independent numbers. */
function joined(a: Likely, b: Likely): Likely {
  if (a === nothing) return b;
  if (b === nothing) return a;
  return likely({from: a.from + b.from, p: convolved(a.p, b.p)});
}

/** One more than the highest. */
function endOf({from, p}: Likely): number {
  return from + p.length;
}

function shifted(pmf: readonly number[], by: number): number[] {
  return [...Array<number>(by).fill(0), ...pmf];
}
