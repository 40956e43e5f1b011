import {type Day, dayNumber, dayText} from "../book/day.ts";
import {type Histories, histories, type Piece} from "../book/histories.ts";
import type {Book} from "../book/parseBook.ts";
import type {Advice} from "../book/records.ts";
import {check} from "../check.ts";
import {sum} from "../stats/numbers.ts";
import {wilson} from "../stats/wilson.ts";
import {openShafts} from "./demandForecast.ts";

/** How what came lies to a range that was said; `open` while it cannot be told. */
export type Against = "inside" | "above" | "below" | "open";

/** A kept advice, and what the book says came of it. */
export interface AdviceOutcome {
  said: Advice;
  /** Whether its season has ended; else all of this is so far. */
  hasEnded: boolean;
  /** The day up to which orders, shafts and money are counted: the season's last, or the day of the question. */
  until: Day;
  /** Squares bought after it until then, or until the next advice on the species. */
  bought: number;
  boughtUntil: Day;
  boughtFrom: {supplier: string; squares: number}[];
  /** `replaced`: fewer than advised, and another advice for the same season came. */
  squaresAgainst: Against | "replaced";
  /** Shafts ordered after it. */
  ordered: number;
  orderedAgainst: Against;
  /** Of the squares bought: finished inside the window; out, or outside the window; on their way. */
  usable: number;
  notUsable: number;
  undecided: number;
  usableAgainst: Against;
  /** On the day up to which is counted: shafts ordered and owed, lost of those ordered after the advice, free on the rack inside the window. */
  owed: number;
  lost: number;
  free: number;
  /** Prices of the shafts given to orders since the advice, and price and carriage of the squares, in the book's currency. */
  takings: number;
  spent: number;
  /** The plan's own sum with what came in the place of what was expected, once the season has ended. */
  reckoned?: number;
}

/**
 * What came of each kept advice whose season has begun, oldest first, by the book up to a day.
 *
 * Bought are the lots of the species after the day of the advice, up to the next advice on it or the season's last day. A square bought is
 * usable once finished if its density at 12 % lies in the window, and known to be not usable when it is out or its density lies outside;
 * the range said of the share is judged when it holds, or not, whatever becomes of those on their way:
 *
 *   usable/n ≤ share to come ≤ (usable + undecided)/n
 *
 * Orders are judged when the season has ended, or once they are above the range. Shafts owed and free are those of the season's last day.
 *
 *   reckoned = takings + leftover value · free − shortage cost · (owed + lost) − spent − work on a square · bought
 *
 * is the plan's formula; no profit, as the book knows neither wages nor rent, and squares on their way have cost but not yet earned.
 * A shaft without a price counts at the setting. Common practice, no source.
 *
 * Checked: tests/buying/adviceOutcome.test.ts, by hand
 */
export function adviceOutcomes(book: Book, asOf: Day): AdviceOutcome[] {
  const kept = book.advice
    .filter(({advisedOn, seasonFrom}) => advisedOn <= asOf && seasonFrom <= asOf)
    .sort((a, b) => (a.advisedOn < b.advisedOn ? -1 : a.advisedOn > b.advisedOn ? 1 : a.row - b.row));
  const known = new Map<Day, Histories>();
  const on = (day: Day) => {
    const before = known.get(day) ?? histories(book, day);
    known.set(day, before);
    return before;
  };
  return kept.map(({row: _, ...said}) => {
    const next = book.advice
      .filter((one) => one.species === said.species && one.advisedOn > said.advisedOn && one.advisedOn <= asOf)
      .sort((a, b) => (a.advisedOn < b.advisedOn ? -1 : 1))[0];
    return outcome(said, next, {start: on(said.advisedOn), end: on(earlier(said.seasonTo, asOf)), now: on(asOf)});
  });
}

const earlier = (one: Day, other: Day): Day => (one < other ? one : other);

function outcome(
  said: Advice,
  next: Advice | undefined,
  {start, end, now}: {start: Histories; end: Histories; now: Histories}
): AdviceOutcome {
  const {settings} = now;
  const {species, advisedOn} = said;
  const until = dayText(end.asOf);
  const hasEnded = said.seasonTo <= dayText(now.asOf);
  const window = settings.species[species]!.windowKgM3;
  const fits = ({densityAt12KgM3: x}: Piece) => x >= window.low && x <= window.high;

  const boughtUntil = next ? earlier(next.advisedOn, until) : until;
  const lots = now.lots.filter(
    (lot) => lot.species === species && lot.boughtOn > advisedOn && lot.boughtOn <= boughtUntil
  );
  const bought = sum(lots.map(({squaresBought}) => squaresBought));
  const suppliers = [...new Set(lots.map(({supplier}) => supplier))];
  const names = new Set(lots.map(({lot}) => lot));
  const squares = now.pieces.filter(({lot}) => names.has(lot));
  const usable = squares.filter((piece) => piece.fate === "finished" && fits(piece)).length;
  const undecided = squares.filter((piece) => piece.fate === "in stock" && fits(piece)).length;

  const ofSpecies = end.orders.filter((order) => order.species === species);
  const since = ofSpecies.filter(({orderedOn}) => orderedOn > advisedOn);
  const ordered = sum(since.map(({quantity}) => quantity));
  const owed = openShafts(end, ofSpecies);
  const lost = sum(since.map((order) => order.lost ?? 0));
  const free = end.pieces.filter(
    (piece) => piece.species === species && piece.fate === "finished" && !isGone(piece) && fits(piece)
  ).length;

  const goneBefore = new Set(start.pieces.filter(isGone).map(({square}) => square));
  const gone = end.pieces.filter((one) => one.species === species && isGone(one) && !goneBefore.has(one.square));
  const prices = new Map(ofSpecies.map(({order, priceEach}) => [order, priceEach]));
  const {shaftPrice, leftoverValue, shortageCost, turningCostPerSquare} = settings.money;
  const takings = sum(gone.map(({allottedTo = ""}) => prices.get(allottedTo) ?? shaftPrice));
  const spent = sum(lots.map(({squaresBought, priceEach, carriage = 0}) => squaresBought * priceEach + carriage));
  const costs = spent + turningCostPerSquare * bought + shortageCost * (owed + lost);

  const squaresAgainst = against(bought, said.squaresLow, said.squaresHigh, hasEnded || next !== undefined);
  const isReplaced =
    squaresAgainst === "below" && next?.seasonFrom === said.seasonFrom && next.advisedOn < said.seasonTo;
  return {
    said,
    hasEnded,
    until,
    bought,
    boughtUntil,
    boughtFrom: suppliers.map((supplier) => ({
      supplier,
      squares: sum(lots.filter((lot) => lot.supplier === supplier).map(({squaresBought}) => squaresBought))
    })),
    squaresAgainst: isReplaced ? "replaced" : squaresAgainst,
    ordered,
    orderedAgainst: against(ordered, said.shaftsWantedLow, said.shaftsWantedHigh, hasEnded),
    usable,
    notUsable: squares.length - usable - undecided,
    undecided,
    usableAgainst: shareAgainst(said, {usable, undecided, squares: squares.length}),
    owed,
    lost,
    free,
    takings,
    spent,
    ...(hasEnded && {reckoned: takings + leftoverValue * free - costs})
  };
}

function isGone({allottedTo, deliveredOn}: Piece): boolean {
  return allottedTo !== undefined || deliveredOn !== undefined;
}

/** Where a number that can only grow lies; below or inside a range is told only once it is final. */
function against(count: number, low: number, high: number, isFinal: boolean): Against {
  if (count > high) return "above";
  if (!isFinal) return "open";
  return count < low ? "below" : "inside";
}

/** Where the usable share will lie, if that is sure whatever becomes of the squares on their way. */
function shareAgainst(
  {usableLowPct: low, usableHighPct: high}: Advice,
  {usable, undecided, squares}: {usable: number; undecided: number; squares: number}
): Against {
  if (low === undefined || high === undefined || squares === 0) return "open";
  // The ends of the range are kept in tenths of a percent.
  const [least, most] = [usable, usable + undecided].map((count) => (100 * count) / squares) as [number, number];
  if (least > high + 0.05) return "above";
  if (most < low - 0.05) return "below";
  return least >= low - 0.05 && most <= high + 0.05 ? "inside" : "open";
}

/** How often a range said held. */
export interface RangesHeld {
  held: number;
  of: number;
  /** 95 % Wilson interval of the share that hold. */
  low: number;
  high: number;
}

/**
 * How often what came lay in the range said, of the advice of which that can be told: of each species and season the first advice only, as
 * later ones look at much the same orders and squares.
 *
 * Orders of a season that has not ended do not count, though they may be above the range already: those that will be inside cannot count yet.
 * The interval takes the seasons as independent; those of one workshop are alike, so that the doubt is larger still.
 *
 * Checked: tests/buying/adviceOutcome.test.ts; the interval in tests/reference/binomialIntervals.test.ts
 *
 * @returns undefined while nothing can be told
 * @throws RangeError unless what is asked for is one of the two
 */
export function rangesHeld(
  outcomes: readonly AdviceOutcome[],
  range: "orderedAgainst" | "usableAgainst"
): RangesHeld | undefined {
  check(
    ["orderedAgainst", "usableAgainst"].includes(range),
    "rangesHeld: range",
    "orderedAgainst or usableAgainst",
    range
  );
  const first = new Map<string, AdviceOutcome>();
  for (const one of outcomes.toSorted((a, b) => dayNumber(a.said.advisedOn) - dayNumber(b.said.advisedOn))) {
    const key = `${one.said.species} ${one.said.seasonFrom}`;
    if (!first.has(key)) first.set(key, one);
  }
  const told = [...first.values()].filter((one) => one.hasEnded && one[range] !== "open");
  const held = told.filter((one) => one[range] === "inside").length;
  const interval = wilson(held, told.length);
  return interval && {held, of: told.length, ...interval};
}
