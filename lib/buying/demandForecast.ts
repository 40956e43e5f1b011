import {dayNumber, dayText, monthEnd, monthIndex, monthOf, months} from "../book/day.ts";
import type {Histories} from "../book/histories.ts";
import type {Order} from "../book/records.ts";
import {check} from "../check.ts";
import {countQuantile} from "../stats/countQuantile.ts";
import {normalFactor, studentFactor} from "../stats/interval.ts";
import {momentSize} from "../stats/momentSize.ts";
import {negativeBinomialPmf} from "../stats/negativeBinomial.ts";
import {poissonRegression} from "../stats/poissonRegression.ts";

/** Shafts ordered in one month, and what the fitted curve says of the whole month. */
export interface DemandMonth {
  month: string;
  ordered?: number;
  expected: number;
}

/** How many shafts will be wanted from now to a day. */
export interface DemandForecast {
  species: string;
  from: string;
  to: string;
  /** Ordered already and not yet delivered or allotted. */
  open: number;
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
  /** Whole months of history. */
  monthsKnown: number;
  months: DemandMonth[];
}

/**
 * Demand for shafts of one species from the day after the question to a day, from the order history: whole months counted by the day the
 * order came in, fitted by a log-linear curve of trend and season,
 *
 *   log μ(t) = b₀ + b₁ t + Σ bₖ cos/sin(2π k t)     t in years
 *
 * two harmonics and trend from 36 months on, one from 24; with less only the mean. The number still to come is negative binomial with mean
 * Σ μ and the variance
 *
 *   Σ μ + (Σ μ² / r + g′ Cov(b) g · φ) · (t/z)²        g = Σ μ x, r the months' own size by moments, φ = Pearson χ² / df (at least 1)
 *
 * so that the scatter of months, the uncertainty of the curve and that both are known from few months are in it. Growth is carried on as it was: say so.
 * Range: at least 6 whole months with at least 5 shafts.
 * Checked: tests/buying/demandForecast.test.ts; the fits against R in tests/reference; coverage in the contributor's guide
 *
 * @returns undefined when the history is too short to say
 */
export function demandForecast(histories: Histories, species: string, until: string): DemandForecast | undefined {
  const {asOf} = histories;
  check(dayNumber(until) > asOf, "demandForecast: until", `after ${dayText(asOf)}`, until);
  const orders = histories.orders.filter((order) => order.species === species);
  if (orders.length === 0) return undefined;
  const today = dayText(asOf);
  const lastWhole = monthEnd(monthOf(today)) === today ? monthIndex(monthOf(today)) : monthIndex(monthOf(today)) - 1;
  const first = orders.map(({orderedOn}) => monthOf(orderedOn)).sort()[0]!;
  const known = months(first, monthOf(today)).filter((month) => monthIndex(month) <= lastWhole);
  const perMonth = new Map<string, number>();
  for (const {orderedOn, quantity} of orders)
    perMonth.set(monthOf(orderedOn), (perMonth.get(monthOf(orderedOn)) ?? 0) + quantity);
  const counts = known.map((month) => perMonth.get(month) ?? 0);
  if (known.length < 6 || counts.reduce((a, b) => a + b, 0) < 5) return undefined;

  const harmonics = known.length >= 36 ? 2 : known.length >= 24 ? 1 : 0;
  const trend = known.length >= 24;
  const term = (month: string) => terms((monthIndex(month) - lastWhole) / 12, trend, harmonics);
  const fit = poissonRegression(known.map(term), counts);
  if (fit === undefined) return undefined;
  const dispersion = Math.max(1, fit.pearson / fit.df);
  const monthSize = momentSize(counts, fit.fitted, fit.df);

  const ahead = months(monthOf(today), monthOf(until)).map((month) => {
    const share = shareAfter(month, asOf, dayNumber(until));
    const wholeMonth = Math.exp(dot(term(month), fit.coefficients));
    return {month, share, x: term(month), wholeMonth, expected: share * wholeMonth};
  });
  const coming = ahead.filter(({share}) => share > 0);
  const mean = coming.reduce((sum, {expected}) => sum + expected, 0);
  const gradient = fit.coefficients.map((_, k) => coming.reduce((sum, {x, expected}) => sum + x[k]! * expected, 0));
  const ofCurve =
    dispersion *
    dot(
      gradient,
      fit.covariance.map((row) => dot(row, gradient))
    );
  const ofMonths = monthSize === undefined ? 0 : coming.reduce((sum, {expected}) => sum + expected ** 2 / monthSize, 0);
  // Both are known from few months only: Student's law for the normal.
  const student = studentFactor(0.95, fit.df, "demandForecast");
  const factor = student / normalFactor(0.95, "demandForecast");
  const extra = (ofCurve + ofMonths) * factor ** 2;
  const growth = trend ? {b: fit.coefficients[1]!, se: Math.sqrt(dispersion * fit.covariance[1]![1]!)} : undefined;
  const history = known.map((month, i) => ({month, ordered: counts[i]!, expected: fit.fitted[i]!}));
  return {
    species,
    from: dayText(asOf + 1),
    to: until,
    open: openShafts(histories, orders),
    mean,
    ...(extra > 0 && {size: mean ** 2 / extra}),
    sd: Math.sqrt(mean + extra),
    ...range(mean, extra),
    ...(growth && {
      growthFraction: Math.exp(growth.b) - 1,
      growthLow: Math.exp(growth.b - student * growth.se) - 1,
      growthHigh: Math.exp(growth.b + student * growth.se) - 1
    }),
    monthsKnown: known.length,
    months: [
      ...history,
      ...coming
        .filter(({month}) => monthIndex(month) > lastWhole)
        .map(({month, wholeMonth}) => ({month, expected: wholeMonth}))
    ]
  };
}

/** The middle 95 % of a negative binomial number of a mean and a variance beyond Poisson's. */
function range(mean: number, extra: number): {low: number; high: number} {
  const size = extra > 0 ? mean ** 2 / extra : Number.POSITIVE_INFINITY;
  const most = Math.ceil(mean + 12 * Math.sqrt(mean + extra) + 40);
  const pmf = negativeBinomialPmf(size, mean, most);
  return {low: countQuantile(pmf, 0.025)!, high: countQuantile(pmf, 0.975)!};
}

function terms(years: number, trend: boolean, harmonics: number): number[] {
  const waves = Array.from({length: harmonics}, (_, k) => 2 * Math.PI * (k + 1) * years);
  return [1, ...(trend ? [years] : []), ...waves.flatMap((angle) => [Math.cos(angle), Math.sin(angle)])];
}

/** The part of a month that lies after one day and not after another. */
function shareAfter(month: string, after: number, until: number): number {
  const start = dayNumber(`${month}-01`);
  const end = dayNumber(monthEnd(month));
  return Math.max(0, Math.min(end, until) - Math.max(start - 1, after)) / (end - start + 1);
}

/** Shafts ordered that no piece has been allotted or delivered for. */
function openShafts({pieces}: Histories, orders: readonly Order[]): number {
  const served = new Map<string, number>();
  for (const {allottedTo} of pieces)
    if (allottedTo !== undefined) served.set(allottedTo, (served.get(allottedTo) ?? 0) + 1);
  return orders.reduce((sum, {order, quantity}) => sum + Math.max(0, quantity - (served.get(order) ?? 0)), 0);
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, i) => sum + x * b[i]!, 0);
}
