import {type Day, dayNumber, dayText, monthEnd, monthOf, months} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {check} from "../check.ts";
import {type BetaShape, betaByMoments, betaMoments} from "../stats/betaMoments.ts";
import {sum} from "../stats/numbers.ts";
import {demandRange} from "./demandRange.ts";
import {
  type Need,
  type Offer,
  type Outcomes,
  outcomes,
  planDemand,
  type Split,
  type UncertainPieces
} from "./outcomes.ts";
import {remembered} from "./remembered.ts";

/** A lot in stock: what of it becomes usable by the season's end, and when. */
export interface LotAhead extends UncertainPieces {
  /** Of the shafts it will have given by the season's end, the part that is finished within so many days from now; rises from 0 to 1. */
  readyWithin: (days: number) => number;
}

/** Orders to come until a day: mean and negative binomial size (undefined: Poisson), and `known` for certain. */
export type DemandBy = (day: Day) => {mean: number; size?: number; known?: number};

/** What the stock of one species will be, without buying. */
export interface StockInput {
  /** The day of the question. */
  today: Day;
  /** The season's last day. */
  until: Day;
  /** Shafts on the rack that fit. */
  finished: number;
  pipeline: readonly LotAhead[];
  demandBy: DemandBy;
  /** What can be bought, as the plan has it. */
  offers: readonly Offer[];
  /** Of the shafts that squares bought on a day number will give, the part that is finished within so many days. */
  readyOf: (boughtOn: number, days: number) => number;
  /** How alike the shafts of one lot are in when they are finished: intraclass correlation, see `lotTiming`. 0 unless given. */
  timing?: number;
}

/** Squares bought on one day. */
export interface PurchaseAhead {
  boughtOn: Day;
  orders: readonly {supplier: string; squares: number}[];
}

/** Shafts to be had and orders to serve, from now to a month's end. */
export interface StockMonth {
  month: string;
  /** The month's last day, or the season's. */
  endsOn: Day;
  /** Expected shafts: rack, pipeline and purchase, all that is finished by then. */
  supplyMean: number;
  demandMean: number;
  /** Supply less demand: mean, and what it lies between in 95 of 100 cases. */
  netMean: number;
  netLow: number;
  netHigh: number;
  /** Chance that all orders up to then can be served: P(supply ≥ demand). */
  service: number;
  /** Expected shafts sold up to then: E min(supply, demand). */
  sold: number;
}

export interface StockAhead {
  months: StockMonth[];
  serviceGoal: number;
  /** The first month at whose end the chance to serve all orders is below the goal. */
  dry?: StockMonth;
  /** The first month at whose end more is wanted on average than there is. */
  short?: StockMonth;
}

/**
 * Stock and orders month by month until the season's end: all that will have been finished by a month's end against all that will have been
 * ordered, so that an order may wait within the months looked at. Exactly, by convolution; no random numbers.
 *
 *   S(t) = finished + Σ lots in stock + Σ new squares    each lot's share Beta with mean p g(t) and
 *   variance (v + p²)(g(1 − g) τ + g²) − p² g²           p, v mean and variance of its usable share, g the part of its shafts ready by t, τ timing
 *   service(t) = P(S(t) ≥ D(t)), D negative binomial; net = S − D
 *
 * The variance is that of the product of two independent shares: what becomes usable, and what of it is ready (mean g, correlation τ). At
 * the season's end g is 1 for lots in stock, and the shares are those of the plan.
 * Source: sums of independent counts as `convolve`; the rest common practice, no source.
 * Range: month ends, not days between; all orders until then are taken as due. Known orders count from the first month on.
 * Checked: tests/buying/stockAhead.test.ts, by enumeration and by drawing, and against `purchasePlan` at the season's end
 *
 * @throws RangeError unless `until` is after today and a purchase is of suppliers that have an offer
 */
export function stockAhead(input: StockInput, purchase?: PurchaseAhead, {serviceGoal = 0.9} = {}): StockAhead {
  const rows = monthEnds(input.today, input.until).map((endsOn) => stockMonth(input, endsOn, purchase));
  const dry = rows.find(({service}) => service < serviceGoal);
  const short = rows.find(({netMean}) => netMean < 0);
  return {months: rows, serviceGoal, ...(dry && {dry}), ...(short && {short})};
}

/** The ends of the months after a day, the last of them cut off at another. */
export function monthEnds(today: Day, until: Day): Day[] {
  check(until > today, "stockAhead: until", `after ${today}`, until);
  return months(monthOf(dayText(dayNumber(today) + 1)), monthOf(until)).map((month) =>
    monthEnd(month) < until ? monthEnd(month) : until
  );
}

/** Stock and orders from now to one day. */
function stockMonth(input: StockInput, endsOn: Day, purchase?: PurchaseAhead): StockMonth {
  const wanted = input.demandBy(endsOn);
  const {mean, size, known = 0} = wanted;
  const {made, split} = supplyBy(input, endsOn, purchase);
  const {levels} = made;
  const supply = made.supplyOf(split);
  const end = Math.max(...supply.map(({from, p}) => from + p.length));
  const demand = planDemand(wanted, Math.max(end, known + demandRange(mean, size).high * 2 + 50));
  const expected = (of: (s: number) => number) =>
    sum(
      levels.map(({weight}, level) => {
        const {from, p} = supply[level]!;
        return weight * p.reduce((total, one, k) => total + one * of(from + k), 0);
      })
    );
  const supplyMean = expected((s) => s);
  /** P(S − D ≤ k) = Σ P(S = s) P(D ≥ s − k) */
  const atLeast = (d: number) => (d <= 0 ? 1 : 1 - (demand.atMost[d - 1] ?? 1));
  const netAtMost = (k: number) => expected((s) => atLeast(s - k));
  const netQuantile = (p: number) => {
    let [low, high] = [-demand.atMost.length - 1, end];
    while (high - low > 1) {
      const middle = Math.floor((low + high) / 2);
      if (netAtMost(middle) >= p - 1e-12) high = middle;
      else low = middle;
    }
    return high;
  };
  return {
    month: monthOf(endsOn),
    endsOn,
    supplyMean,
    demandMean: demand.mean,
    netMean: supplyMean - demand.mean,
    netLow: netQuantile(0.025),
    netHigh: netQuantile(0.975),
    service: expected((s) => demand.atMost[s]!),
    sold: expected((s) => demand.served[s]!)
  };
}

/** The outcomes of what is finished by a day, and the squares of each offer that were bought. */
function supplyBy(input: StockInput, endsOn: Day, purchase?: PurchaseAhead): {made: Outcomes; split: Split} {
  const {today, finished, pipeline, offers, readyOf, timing = 0} = input;
  const end = dayNumber(endsOn);
  const stock = pipeline.flatMap(({readyWithin, ...lot}) => {
    const shape = readyShape(lot, readyWithin(end - dayNumber(today)), timing);
    return shape ? [{...lot, ...shape}] : [];
  });
  const boughtOn = purchase ? dayNumber(purchase.boughtOn) : end;
  const ready = purchase && end > boughtOn ? readyOf(boughtOn, end - boughtOn) : 0;
  const orders = (purchase?.orders ?? []).flatMap(({supplier, squares}) => {
    const offer = offers.find((one) => one.supplier === supplier);
    check(
      offer !== undefined,
      "stockAhead: supplier",
      `one of ${offers.map((one) => one.supplier).join(", ")}`,
      supplier
    );
    const shape = readyShape(offer, ready, timing);
    if (!shape || squares === 0) return [];
    const {doubt = 0} = offer;
    return [{squares, offer: {...offer, ...shape, doubt: doubt * ready ** 2}}];
  });
  const need: Need = {
    finished,
    pipeline: stock,
    offers: orders.map(({offer}) => offer),
    demand: input.demandBy(endsOn),
    money: {price: 1, shortageCost: 0, leftoverValue: 0}
  };
  const split = orders.map(({squares}) => squares);
  return {made: outcomes(need, split, input), split};
}

/**
 * The share of a lot that is usable and ready, from the share that becomes usable and the part g of it that is ready by then.
 *
 *   mean p g    variance E[U²] E[R²] − (p g)²    E[U²] = v + p², E[R²] = g (1 − g) τ + g²
 *
 * Source: Goodman (1960), J. Amer. Statist. Assoc. 55:708–713, for the variance of a product (from memory); that the two are independent, and
 * their product a Beta, is taken.
 * Checked: tests/buying/stockAhead.test.ts
 *
 * @param timing τ, how alike the shafts of a lot are in being ready: 0 each on its own, 1 all at once
 * @returns undefined while nothing is ready
 */
export function readyShape(usable: BetaShape, ready: number, timing: number): BetaShape | undefined {
  if (ready < 1e-9) return undefined;
  if (ready > 1 - 1e-9) return {alpha: usable.alpha, beta: usable.beta};
  const {mean: p, variance: v} = betaMoments(usable);
  const mean = p * ready;
  const variance = (v + p ** 2) * (ready * (1 - ready) * timing + ready ** 2) - mean ** 2;
  // Neither quite certain nor all or none, of which no Beta is.
  return betaByMoments({mean, variance: Math.max(1e-12, Math.min(variance, 0.999 * mean * (1 - mean)))});
}

/**
 * The lots in stock as `stockAhead` wants them: each lot of a supply with the part of its shafts that is finished within so many days, from the
 * chance of each of its pieces.
 *
 *   readyWithin(d) = Σ chance within d days / Σ chance within the days to the season's end    over the pieces that fit
 *
 * Source: common practice, no source. Checked: tests/buying/stockAhead.test.ts
 *
 * @param pipeline lots of the result of `supply`, made with the chance within `daysToEnd`
 * @param chanceWithin the chance of a piece to become a finished shaft within so many days
 * @throws RangeError when the lots are not those of the pieces
 */
export function lotsAhead(
  {settings, pieces}: Pick<Histories, "settings" | "pieces">,
  species: string,
  pipeline: readonly UncertainPieces[],
  {chanceWithin, daysToEnd}: {chanceWithin: (days: number) => (piece: Piece) => number | undefined; daysToEnd: number}
): LotAhead[] {
  const {low, high} = settings.species[species]!.windowKgM3;
  const stock = pieces.filter(
    ({species: own, fate, densityAt12KgM3: x}) => own === species && fate === "in stock" && x >= low && x <= high
  );
  const chanceAt = remembered(chanceWithin);
  const total = (lot: readonly Piece[], days: number) => sum(lot.map((piece) => chanceAt(days)(piece) ?? 0));
  const hopeful = [...groupBy(stock, ({lot}) => lot).values()]
    .map((lot) => lot.filter((piece) => (chanceAt(daysToEnd)(piece) ?? 0) > 0))
    .filter((lot) => lot.length > 0);
  const ofLot = new Map(hopeful.map((own) => [own[0]!.lot, own]));
  const piecesOf = ({lot}: UncertainPieces, i: number) => (lot === undefined ? hopeful[i] : ofLot.get(lot));
  check(
    hopeful.length === pipeline.length && pipeline.every((lot, i) => lot.n === piecesOf(lot, i)?.length),
    "lotsAhead: pipeline",
    `the lots of these pieces, of ${hopeful.map(({length}) => length).join(", ")} pieces`,
    pipeline.map(({n}) => n).join(", ")
  );
  return pipeline.map((lot, i) => {
    const own = piecesOf(lot, i)!;
    const end = total(own, daysToEnd);
    return {...lot, readyWithin: (days) => (days <= 0 ? 0 : Math.min(1, total(own, Math.min(days, daysToEnd)) / end))};
  });
}

/**
 * Orders to come until each day, so that they come to the plan's number at the season's end: the book's own curve of months where there is one,
 * stretched to that number, else the same number every day.
 *
 *   mean(t) = M · m(t)/m(T)    size(t) = R · r(t)/r(T)    M, R of the plan; m, r of the curve; T the season's end
 *
 * Where one of the sizes is not known (Poisson), R.
 * Source: common practice, no source. Checked: tests/buying/stockAhead.test.ts
 *
 * @param planned the plan's demand until `until`
 * @param curve the book's forecast until a day: `demandForecast`
 */
export function demandPath(
  planned: ReturnType<DemandBy>,
  {today, until, curve}: {today: Day; until: Day; curve: (day: Day) => {mean: number; size?: number} | undefined}
): DemandBy {
  const whole = curve(until);
  const days = (day: Day) => dayNumber(day) - dayNumber(today);
  return remembered((day: Day) => {
    const part = whole && curve(day);
    const share = whole && part && whole.mean > 0 ? part.mean / whole.mean : days(day) / days(until);
    const rough = whole?.size !== undefined && part?.size !== undefined ? part.size / whole.size : 1;
    return {
      mean: planned.mean * share,
      ...(planned.size !== undefined && {size: planned.size * rough}),
      known: planned.known ?? 0
    };
  });
}

/** By when to buy so that all orders can be served with a chance. */
export interface LastBuyDay {
  /** The chance wanted at each month's end, fraction of 1. */
  serviceGoal: number;
  /** Months at whose end the chance stays below it even if the squares are bought today, as they are not finished in time. */
  tooSoon: string[];
  /** Months at whose end it would stay below it if all of them were finished at once: they are too few. */
  tooFew: string[];
  /** Months that keep it only with the purchase. */
  kept: string[];
  /** The last day to buy that keeps it in all of those; absent when no month needs the purchase, or none can be kept by it. */
  buyBy?: Day;
  daysLeft?: number;
}

/**
 * For each chance wanted, the last day to buy so that at every month's end the chance to serve all orders up to then stays at least so
 * high: in every month in which it would if the squares were bought today. Months that even that cannot save are told apart.
 *
 * The chance falls as the day moves on, so the day is found by halving; where winter and summer purchases take unlike times it is a day after
 * which the chance is lost, not for certain the last of all.
 * Checked: tests/buying/stockAhead.test.ts, against every day tried
 */
export function lastBuyDays(
  input: StockInput,
  orders: PurchaseAhead["orders"],
  goals: readonly number[]
): LastBuyDay[] {
  const {today, until} = input;
  const ends = monthEnds(today, until);
  const onTheSpot: StockInput = {...input, readyOf: () => 1};
  /** The chance at the end of a month without the purchase, bought on a day, or finished on the spot. */
  const serviceAt = remembered((key: string) => {
    const [endsOn, boughtOn] = key.split(" ") as [Day, Day | "never" | "ready"];
    const {made, split} =
      boughtOn === "ready"
        ? supplyBy(onTheSpot, endsOn, {boughtOn: today, orders})
        : supplyBy(input, endsOn, boughtOn === "never" ? undefined : {boughtOn, orders});
    return made.exact(split).service;
  });
  return goals.map((serviceGoal) => {
    const keeps = (endsOn: Day, boughtOn: Day | "never" | "ready") =>
      serviceAt(`${endsOn} ${boughtOn}`) >= serviceGoal - 1e-12;
    const needing = ends.filter((endsOn) => !keeps(endsOn, "never"));
    const kept = needing.filter((endsOn) => keeps(endsOn, today));
    const lost = needing.filter((endsOn) => !kept.includes(endsOn));
    const tooSoon = lost.filter((endsOn) => keeps(endsOn, "ready")).map(monthOf);
    const tooFew = lost.filter((endsOn) => !keeps(endsOn, "ready")).map(monthOf);
    if (kept.length === 0) return {serviceGoal, tooSoon, tooFew, kept: []};
    let [low, high] = [0, dayNumber(until) - dayNumber(today)];
    while (high - low > 1) {
      const middle = Math.floor((low + high) / 2);
      const day = dayText(dayNumber(today) + middle);
      if (kept.every((endsOn) => keeps(endsOn, day))) low = middle;
      else high = middle;
    }
    return {
      serviceGoal,
      tooSoon,
      tooFew,
      kept: kept.map(monthOf),
      buyBy: dayText(dayNumber(today) + low),
      daysLeft: low
    };
  });
}
