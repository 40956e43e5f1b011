import {dayText} from "../book/day.ts";
import type {DemandSetting} from "../book/settings.ts";
import {sum} from "../stats/numbers.ts";
import {type DemandForecast, demandForecasts, type OrdersKnown, openShafts} from "./demandForecast.ts";
import {demandRange} from "./demandRange.ts";

/** What the owner may say of demand in `workshop.json`, by the name of the setting. */
export type DemandWord = "shafts" | "growthPct" | "lostPct" | "bigOrder";

/** The demand to plan for: the book's forecast with what the owner says of it. */
export interface PlannedDemand {
  species: string;
  from: string;
  to: string;
  /** Orders to come: mean and negative binomial size (undefined: Poisson). */
  mean: number;
  size?: number;
  /** Shafts wanted for certain: open orders and the owner's big order. */
  known: number;
  sd: number;
  /** Between these the number to come lies in 95 of 100 cases. */
  low: number;
  high: number;
  open: number;
  bigOrder: number;
  /** Recorded as lost so far, for want of a shaft. */
  lost: number;
  /** What the owner's words replaced or added, and which of them had no effect as `shafts` was given. */
  overridden: DemandWord[];
  idle: DemandWord[];
  /** What the book says by itself; undefined when it is too young. */
  book?: DemandForecast;
}

/**
 * The demand for one species until a day as the plan takes it: the book's own forecast, unless `demand` in `workshop.json` says otherwise,
 * in this order.
 *
 *   shafts      mean = shafts; variance = sd², or ((high − low)/(2 z))² with z = 1.96, or else m + m²/r with the book's r;
 *               size = m²/(variance − m), Poisson where the variance is no more than m, or nothing is known of it
 *   growthPct   the curves go on with that growth, see `demandForecast`
 *   lostPct     mean ÷ (1 − lostPct/100), size as it was
 *   bigOrder    known = open + bigOrder
 *
 * Why lostPct leaves the size: if each shaft asked for is written down with the chance q, a negative binomial number D of size r and mean m
 * leaves one of size r and mean q m; the way back keeps r too. An own number stands for all that is to come, so growth and losses are idle then.
 *
 * Source: thinning, Johnson, Kemp and Kotz (2005), Univariate Discrete Distributions, chapter 5 (from memory); the rest common practice, no source.
 * Checked: tests/buying/demandOverride.test.ts, size and loss by thinning the distribution itself
 *
 * @returns undefined when the book is too young and the owner gives no number
 * @throws RangeError unless `until` is after the day of the question
 */
export function demandOverride(histories: OrdersKnown, species: string, until: string): PlannedDemand | undefined {
  const said: Partial<DemandSetting> = histories.settings.demand[species] ?? {};
  const {shafts, growthPct, lostPct = 0, bigOrder = 0} = said;
  const forecast = demandForecasts(histories, species);
  const book = forecast(until);
  const carried = growthPct === undefined ? book : forecast(until, {growthFraction: growthPct / 100});
  const number =
    shafts !== undefined
      ? {mean: shafts, size: ownSize(said, shafts, book?.size)}
      : carried && {mean: carried.mean / (1 - lostPct / 100), size: carried.size};
  if (number === undefined) return undefined;
  const {mean, size} = number;
  const orders = histories.orders.filter((order) => order.species === species);
  const open = openShafts(histories, orders);
  const given: [DemandWord, boolean][] = [
    ["shafts", shafts !== undefined],
    ["growthPct", growthPct !== undefined],
    ["lostPct", lostPct > 0],
    ["bigOrder", bigOrder > 0]
  ];
  const isIdle = (word: DemandWord) => shafts !== undefined && (word === "growthPct" || word === "lostPct");
  const words = given.flatMap(([word, is]) => (is ? [word] : []));
  return {
    species,
    from: dayText(histories.asOf + 1),
    to: until,
    mean,
    ...(size !== undefined && {size}),
    known: open + bigOrder,
    sd: Math.sqrt(mean + (size === undefined ? 0 : mean ** 2 / size)),
    ...demandRange(mean, size),
    open,
    bigOrder,
    lost: sum(orders.map(({lost = 0}) => lost)),
    overridden: words.filter((word) => !isIdle(word)),
    idle: words.filter(isIdle),
    ...(book && {book})
  };
}

/** The size that gives the owner's number the scatter that goes with it. */
function ownSize({sd, low, high}: Partial<DemandSetting>, mean: number, ofBook?: number): number | undefined {
  const deviation = sd ?? (low !== undefined && high !== undefined ? (high - low) / (2 * 1.959964) : undefined);
  if (deviation === undefined) return mean > 0 ? ofBook : undefined;
  return deviation ** 2 > mean && mean > 0 ? mean ** 2 / (deviation ** 2 - mean) : undefined;
}
