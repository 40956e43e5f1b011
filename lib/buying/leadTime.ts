import {type Day, dayNumber, dayText} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import type {Lot} from "../book/records.ts";
import {countedPurchaseSpells, type LotCounts} from "../book/spellCounts.ts";
import {byLot, purchaseSpells} from "../book/spells.ts";
import {type EndingTimes, endingTimes} from "../stats/endingTimes.ts";
import type {Spell} from "../stats/eventTable.ts";
import {sum} from "../stats/numbers.ts";
import {withinCorrelation} from "../stats/withinCorrelation.ts";
import {type HalfYear, type HalfYearDifference, halfYearDifference, halfYearOf} from "./stageTimes.ts";

/** How long squares take to become shafts, and when they must be bought for a season. */
export interface LeadTime {
  /** Share of the shafts that a purchase will give, finished within the days. */
  shareFraction: number;
  days: number;
  /** 95 % interval by lots; absent with fewer than four. */
  daysLow?: number;
  daysHigh?: number;
  /** The last day to have the squares in the store. */
  buyBy: Day;
  /** Days left; negative when the day is past. */
  daysLeft: number;
  /** The purchases the days are from: those of the half year in which `buyBy` lies where the halves differ, else all. */
  purchases: "all year" | HalfYear;
  lots: number;
  /** Shafts finished, of those purchases. */
  finished: number;
}

/** The next season that begins after a day: its first and last day, by the settings. */
export function nextSeason({settings, asOf}: Pick<Histories, "settings" | "asOf">): {startsOn: Day; endsOn: Day} {
  const year = Number(dayText(asOf).slice(0, 4));
  const start = [year, year + 1].map((y) => `${y}-${settings.season.startsOn}`).find((day) => dayNumber(day) > asOf)!;
  return {
    startsOn: start,
    endsOn: dayText(dayNumber(`${Number(start.slice(0, 4)) + 1}-${settings.season.startsOn}`) - 1)
  };
}

/** The days from purchase to finished shaft, of all purchases and of those of each half year. */
export interface FinishTimes {
  all?: EndingTimes;
  winter?: EndingTimes;
  summer?: EndingTimes;
  /** Of purchases in winter and in summer, where both are known from four lots or more. */
  difference?: HalfYearDifference;
  /** Those that hold for squares bought on a day number: of its half year where the halves differ beyond chance, else all. */
  boughtOn: (day: number) => {times: EndingTimes; purchases: LeadTime["purchases"]} | undefined;
}

/**
 * The days from purchase to finished shaft, of the squares that become shafts, with pieces still on their way taken for what they are. Winter
 * and summer purchases are told apart only where the 99 % interval of their difference leaves out 0: a half of the book knows less than the whole, and one of twenty
 * species would show a difference at 95 % by chance. Common practice, no source.
 *
 * Checked: tests/buying/leadTime.test.ts; tests/recovery/stageTimes.test.ts, against the days the sample book was made with
 */
export function finishTimes({asOf}: Pick<Histories, "asOf">, pieces: readonly Piece[]): FinishTimes {
  return timesOf((half) =>
    byLot(pieces).map((lot) =>
      purchaseSpells(
        lot.filter(({boughtOn}) => half === undefined || halfYearOf(boughtOn) === half),
        asOf
      )
    )
  );
}

/** The same from counts of squares and their lots: the times depend on a book by these alone. */
export function countedFinishTimes(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  counts: LotCounts,
  lots: readonly Lot[]
): FinishTimes {
  const last = settings.stages.at(-1)!.name;
  const bought = new Map(lots.map((lot) => [lot.lot, dayNumber(lot.boughtOn)]));
  const ofLots = counts.all().map((rows, place) => {
    const boughtOn = bought.get(counts.lots[place]!)!;
    return {half: halfYearOf(boughtOn), spells: countedPurchaseSpells(rows, () => boughtOn, {asOf, last})};
  });
  return timesOf((half) => ofLots.map((own) => (half === undefined || own.half === half ? own.spells : [])));
}

/** From the spells from purchase on of each lot, of all purchases or those of a half year. */
function timesOf(of: (half?: HalfYear) => Spell[][]): FinishTimes {
  const all = endingTimes(of(), "finished");
  const [winter, summer] = [endingTimes(of("winter"), "finished"), endingTimes(of("summer"), "finished")];
  const difference = halfYearDifference(of("winter"), of("summer"), "finished", {level: 0.99});
  return {
    ...(all && {all}),
    ...(winter && {winter}),
    ...(summer && {summer}),
    ...(difference && {difference}),
    boughtOn: (day) => {
      const half = halfYearOf(day);
      if (difference?.isClear) return {times: half === "winter" ? winter! : summer!, purchases: half};
      return all && {times: all, purchases: "all year"};
    }
  };
}

/**
 * The days from purchase within which given shares of the shafts to come are finished, and so the last day on which to
 * buy for a season's first day. From the cumulative incidence of finishing, so that pieces still resting count for what they are.
 *
 *   days(q) = smallest t with F(t) ≥ q · F(∞)        buy by = the last day b with b + days(q) ≤ the season's first day
 *   days of the purchases of b's half year where winter and summer differ (`finishTimes`), else of all
 *
 * Source: as `endingTimes`; the day to buy by common practice, no source. Checked: tests/buying/leadTime.test.ts; tests/recovery/stageTimes.test.ts
 *
 * @param options.shares of the shafts to come, fractions of 1
 * @param options.times those of the pieces, where they are known already
 * @returns nothing while no piece has finished
 */
export function leadTimes(
  histories: Pick<Histories, "asOf">,
  pieces: readonly Piece[],
  startsOn: Day,
  {
    shares = [0.5, 0.75, 0.9],
    times = finishTimes(histories, pieces)
  }: {shares?: readonly number[]; times?: FinishTimes} = {}
): LeadTime[] {
  if (!times.all) return [];
  const start = dayNumber(startsOn);
  return shares.map((share) => {
    let day = start;
    while (day + Math.ceil(times.boughtOn(day)!.times.quantile(share)) > start) day--;
    const {times: own, purchases} = times.boughtOn(day)!;
    const interval = own.quantileInterval(share);
    return {
      shareFraction: share,
      days: own.quantile(share),
      ...(interval && {daysLow: interval.low, daysHigh: interval.high}),
      buyBy: dayText(day),
      daysLeft: day - histories.asOf,
      purchases,
      lots: own.clusters,
      finished: own.ended
    };
  });
}

/**
 * How alike the shafts of one lot are in when they are finished: intraclass correlation of being finished within the median days from
 * purchase, of the lots of which nine tenths are decided. A lot's squares are taken up together, so its shafts come together. Fraction of 1.
 *
 * Source: as `withinCorrelation`. Checked: tests/buying/leadTime.test.ts; `withinCorrelation` against R
 *
 * @returns 0 with fewer than two such lots: nothing is known
 */
export function lotTiming(pieces: readonly Piece[], medianDays: number): number {
  const decided = byLot(pieces).filter((lot) => lot.filter(({fate}) => fate !== "in stock").length >= 0.9 * lot.length);
  const rates = decided
    .map((lot) => lot.filter(({fate}) => fate === "finished"))
    .filter((shafts) => shafts.length > 0)
    .map((shafts) => ({
      successes: sum(shafts.map(({fateOn, boughtOn}) => (fateOn! - boughtOn <= medianDays ? 1 : 0))),
      trials: shafts.length
    }));
  return withinCorrelation([rates]) ?? 0;
}
