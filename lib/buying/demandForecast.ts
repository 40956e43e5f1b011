import {dayNumber, dayText, monthEnd, monthIndex, monthOf, months, monthText} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import type {Order} from "../book/records.ts";
import {shaftsGiven} from "../book/shafts.ts";
import {check} from "../check.ts";
import {normalFactor, studentFactor} from "../stats/interval.ts";
import {momentSize} from "../stats/momentSize.ts";
import {sum} from "../stats/numbers.ts";
import {type PoissonRegression, poissonRegression} from "../stats/poissonRegression.ts";
import {demandRange} from "./demandRange.ts";

/** Shafts ordered in one month, and what the fitted curve says of the whole month. */
export interface DemandMonth {
  month: string;
  ordered?: number;
  expected: number;
}

/** How far the months of a year differ, by the curve with most terms; growth taken out. */
export interface DemandSeason {
  /** Months of the year, 1 to 12. */
  busiest: number;
  quietest: number;
  /** So many times the orders of the quietest month come in the busiest, with the 95 % interval. */
  ratio: number;
  low: number;
  high: number;
  /** Weight of the curves that have a season, 0 to 1: how well the months bear one out. */
  weight: number;
}

/** How many shafts will be wanted from now to a day. */
export interface DemandForecast {
  species: string;
  from: string;
  to: string;
  /** Ordered already and not yet delivered, allotted or lost. */
  open: number;
  /** Of all shafts ordered so far, those recorded as lost for want of one; they are in the months, not in `open`. */
  lost: number;
  /** Orders still to come: mean and negative binomial size (undefined: Poisson). */
  mean: number;
  size?: number;
  sd: number;
  /** Between these the number to come lies in 95 of 100 cases. */
  low: number;
  high: number;
  /** Change a year, fraction; undefined with less than two years of orders. */
  growthFraction?: number;
  growthLow?: number;
  growthHigh?: number;
  /** Undefined with less than two years of orders. */
  season?: DemandSeason;
  /** Whole months of history. */
  monthsKnown: number;
  months: DemandMonth[];
}

/** The orders of a book, and which shafts were given to any. */
export type OrdersKnown = Pick<Histories, "settings" | "asOf"> & {orders: readonly Order[]} & ShaftsKnown;

/** Pieces with the orders that they were given to, or how many shafts each order was given, by its number. */
export type ShaftsKnown = {pieces: readonly Pick<Piece, "allottedTo">[]} | {given: ReadonlyMap<string, number>};

/**
 * Demand for shafts of one species from the day after the question to a day, from the order history: whole months counted by the day the
 * order came in, fitted by a log-linear curve of trend and season,
 *
 *   ln μ(t) = b₀ + b₁ t + Σ bₖ cos/sin(2π k t)     t in years
 *
 * Trend and harmonics are there or not: from 24 months on with and without trend, up to one harmonic, from 36 up to two; with less only the
 * mean. A curve that expects more than three times the busiest year ahead is left out. Each other counts by its weight exp(−QAICc/2), QAICc = deviance/φ + 2 k n/(n − k − 1), k coefficients and φ, n months; so growth and
 * season are carried on as far as the months bear them out. The number still to come is negative binomial with mean m = Σ w m_j and variance
 *
 *   m + (Σ μ²/r + Σ w (v_j + (m_j − m)²)) · (t/z)²        v = g′ Cov(b) g · φ, g = Σ μ x; r the months' own size by moments
 *   φ = Pearson χ²/df of the curve with most terms, at least 1; t with its degrees of freedom
 *
 * so that the scatter of months, the doubt about the curve and that both are known from few months are in it.
 *
 * The season is told by the curve with most terms: ratio = exp(s), s = c′b, c the waves of its busiest month less those of its quietest,
 * interval exp(s ∓ t √(φ c′ Cov(b) c)). As the two months are picked by the same data it looks rather larger than it is.
 *
 * With a growth given, each curve goes on from its level at the end of the last whole month, where t = 0, with its season and that growth g
 * a year instead of its own: ln μ(t) = b₀ + t ln(1 + g) + waves for t > 0, b₁ counting for the past only. Common practice, no source.
 * Source: Burnham & Anderson (2002), Model Selection and Multimodel Inference, §2.5 and §4.3 (from memory).
 * Shafts lost for want of one on the rack were ordered and count in the months; see `demandOverride` for those not recorded.
 *
 * Range: at least 6 whole months with at least 5 shafts; growth above −1.
 * Checked: tests/buying/demandForecast.test.ts; the fits against R in tests/reference; coverage in the contributor's guide
 *
 * @param growthFraction growth a year from now on, instead of that of the curves; `growthFraction` of the result stays that of the past
 * @returns undefined when the history is too short to say
 */
export function demandForecast(
  histories: OrdersKnown,
  species: string,
  until: string,
  options: {growthFraction?: number} = {}
): DemandForecast | undefined {
  return demandForecasts(histories, species)(until, options);
}

/** The same for any day and growth: the curves are fitted to the months once, whatever is asked of them. */
export function demandForecasts(
  histories: OrdersKnown,
  species: string
): (until: string, options?: {growthFraction?: number}) => DemandForecast | undefined {
  const {asOf} = histories;
  const orders = histories.orders.filter((order) => order.species === species);
  const today = dayText(asOf);
  const lastWhole = monthEnd(monthOf(today)) === today ? monthIndex(monthOf(today)) : monthIndex(monthOf(today)) - 1;
  const perMonth = new Map<string, number>();
  for (const {orderedOn, quantity} of orders) {
    const month = monthOf(orderedOn);
    perMonth.set(month, (perMonth.get(month) ?? 0) + quantity);
  }
  const [first = monthOf(today)] = [...perMonth.keys()].sort();
  const known = months(first, monthOf(today)).filter((month) => monthIndex(month) <= lastWhole);
  const counts = known.map((month) => perMonth.get(month) ?? 0);
  const isEnough = known.length >= 6 && sum(counts) >= 5;
  const years = (month: string) => (monthIndex(month) - lastWhole) / 12;
  const fitted = isEnough ? curvesOf(known.map(years), counts) : [];
  const served = {open: openShafts(histories, orders), lost: sum(orders.map(({lost = 0}) => lost))};

  return (until, {growthFraction: given} = {}) => {
    check(dayNumber(until) > asOf, "demandForecast: until", `after ${today}`, until);
    check(given === undefined || given > -1, "demandForecast: growthFraction", "more than -1", given);
    if (fitted.length === 0) return undefined;
    const grown = (month: string) => (given === undefined ? 1 : (1 + given) ** Math.max(0, years(month)));
    const ahead = months(monthOf(today), monthOf(until))
      .map((month) => ({month, share: grown(month) * shareAfter(month, asOf, dayNumber(until))}))
      .filter(({share}) => share > 0);
    const trendAt = (month: string) => (given === undefined ? years(month) : Math.min(0, years(month)));
    const mostAhead = mostBelieved(counts) * sum(ahead.map(({share}) => share));
    const fits = fitted
      .map(({grows, harmonics, fit}) => {
        const term: Term = (month) => terms(years(month), grows ? trendAt(month) : undefined, harmonics);
        return {grows, harmonics, fit, term, mean: meanAhead(fit, term, ahead)};
      })
      .filter(({mean}) => mean <= mostAhead);
    if (fits.length === 0) return undefined;
    const {fit: full, grows, harmonics} = fits.at(-1)!; // the curve with most terms
    const dispersion = Math.max(1, full.pearson / full.df);
    const weights = likelihoodWeights(
      fits.map(({fit}) => fit),
      dispersion,
      known.length
    );
    const curves = fits.map(({fit, term, mean}, k) => ({
      fit,
      term,
      weight: weights[k]!,
      mean,
      variance: dispersion * varianceAhead(fit, term, ahead)
    }));
    const over = (f: (curve: (typeof curves)[number]) => number) =>
      curves.reduce((sum, curve) => sum + curve.weight * f(curve), 0);
    const mean = over((curve) => curve.mean);
    const ofCurve = over((curve) => curve.variance + (curve.mean - mean) ** 2);
    const ofCurves = (month: string) => over(({fit, term}) => Math.exp(dot(term(month), fit.coefficients)));
    const expected = (month: string) => grown(month) * ofCurves(month);
    const monthSize = momentSize(counts, full.fitted, full.df);
    const ofMonths =
      monthSize === undefined
        ? 0
        : ahead.reduce((sum, {month, share}) => sum + (share * ofCurves(month)) ** 2 / monthSize, 0);
    // Both are known from few months only: Student's law for the normal.
    const student = studentFactor(0.95, full.df, "demandForecast");
    const factor = student / normalFactor(0.95, "demandForecast");
    const extra = (ofCurve + ofMonths) * factor ** 2;
    const growth = grows ? {b: full.coefficients[1]!, se: Math.sqrt(dispersion * full.covariance[1]![1]!)} : undefined;
    const season =
      harmonics === 0
        ? undefined
        : {
            ...yearShape(full, (month) => waves(years(month), harmonics), lastWhole, student * Math.sqrt(dispersion)),
            weight: sum(fits.map((fit, k) => (fit.harmonics > 0 ? weights[k]! : 0)))
          };
    const history = known.map((month, i) => ({
      month,
      ordered: counts[i]!,
      expected: over(({fit}) => fit.fitted[i]!)
    }));
    return {
      species,
      from: dayText(asOf + 1),
      to: until,
      ...served,
      mean,
      ...(extra > 0 && {size: mean ** 2 / extra}),
      sd: Math.sqrt(mean + extra),
      ...demandRange(mean, extra > 0 ? mean ** 2 / extra : undefined),
      ...(growth && {
        growthFraction: Math.exp(growth.b) - 1,
        growthLow: Math.exp(growth.b - student * growth.se) - 1,
        growthHigh: Math.exp(growth.b + student * growth.se) - 1
      }),
      ...(season && {season}),
      monthsKnown: known.length,
      months: [
        ...history,
        ...ahead
          .filter(({month}) => monthIndex(month) > lastWhole)
          .map(({month}) => ({month, expected: expected(month)}))
      ]
    };
  };
}

/** The curves that so many months allow, fitted to them, that with most terms last. */
function curvesOf(years: readonly number[], counts: readonly number[]) {
  const most = years.length >= 36 ? 2 : years.length >= 24 ? 1 : 0;
  const trend = years.length >= 24;
  const shapes = [false, true].flatMap((grows) =>
    grows && !trend ? [] : Array.from({length: most + 1}, (_, harmonics) => ({grows, harmonics}))
  );
  return shapes.flatMap(({grows, harmonics}) => {
    const design = years.map((year) => terms(year, grows ? year : undefined, harmonics));
    const fit = poissonRegression(design, counts);
    return fit ? [{grows, harmonics, fit}] : [];
  });
}

type Ahead = readonly {month: string; share: number}[];
type Term = (month: string) => number[];

/** How many orders a curve expects ahead. */
function meanAhead({coefficients}: PoissonRegression, term: Term, ahead: Ahead): number {
  return sum(ahead.map(({month, share}) => share * Math.exp(dot(term(month), coefficients))));
}

/** How well it knows that number, were the months to scatter by chance alone: g′ Cov(b) g. */
function varianceAhead({coefficients, covariance}: PoissonRegression, term: Term, ahead: Ahead): number {
  const gradient = coefficients.map(() => 0);
  for (const {month, share} of ahead) {
    const own = term(month);
    const mean = share * Math.exp(dot(own, coefficients));
    for (let k = 0; k < gradient.length; k++) gradient[k]! += mean * own[k]!;
  }
  return dot(
    gradient,
    covariance.map((row) => dot(row, gradient))
  );
}

/** Three times a month of the busiest year: a curve that expects more has run away. Common practice, no source. */
function mostBelieved(counts: readonly number[]): number {
  const span = Math.min(12, counts.length);
  const sums = counts.slice(span - 1).map((_, i) => sum(counts.slice(i, i + span)));
  return (3 * Math.max(...sums)) / span;
}

/** exp(−QAICc/2), adding up to 1: how much each curve is worth beside the others, its coefficients paid for. */
function likelihoodWeights(fits: readonly PoissonRegression[], dispersion: number, n: number): number[] {
  const scores = fits.map(({deviance, coefficients}) => {
    const k = coefficients.length + 1;
    return deviance / dispersion + (2 * k * n) / (n - k - 1);
  });
  const lowest = Math.min(...scores);
  const weights = scores.map((score) => Math.exp((lowest - score) / 2));
  const total = weights.reduce((a, b) => a + b, 0);
  return weights.map((weight) => weight / total);
}

function terms(years: number, trend: number | undefined, harmonics: number): number[] {
  return [1, ...(trend === undefined ? [] : [trend]), ...waves(years, harmonics)];
}

function waves(years: number, harmonics: number): number[] {
  const angles = Array.from({length: harmonics}, (_, k) => 2 * Math.PI * (k + 1) * years);
  return angles.flatMap((angle) => [Math.cos(angle), Math.sin(angle)]);
}

/** The busiest and the quietest month of a curve's year, and the ratio of their orders; the waves stand last in the curve. */
function yearShape(
  {coefficients, covariance}: PoissonRegression,
  wavesOf: Term,
  lastWhole: number,
  factor: number
): Omit<DemandSeason, "weight"> {
  const year = Array.from({length: 12}, (_, i) => monthText(lastWhole + 1 + i));
  const full = (month: string) => {
    const own = wavesOf(month);
    return [...Array<number>(coefficients.length - own.length).fill(0), ...own];
  };
  const byOrders = year.toSorted((a, b) => dot(full(a), coefficients) - dot(full(b), coefficients));
  const [quietest, busiest] = [byOrders[0]!, byOrders.at(-1)!];
  const low = full(quietest);
  const apart = full(busiest).map((x, k) => x - low[k]!);
  const log = dot(apart, coefficients);
  const off =
    factor *
    Math.sqrt(
      dot(
        covariance.map((row) => dot(row, apart)),
        apart
      )
    );
  const ofYear = (month: string) => (monthIndex(month) % 12) + 1;
  return {
    busiest: ofYear(busiest),
    quietest: ofYear(quietest),
    ratio: Math.exp(log),
    low: Math.exp(log - off),
    high: Math.exp(log + off)
  };
}

/** The part of a month that lies after one day and not after another. */
function shareAfter(month: string, after: number, until: number): number {
  const start = dayNumber(`${month}-01`);
  const end = dayNumber(monthEnd(month));
  return Math.max(0, Math.min(end, until) - Math.max(start - 1, after)) / (end - start + 1);
}

/** Shafts of some orders that no piece has been allotted or delivered for, and that are not lost; a count. Checked: tests/buying/demandForecast.test.ts */
export function openShafts(known: ShaftsKnown, orders: readonly Order[]): number {
  const served = givenByOrder(known);
  return orders.reduce(
    (sum, {order, quantity, lost = 0}) => sum + Math.max(0, quantity - lost - (served.get(order) ?? 0)),
    0
  );
}

/** How many shafts each order has been given, by its number. Checked: tests/buying/demandForecast.test.ts */
export function givenByOrder(known: ShaftsKnown): ReadonlyMap<string, number> {
  return "given" in known ? known.given : shaftsGiven(known.pieces);
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, i) => sum + x * b[i]!, 0);
}
