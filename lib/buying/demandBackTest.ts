import {type Day, dayNumber, dayText, monthIndex, monthOf, monthText} from "../book/day.ts";
import type {Histories} from "../book/histories.ts";
import {check} from "../check.ts";
import {mean} from "../stats/mean.ts";
import {negativeBinomialPmf} from "../stats/negativeBinomial.ts";
import {sum} from "../stats/numbers.ts";
import {demandForecast} from "./demandForecast.ts";

/** A forecast as it would have been made on a past day, and what was then ordered. */
export interface PastForecast {
  species: string;
  /** The last day that it knew. */
  madeOn: Day;
  from: Day;
  to: Day;
  /** Whether it was made for the first day of a selling year. */
  isSeason: boolean;
  monthsKnown: number;
  mean: number;
  low: number;
  high: number;
  /** Shafts ordered from the one day to the other. */
  ordered: number;
  isInside: boolean;
  /** (ordered − mean)/mean: above 0 where more came than was expected. */
  errorFraction: number;
  /** Chance that the forecast gave to fewer than came, those as many counting half: about evenly spread from 0 to 1 if it is right. */
  chanceBelow: number;
  /** Shafts ordered in as many months before: what the rule "as last year" would have said; undefined where the book is younger. */
  before?: number;
}

/** All past forecasts of one species, and how they did. */
export interface DemandBackTest {
  species: string;
  monthsAhead: number;
  forecasts: PastForecast[];
  inside: number;
  /** How many of them do not overlap: only so many are independent. */
  apart: number;
  meanErrorFraction: number;
  meanAbsoluteErrorFraction: number;
  /** Against the rule "as in as many months before", over the forecasts that have both: shafts off, mean without sign. */
  compared: number;
  offShafts?: number;
  beforeOffShafts?: number;
}

/**
 * What `demandForecast` would have said in the past, from the orders known on the day alone, against what was then ordered: for the first
 * day of each selling year and of each quarter from it.
 *
 *   inside          low ≤ ordered ≤ high
 *   error           (ordered − mean)/mean
 *   chance below    F(x − 1) + P(x)/2, x the number that came, F and P of the forecast's negative binomial
 *
 * Forecasts a quarter apart for a year share most of their months: thirteen of them tell little more than the three or four that do not overlap.
 * The owner's words in `workshop.json` are left out: they are of today.
 *
 * Range: forecasts whose last day is past. Source: Czado, Gneiting & Held (2009), Biometrics 65:1254–1261, for the chance of counts (from memory).
 * Checked: tests/buying/demandBackTest.test.ts
 *
 * @param monthsAhead how far each looks; 12 by default, a selling year
 * @param everyMonths how far apart they are, a divisor of 12; 3 by default
 * @returns undefined when no forecast could be made whose time is over
 * @throws RangeError unless monthsAhead is a count of 1 or more, and everyMonths divides 12
 */
export function demandBackTest(
  histories: Histories,
  species: string,
  {monthsAhead = 12, everyMonths = 3} = {}
): DemandBackTest | undefined {
  check(Number.isInteger(monthsAhead) && monthsAhead >= 1, "demandBackTest: monthsAhead", "1 or more", monthsAhead);
  check([1, 2, 3, 4, 6, 12].includes(everyMonths), "demandBackTest: everyMonths", "1, 2, 3, 4, 6 or 12", everyMonths);
  const {settings, asOf} = histories;
  const orders = histories.orders.filter((order) => order.species === species);
  const first = orders.map(({orderedOn}) => orderedOn).sort()[0];
  if (first === undefined) return undefined;
  const [seasonMonth, dayOfMonth] = settings.season.startsOn.split("-") as [string, string];
  const day = (index: number) => `${monthText(index)}-${dayOfMonth}`;
  const dayBefore = (one: Day) => dayText(dayNumber(one) - 1);
  const ordered = (from: Day, to: Day) =>
    sum(orders.map(({orderedOn, quantity}) => (from <= orderedOn && orderedOn <= to ? quantity : 0)));
  const season = monthIndex(`2000-${seasonMonth}`);
  const forecasts: PastForecast[] = [];
  for (let index = monthIndex(monthOf(first)); ; index++) {
    const [from, to] = [day(index), dayBefore(day(index + monthsAhead))];
    if (dayNumber(to) > asOf) break;
    if ((index - season) % everyMonths !== 0) continue;
    const madeOn = dayBefore(from);
    const known = orders.filter(({orderedOn}) => orderedOn <= madeOn);
    const forecast = demandForecast({...histories, asOf: dayNumber(madeOn), orders: known, pieces: []}, species, to);
    if (!forecast) continue;
    const {monthsKnown, mean, size, low, high} = forecast;
    const came = ordered(from, to);
    const pmf = negativeBinomialPmf(size ?? Number.POSITIVE_INFINITY, mean, came);
    const since = day(index - monthsAhead);
    forecasts.push({
      species,
      madeOn,
      from,
      to,
      isSeason: (index - season) % 12 === 0,
      monthsKnown,
      mean,
      low,
      high,
      ordered: came,
      isInside: low <= came && came <= high,
      errorFraction: (came - mean) / mean,
      chanceBelow: sum(pmf) - pmf.at(-1)! / 2,
      ...(since >= `${monthOf(first)}-01` && {before: ordered(since, madeOn)})
    });
  }
  if (forecasts.length === 0) return undefined;
  const compared = forecasts.flatMap(({ordered, mean, before}) =>
    before === undefined ? [] : [{off: Math.abs(ordered - mean), beforeOff: Math.abs(ordered - before)}]
  );
  return {
    species,
    monthsAhead,
    forecasts,
    inside: forecasts.filter(({isInside}) => isInside).length,
    apart:
      Math.floor(
        (monthIndex(monthOf(forecasts.at(-1)!.from)) - monthIndex(monthOf(forecasts[0]!.from))) / monthsAhead
      ) + 1,
    meanErrorFraction: mean(forecasts.map(({errorFraction}) => errorFraction))!,
    meanAbsoluteErrorFraction: mean(forecasts.map(({errorFraction}) => Math.abs(errorFraction)))!,
    compared: compared.length,
    ...(compared.length > 0 && {
      offShafts: mean(compared.map(({off}) => off))!,
      beforeOffShafts: mean(compared.map(({beforeOff}) => beforeOff))!
    })
  };
}
