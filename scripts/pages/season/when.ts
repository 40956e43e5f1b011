import {dayNumber, dayText, monthIndex} from "../../../lib/book/day.ts";
import type {Histories} from "../../../lib/book/histories.ts";
import {type CashAhead, cashAhead, workDone} from "../../../lib/buying/cashAhead.ts";
import {demandForecasts} from "../../../lib/buying/demandForecast.ts";
import {finishTimes, type LeadTime, leadTimes, lotTiming} from "../../../lib/buying/leadTime.ts";
import type {Offer, UncertainPieces} from "../../../lib/buying/outcomes.ts";
import {
  type HalfYearDifference,
  passTimes,
  type StageTime,
  stageHalfYears,
  stageTimes
} from "../../../lib/buying/stageTimes.ts";
import {
  demandPath,
  type LastBuyDay,
  lastBuyDays,
  lotsAhead,
  type StockAhead,
  type StockInput,
  stockAhead
} from "../../../lib/buying/stockAhead.ts";
import type {Chance} from "../../../lib/buying/supply.ts";
import {cashTied} from "../../../lib/figures/cashTied.ts";
import {capital, slug} from "../../../lib/figures/densityDots.ts";
import {seasonCalendar} from "../../../lib/figures/seasonCalendar.ts";
import {stockAhead as stockFigure} from "../../../lib/figures/stockAhead.ts";
import {type Html, html} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import {shown, shownInterval} from "../../../lib/report/quantity.ts";
import type {Table} from "../../../lib/report/table.ts";
import {sum} from "../../../lib/stats/numbers.ts";
import {counted} from "../../faultLines.ts";
import {type Composer, lead, plain} from "../compose.ts";

/** One species' plan, as far as “by when” needs it. */
export interface WhenInput {
  histories: Histories;
  species: string;
  season: {startsOn: string; endsOn: string};
  /** From the supply that the plan was made with: shafts on the rack that fit, lots in stock, offers. */
  rack: number;
  pipeline: readonly UncertainPieces[];
  offers: readonly Offer[];
  /** The chance of a piece to be finished within so many days; the pipeline was made with that within the days to the season's end. */
  chanceWithin: (days: number) => Chance;
  /** The plan's demand until the season's end. */
  demand: {mean: number; size?: number; known?: number};
  /** What the plan buys. */
  orders: readonly {supplier: string; squares: number}[];
  /** Price of those squares and carriage, without the work on them. */
  squaresCost: number;
  /** Of a shaft sold. */
  price: number;
  serviceGoal?: number;
}

/** All that the parts are made of. */
export interface When {
  today: string;
  squares: number;
  /** The day of the purchase that stock, calendar and cash follow: the first of the days to buy by (9 of 10 shafts, orders), or today if one is past. */
  boughtOn: string;
  leads: LeadTime[];
  /** Of the shafts to come of squares bought today, the share finished when the season begins; undefined while none was ever finished. */
  inTimeFraction?: number;
  inTimeLow?: number;
  inTimeHigh?: number;
  difference?: HalfYearDifference;
  lastDays: LastBuyDay[];
  without: StockAhead;
  bought?: StockAhead;
  cash?: CashAhead;
}

const shares = [0.5, 0.75, 0.9, 0.95];

/** The numbers behind “by when”: days to buy by, stock month by month with and without the purchase, money tied up. */
export function whenNumbers(input: WhenInput): When {
  const {histories: now, species, season, orders, price, serviceGoal = 0.9} = input;
  const today = dayText(now.asOf);
  const start = dayNumber(season.startsOn);
  const pieces = now.pieces.filter((piece) => piece.species === species);
  const times = finishTimes(now, pieces);
  const leads = leadTimes(now, pieces, season.startsOn, {shares, times});
  const readyOf = (boughtOn: number, days: number) => times.boughtOn(boughtOn)?.times.shareBy(days) ?? 0;
  const stock: StockInput = {
    today,
    until: season.endsOn,
    finished: input.rack,
    pipeline: lotsAhead(now, species, input.pipeline, {
      chanceWithin: input.chanceWithin,
      daysToEnd: dayNumber(season.endsOn) - now.asOf
    }),
    demandBy: demandPath(input.demand, {
      today,
      until: season.endsOn,
      curve: demandForecasts(now, species)
    }),
    offers: input.offers,
    readyOf,
    timing: times.all ? lotTiming(pieces, times.all.quantile(0.5)) : 0
  };
  const inTime = times.boughtOn(now.asOf)?.times.shareInterval(start - now.asOf);
  const squares = sum(orders.map((order) => order.squares));
  const without = stockAhead(stock, undefined, {serviceGoal});
  const goals = [...new Set([0.8, 0.9, 0.95, serviceGoal])].sort();
  const lastDays = squares > 0 ? lastBuyDays(stock, orders, goals) : [];
  const wanted = [
    leads.find(({shareFraction}) => shareFraction === 0.9)?.buyBy,
    lastDays.find((row) => row.serviceGoal === serviceGoal)?.buyBy
  ];
  const [first] = wanted.filter((day) => day !== undefined).sort();
  const boughtOn = first !== undefined && first > today ? first : today;
  const bought = squares > 0 ? stockAhead(stock, {boughtOn, orders}, {serviceGoal}) : undefined;
  const cash =
    bought &&
    cashAhead(
      {
        boughtOn,
        squaresCost: input.squaresCost,
        workCost: squares * now.settings.money.turningCostPerSquare,
        workBy: workDone(passTimes(now, pieces)),
        price
      },
      bought,
      without
    );
  return {
    today,
    squares,
    boughtOn,
    leads,
    ...(times.all && {inTimeFraction: readyOf(now.asOf, start - now.asOf)}),
    ...(inTime && {inTimeLow: inTime.low, inTimeHigh: inTime.high}),
    ...(times.difference && {difference: times.difference}),
    lastDays,
    without,
    ...(bought && {bought}),
    ...(cash && {cash})
  };
}

export interface WhenParts {
  /** One or two sentences for the main points. */
  sentences: string[];
  /** The last day to buy that decides, and what it is for; undefined where nothing is bought or none can be said. */
  by?: {day: string; isPast: boolean; note: string};
  heading: string;
  body: Html[];
}

/** “By when” of one species: sentences, the deciding day, a heading that tells the finding, and the section's parts. */
export function whenParts(input: WhenInput, composer: Composer): WhenParts {
  const when = whenNumbers(input);
  const by = lastDay(input, when);
  const {species} = input;
  return {
    sentences: [...lateness(input, when), dryness(species, when)],
    ...(by && {by}),
    heading: heading(species, when),
    body: [
      ...buyBy(input, when, composer),
      ...stages(input, composer),
      ...ahead(input, when, composer),
      ...cashParts(input, when, composer)
    ]
  };
}

function heading(species: string, {leads, inTimeFraction}: When): string {
  const [half, sure] = [leads[0], leads.find(({shareFraction}) => shareFraction === 0.9)];
  if (!half || !sure || inTimeFraction === undefined)
    return `${capital(species)}: no day can be said, as none was finished yet`;
  if (sure.daysLeft >= 0) return `${capital(species)}: in the store by ${sure.buyBy} for the season’s start`;
  return half.daysLeft >= 0
    ? `${capital(species)}: in the store by ${half.buyBy} for half of the shafts`
    : `${capital(species)}: bought today ${shown(inTimeFraction, "fraction")} of the shafts are in time for the season’s start`;
}

/** By when to buy for the season's start and for the service goal; a day that is past is said so, with what can still be reached. */
function lateness(
  {species, season, serviceGoal = 0.9}: WhenInput,
  {leads, lastDays, inTimeFraction, squares, bought}: When
): string[] {
  const sure = leads.find(({shareFraction}) => shareFraction === 0.9);
  if (!sure || inTimeFraction === undefined || squares === 0) return [];
  const goal = lastDays.find((row) => row.serviceGoal === serviceGoal);
  const name = capital(species);
  const forSeason =
    sure.daysLeft < 0
      ? `For 9 of 10 shafts of it to be finished on ${season.startsOn}, when the season begins, it is ${counted(-sure.daysLeft, "day")} too late: bought today ${shown(inTimeFraction, "fraction")} are.`
      : `For 9 of 10 shafts of it to be finished when the season begins, buy by ${sure.buyBy} (${counted(sure.daysLeft, "day")} from now).`;
  const atEnd = bought?.months.at(-1)?.service ?? 1;
  const later = atEnd < serviceGoal ? `; by the season’s end, ${season.endsOn}, it is ${shown(atEnd, "fraction")}` : "";
  return [
    goal?.buyBy
      ? `${name}: buy this by ${goal.buyBy} to have a chance of ${percent(serviceGoal)} that no order waits ${inMonths(goal.kept)}${later}. ${forSeason}`
      : `${name}: ${forSeason[0]!.toLowerCase()}${forSeason.slice(1)}`
  ];
}

/** The day for the wanted chance to serve all orders, else that for 9 of 10 shafts at the season's start. */
function lastDay({serviceGoal = 0.9}: WhenInput, {today, squares, leads, lastDays}: When): WhenParts["by"] {
  const goal = lastDays.find((row) => row.serviceGoal === serviceGoal);
  const sure = leads.find(({shareFraction}) => shareFraction === 0.9);
  if (squares === 0 || !sure) return undefined;
  const early = `${sure.buyBy} for 9 of 10 shafts at the season’s start`;
  return goal?.buyBy
    ? {
        day: goal.buyBy,
        isPast: goal.buyBy < today,
        note: `for a chance of ${percent(serviceGoal)} to serve all orders ${inMonths(goal.kept)}; ${early}`
      }
    : {day: sure.buyBy, isPast: sure.daysLeft < 0, note: "for 9 of 10 shafts at the season’s start"};
}

/** When the stock runs dry if nothing is bought. */
function dryness(species: string, {without: {short, dry, serviceGoal}, bought}: When): string {
  const bare = short
    ? `runs dry in ${short.month} on average`
    : dry
      ? `lasts to the season’s end on average, but the chance to serve all orders falls below ${percent(serviceGoal)} first in ${dry.month}`
      : "serves all orders to the season’s end as surely as wanted";
  const missing = bought?.months.filter(({netMean}) => netMean < 0).map(({month}) => month) ?? [];
  const then =
    bought === undefined || !short
      ? ""
      : missing.length === 0
        ? "; with the purchase it does not"
        : `; with the purchase shafts are still short, on average, in ${monthsText(missing)}`;
  return `${capital(species)}: without a purchase the stock ${bare}${then}.`;
}

function buyBy(input: WhenInput, when: When, {figure, table}: Composer): Html[] {
  const {species, season, histories: now} = input;
  const {leads, lastDays, inTimeFraction, inTimeLow: low, inTimeHigh: high, boughtOn, today, squares} = when;
  const [half, sure] = [leads[0], leads.find(({shareFraction}) => shareFraction === 0.9)];
  if (!half || !sure || inTimeFraction === undefined)
    return [html`<p>No ${species} square has become a finished shaft yet, so nobody can say how long it takes.</p>\n`];
  const past = leads.filter(({daysLeft}) => daysLeft < 0);
  const days = (row: LeadTime) =>
    row.daysLow === undefined || row.daysHigh === undefined
      ? shown(row.days, "days")
      : `${shown(row.days, "days")} (95\u00a0% interval ${shownInterval({low: row.daysLow, high: row.daysHigh}, "days")})`;
  const interval =
    low === undefined || high === undefined ? "" : ` (95\u00a0% interval ${shownInterval({low, high}, "fraction")})`;
  const reach =
    past.length === 0
      ? ""
      : ` ${past.length === leads.length ? "All these days are" : `${past.length} of these days ${past.length === 1 ? "is" : "are"}`} past: of squares bought today ${shown(inTimeFraction, "fraction")}${interval} of the shafts to come are finished when the season begins on ${season.startsOn}.`;
  const pieces = now.pieces.filter((piece) => piece.species === species);
  return [
    html`<p>Half of the shafts to come of a purchase are finished within ${days(half)}, nine tenths within ${days(sure)}.${reach}</p>\n`,
    figure(seasonCalendar({species, today, boughtOn, leads, passes: passTimes(now, pieces), season})),
    table(buyByTable(leads, species, season.startsOn)),
    ...(squares === 0
      ? []
      : [
          html`<p>${service(input, when)}</p>\n`,
          table({
            id: `serve-by-${slug(species)}`,
            caption: `By when ${shown(squares, "count")} ${species} squares must be in the store to serve all orders`,
            columns: [
              {key: "serviceGoal", heading: "Chance wanted", unit: "fraction"},
              {key: "buyBy", heading: "Buy by", unit: "date"},
              {key: "daysLeft", heading: "Days from now", unit: "count"},
              {key: "kept", heading: "It then holds at the end of", unit: "text"},
              {key: "tooSoon", heading: "Bought today it comes too late for", unit: "text"},
              {key: "tooFew", heading: "So many are too few for", unit: "text"}
            ],
            rows: lastDays.map(({kept, tooSoon, tooFew, ...row}) => ({
              ...row,
              kept: monthsText(kept),
              tooSoon: monthsText(tooSoon),
              tooFew: monthsText(tooFew)
            })),
            note: "The chance at each month’s end that all orders up to then can be served; months not named hold it without the purchase."
          })
        ])
  ];
}

/** By when to buy for the service goal, which months it is too late for, and for which it is too little. */
function service({serviceGoal = 0.9}: WhenInput, {lastDays, squares}: When): string {
  const row = lastDays.find((one) => one.serviceGoal === serviceGoal)!;
  const goal = percent(serviceGoal);
  const {buyBy: day, kept, tooSoon, tooFew} = row;
  const first = day
    ? `Bought by ${day}, ${shown(squares, "count")} squares keep the chance to serve all orders at ${goal} or more ${inMonths(kept)}.`
    : tooSoon.length + tooFew.length === 0
      ? `The stock serves all orders with a chance of ${goal} at every month’s end without a purchase.`
      : `No day is early enough to keep the chance to serve all orders at ${goal} where the stock does not.`;
  return [
    first,
    tooSoon.length > 0
      ? `For ${monthsText(tooSoon)} it is too late: what is bought today is not finished by then.`
      : "",
    tooFew.length > 0 ? `For ${monthsText(tooFew)} so many are too few.` : ""
  ]
    .filter((text) => text !== "")
    .join(" ");
}

function stages({histories: now, species}: WhenInput, {table}: Composer): Html[] {
  const pieces = now.pieces.filter((piece) => piece.species === species);
  const rows = stageTimes(now, pieces).filter(({passed}) => passed > 0);
  if (rows.length === 0) return [];
  const halves = stageHalfYears(now, pieces);
  const clear = halves.filter(({isClear}) => isClear);
  const said =
    halves.length === 0
      ? "Too few lots have passed the stages in both halves of the year to compare winter with summer."
      : clear.length === 0
        ? "Winter and summer cannot be told apart at any stage: the intervals of their differences all hold 0."
        : `${clear
            .map(
              ({stage, moreDays, moreLow, moreHigh}) =>
                `At ${stage} pieces that came in winter took ${shown(Math.abs(moreDays), "days")} ${moreDays > 0 ? "longer" : "less"} than those of summer (interval ${shownInterval(moreDays > 0 ? {low: moreLow, high: moreHigh} : {low: -moreHigh, high: -moreLow}, "days")})`
            )
            .join("; ")}.`;
  return [
    html`<p>${said}</p>\n`,
    html`<details>\n<summary>Days at each stage</summary>\n${table(stageTimeTable(rows, species))}</details>\n`,
    lead("how-buy-by")
  ];
}

function ahead({species}: WhenInput, {without, bought, boughtOn, today, squares}: When, {figure}: Composer): Html[] {
  return [figure(stockFigure(without, {species, today, ...(bought && {bought: {stock: bought, boughtOn, squares}})}))];
}

function cashParts({species}: WhenInput, {cash, boughtOn, squares}: When, {figure, currency}: Composer): Html[] {
  if (!cash) return [];
  const money = (value: number) => shown(value, "money whole", {currency});
  const {most, paidBack, months} = cash;
  return [
    html`<p>The purchase ties up ${money(most.tied)} at most, at the end of ${most.month}; ${paidBack ? `by ${paidBack.endsOn} it has paid itself back` : `on ${months.at(-1)!.endsOn} it has not paid itself back`}. These are expected values.</p>\n`,
    figure(cashTied(cash, {species, currency, boughtOn, squares}))
  ];
}

const percent = (share: number) => `${shown(100 * share, "count")}\u00a0%`;

/** "2026-11", "2026-11 to 2027-04 and 2028-05", "–" for none. */
export function monthsText(months: readonly string[]): string {
  const runs: string[][] = [];
  for (const month of months) {
    const run = runs.at(-1);
    if (run && monthIndex(month) === monthIndex(run.at(-1)!) + 1) run.push(month);
    else runs.push([month]);
  }
  const parts = runs.map((run) => (run.length === 1 ? run[0]! : `${run[0]} to ${run.at(-1)}`));
  return parts.length < 2 ? (parts[0] ?? "–") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}

function inMonths(months: readonly string[]): string {
  return months.length === 1 ? `at the end of ${months[0]}` : `at the month’s end in ${monthsText(months)}`;
}

/** By when squares must be in the store, for the shares of the shafts to come. */
export function buyByTable(leads: readonly LeadTime[], species: string, startsOn: string): Table {
  return {
    id: `buy-by-${slug(species)}`,
    caption: `By when ${species} must be in the store for the season from ${startsOn}`,
    columns: [
      {key: "shareFraction", heading: "Of the shafts to come", unit: "fraction"},
      {key: "days", heading: "Are finished within", unit: "days", low: "daysLow", high: "daysHigh"},
      {key: "buyBy", heading: "Buy by", unit: "date"},
      {key: "daysLeft", heading: "Days from now", unit: "count"},
      {key: "purchases", heading: "From purchases of", unit: "text"},
      {key: "finished", heading: "Shafts", unit: "count"},
      {key: "lots", heading: "Lots", unit: "count"}
    ],
    rows: plain(leads),
    note: "In brackets the 95\u00a0% interval. A minus: days past."
  };
}

/** How long pieces took at each stage. */
export function stageTimeTable(rows: readonly StageTime[], species: string): Table {
  return {
    id: `stage-times-${slug(species)}`,
    caption: `Days that ${species} pieces took at each stage before they passed on`,
    columns: [
      {key: "stage", heading: "Stage", unit: "text"},
      {key: "entered", heading: "Came to it in", unit: "text"},
      {key: "quarterDays", heading: "A quarter within", unit: "days"},
      {key: "medianDays", heading: "Half within", unit: "days", low: "medianLow", high: "medianHigh"},
      {key: "threeQuarterDays", heading: "Three quarters within", unit: "days"},
      {key: "passed", heading: "Passed", unit: "count"},
      {key: "inStage", heading: "Still there", unit: "count"},
      {key: "lots", heading: "Lots", unit: "count"}
    ],
    rows: plain(rows),
    note: "In brackets the 95\u00a0% interval. Winter: October to March. Pieces still there count as not passed yet."
  };
}

/** How “by when” is worked out. */
export const whenMethod: readonly Method[] = [
  {
    id: "how-buy-by",
    heading: "Buy by",
    text: "From the time squares have really taken from purchase to finished shaft; pieces still resting count for as long as they have been followed. Winter and summer purchases are told apart only where they clearly differ. The intervals are from how lots differ. For the orders, the last day is the one after which the chance to serve all of them at some month’s end falls below what is wanted, of the months that a purchase of today can still reach.",
    formula:
      "days(q) = smallest t with F(t) ≥ q · F(last), F(t) the share of squares finished within t days; buy by = the last day b with b + days(q) ≤ the season’s first day",
    guide: "buy-by"
  },
  {
    id: "how-stock-ahead",
    heading: "Stock month by month",
    text: "At each month’s end all that will have been finished is set against all that will have been ordered: the rack, each piece on its way with its own chance to be finished by then and to fit, and the purchase by the time squares have taken. The shafts of a lot come together, as its squares are taken up together. The distributions are worked out exactly; at the season’s end they are those of the plan. An order may wait for a shaft; days between the month ends are not looked at.",
    formula:
      "S(t) = rack + lots in stock + purchase, finished by t; chance = P(S(t) ≥ D(t)); left = S(t) − D(t), D(t) orders open and to come by t",
    guide: "stock-ahead"
  },
  {
    id: "how-cash",
    heading: "Money tied up",
    text: "Squares and carriage are paid on the day of purchase; the work is spent as the squares are turned, every turning at the same cost. What comes in is the price of the shafts sold with the purchase beyond those that would have been sold without it. Expected values: the truth may lie well beside them. Interest, taxes and the worth of what is left over are not in it.",
    formula:
      "tied up(t) = squares + work · share of turnings done by t − price · (sold by t with the purchase − sold by t without it)",
    guide: "cash"
  }
];
