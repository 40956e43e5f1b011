import type {Day} from "../../../lib/book/day.ts";
import {dayNumber} from "../../../lib/book/day.ts";
import type {Histories} from "../../../lib/book/histories.ts";
import type {DemandSetting} from "../../../lib/book/settings.ts";
import {type DemandBackTest, demandBackTest} from "../../../lib/buying/demandBackTest.ts";
import {type DemandByWindow, demandByWindow, type Wish} from "../../../lib/buying/demandByWindow.ts";
import type {DemandForecast} from "../../../lib/buying/demandForecast.ts";
import {type DemandWord, demandOverride, type PlannedDemand} from "../../../lib/buying/demandOverride.ts";
import {type DemandPosterior, demandPosterior, monthPrior} from "../../../lib/buying/demandPosterior.ts";
import {demandBackTest as backTestFigure} from "../../../lib/figures/demandBackTest.ts";
import {demandMonths} from "../../../lib/figures/demandMonths.ts";
import {capital, slug} from "../../../lib/figures/densityDots.ts";
import {type Html, html} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import {shown, shownInterval} from "../../../lib/report/quantity.ts";
import {type Composer, lead} from "../compose.ts";

/** All that is known of the demand for one species. */
export interface SpeciesDemand {
  species: string;
  until: Day;
  /** What the owner says in workshop.json. */
  said: Partial<DemandSetting>;
  /** Undefined when the book is too young and the owner gives no number. */
  planned?: PlannedDemand;
  byWindow?: DemandByWindow;
  backTest?: DemandBackTest;
  /** The level of the last twelve whole months carried on, without growth or season. */
  level?: DemandPosterior;
}

/** The demand for one species until a day, worked out once for plan and page. */
export function speciesDemand(histories: Histories, species: string, until: Day): SpeciesDemand {
  const planned = demandOverride(histories, species, until);
  const byWindow = demandByWindow(histories, species);
  const backTest = demandBackTest(histories, species);
  const counts = planned?.book?.months.flatMap(({ordered}) => ordered ?? []) ?? [];
  const prior = monthPrior(counts.slice(0, -12));
  const monthsAhead = (dayNumber(until) - histories.asOf) / (365.25 / 12);
  const level = demandPosterior(counts.slice(-12), monthsAhead, prior && {prior});
  return {
    species,
    until,
    said: histories.settings.demand[species] ?? {},
    ...(planned && {planned}),
    ...(byWindow && {byWindow}),
    ...(backTest && {backTest}),
    ...(level && {level})
  };
}

/** The part of the season's page about demand: a heading that says the finding, and the body. */
export function demandParts(demand: SpeciesDemand, {figure, table}: Composer): {heading: string; parts: Html[]} {
  const {species, until, planned, byWindow, backTest} = demand;
  if (!planned)
    return {
      heading: `${capital(species)}: demand cannot be said yet`,
      parts: [
        html`<p>Fewer than six whole months or five shafts of ${species} orders are known. Until then you can write your own number into workshop.json: demand, ${species}, shafts.</p>\n`
      ]
    };
  const {book, known, mean} = planned;
  return {
    heading: `${capital(species)}: about ${shown(mean + known, "count")} shafts wanted until ${until}`,
    parts: [
      html`<p>${[...(book ? [growthSentence(book), seasonSentence(book)] : [youngSentence(species)]), ...ownSentences(demand)].join(" ")}</p>\n`,
      ...(book ? [figure(demandMonths(book))] : []),
      table(sumTable(demand, planned)),
      ...(byWindow ? windowParts(byWindow, table) : []),
      ...(backTest
        ? [html`<p>${backTestSentence(backTest)}</p>\n`, figure(backTestFigure(backTest))]
        : [
            html`<p>No forecast of the past can be held against what came: that takes six months of orders and the twelve after them.</p>\n`
          ]),
      lead("how-demand")
    ]
  };
}

function youngSentence(species: string): string {
  return `The book holds too few ${species} orders for a forecast of its own: fewer than six whole months, or than five shafts.`;
}

/** Growth is said only where the whole interval lies on one side of none. */
export function growthSentence({growthFraction, growthLow, growthHigh}: DemandForecast): string {
  if (growthFraction === undefined || growthLow === undefined || growthHigh === undefined)
    return "Two years of orders are needed to tell growth; the mean is carried on.";
  const range = `95\u00a0% interval ${shownInterval({low: growthLow, high: growthHigh}, "fraction")}`;
  if (growthLow > 0) return `Orders have grown ${shown(growthFraction, "fraction")} a year (${range}).`;
  if (growthHigh < 0) return `Orders have changed by ${shown(growthFraction, "fraction")} a year (${range}).`;
  return `No growth of orders beyond chance: ${shown(growthFraction, "fraction")} a year (${range}).`;
}

/** A season is said where the months bear it out twenty times better than none. */
export function seasonSentence({season, monthsKnown}: DemandForecast): string {
  if (season === undefined) return `A season cannot be told from ${shown(monthsKnown, "count")} months.`;
  const {busiest, quietest, ratio, weight} = season;
  if (weight < 0.95) return "The months do not bear out a season beyond chance.";
  return `In ${monthNames[busiest - 1]}, the busiest month, ${shown(ratio, "number")} times as many shafts are ordered as in ${monthNames[quietest - 1]}, the quietest (95\u00a0% interval ${shownInterval(season, "number")}).`;
}

const monthNames = "January February March April May June July August September October November December".split(" ");

/** What the owner says, beside what the book says. */
function ownSentences({said, planned, species}: SpeciesDemand): string[] {
  const {overridden, idle, book, mean, low, high, bigOrder} = planned!;
  const own = `${shown(mean, "count")} (in 95 of 100 cases ${shown(low, "count")} to ${shown(high, "count")})`;
  const beside = book
    ? ` The book by itself says ${shown(book.mean, "count")} (${shown(book.low, "count")} to ${shown(book.high, "count")}).`
    : "";
  const words: Record<DemandWord, string> = {
    shafts: `your own number of ${species} shafts to come`,
    growthPct: `growth of ${shown((said.growthPct ?? 0) / 100, "fraction")} a year from now on`,
    lostPct: `that of 100 shafts asked for ${shown(said.lostPct ?? 0, "count")} are not in the book, as nothing was on the rack`,
    bigOrder: `${shown(bigOrder, "count")} shafts certain beside the rest`
  };
  const changed = overridden.filter((word) => word !== "bigOrder");
  return [
    ...(overridden.length > 0 ? [`workshop.json says: ${overridden.map((word) => words[word]).join("; ")}.`] : []),
    ...(changed.length > 0 ? [`The plan takes ${own} to come.${beside}`] : []),
    ...(idle.length > 0
      ? [`As you give the number of shafts, ${idle.join(" and ")} ${idle.length > 1 ? "have" : "has"} no effect.`]
      : [])
  ];
}

function sumTable({said, level}: SpeciesDemand, planned: PlannedDemand): Parameters<Composer["table"]>[0] {
  const {species, to, book, open, bigOrder, lost, mean, low, high, known, overridden} = planned;
  const isOwn = overridden.some((word) => word !== "bigOrder");
  const words = overridden.filter((word) => word !== "bigOrder");
  return {
    id: `demand-sum-${slug(species)}`,
    caption: `${capital(species)} shafts wanted until ${to}`,
    columns: [
      {key: "what", heading: "What", unit: "text"},
      {key: "shafts", heading: "Shafts", unit: "count", low: "low", high: "high"},
      {key: "how", heading: "How known", unit: "text"}
    ],
    rows: [
      ...(book
        ? [
            {
              what: isOwn ? "Orders to come, by the book alone" : "Orders to come",
              shafts: book.mean,
              low: book.low,
              high: book.high,
              how: `growth and season of ${shown(book.monthsKnown, "count")} whole months carried on`
            }
          ]
        : []),
      ...(isOwn
        ? [
            {
              what: "Orders to come, by your word",
              shafts: mean,
              low,
              high,
              how: `workshop.json: ${words.map((word) => `${word} ${said[word]}`).join(", ")}; this is what the plan takes`
            }
          ]
        : []),
      ...(level
        ? [
            {
              what: "For comparison: the last twelve months’ level",
              shafts: level.mean,
              low: level.low,
              high: level.high,
              how: `carried on without growth or season; prior ${level.priorIs === "given" ? "from the months before" : "Jeffreys’"}`
            }
          ]
        : []),
      {what: "Ordered and not yet served", shafts: open, how: "orders.csv less shafts allotted and lost"},
      ...(bigOrder > 0 ? [{what: "Big order", shafts: bigOrder, how: "workshop.json; taken as certain"}] : []),
      {what: "Wanted in all", shafts: mean + known, how: "to come, open and big order together, on average"},
      {
        what: "Lost so far for want of a shaft",
        shafts: lost,
        how: "orders.csv, lost: in the months as wanted, not in the open orders"
      }
    ],
    note: "In brackets 95 of 100 cases."
  };
}

const wishes: Record<Wish, string> = {
  inside: "Mass that a shaft in the window can have",
  none: "No mass named",
  unclear: "Mass named, size of the shaft not known",
  below: "Lighter than the window gives",
  above: "Heavier than the window gives"
};

function windowParts(byWindow: DemandByWindow, table: Composer["table"]): Html[] {
  const {species, shafts, open, servedFraction, servedLow, servedHigh, takenFraction, orders} = byWindow;
  const range =
    servedLow === undefined || servedHigh === undefined
      ? ""
      : ` (95\u00a0% interval ${shownInterval({low: servedLow, high: servedHigh}, "fraction")})`;
  const taken =
    takenFraction === undefined
      ? ""
      : ` A wish for a mass takes ${shown(takenFraction, "fraction")} of the window on average, so not every shaft in it suits every order.`;
  return [
    html`<p>A shaft inside the density window can serve ${shown(servedFraction, "fraction")} of the ${species} shafts ordered so far${range}.${taken}</p>\n`,
    table({
      id: `demand-window-${slug(species)}`,
      caption: `${capital(species)} shafts ordered, by the mass wished for against the density window`,
      columns: [
        {key: "wish", heading: "Wish", unit: "text"},
        {key: "shafts", heading: "Shafts ordered", unit: "count"},
        {key: "open", heading: "Of them open", unit: "count"}
      ],
      rows: (Object.keys(wishes) as Wish[])
        .filter((wish) => wish !== "unclear" || shafts.unclear > 0)
        .map((wish) => ({wish: wishes[wish], shafts: shafts[wish], open: open[wish]})),
      note: `${shown(orders, "count")} orders. The mass is taken to be that of the bare wood at 12\u00a0% moisture, without fittings.`
    })
  ];
}

/** How the forecasts of the past did, and against the plainest rule. */
export function backTestSentence({
  forecasts,
  inside,
  apart,
  monthsAhead,
  meanErrorFraction,
  compared,
  offShafts,
  beforeOffShafts
}: DemandBackTest): string {
  const n = forecasts.length;
  const bias = `${shown(Math.abs(meanErrorFraction), "fraction")} ${meanErrorFraction >= 0 ? "more" : "fewer"} came than was forecast`;
  const rule =
    offShafts === undefined || beforeOffShafts === undefined
      ? ""
      : ` Over ${shown(compared, "count")} of them the forecast was off by ${shown(offShafts, "count")} shafts on average, the rule “as many as in the ${monthsAhead} months before” by ${shown(beforeOffShafts, "count")}.`;
  const alike =
    n === 1
      ? ""
      : apart === 1
        ? " They all overlap, so they tell little more than one would."
        : ` Only ${apart} of them do not overlap, so they tell little more than ${apart} would.`;
  return `For each past quarter a forecast for ${monthsAhead} months was made from what the book knew the day before: ${inside} of ${n} held in their 95\u00a0% interval what was then ordered; on average ${bias}.${alike}${rule}`;
}

/** How the numbers of this part are worked out. */
export const demandMethods: readonly Method[] = [
  {
    id: "how-demand",
    heading: "Shafts wanted",
    text: "Orders are counted by the month in which they came in, whole months only; shafts lost for want of one on the rack count as wanted. Curves with and without growth, with no, one or two waves a year, are fitted to the months; each counts by how well they bear it out for the terms it needs. The orders to come are a negative binomial number about the curve: its variance holds the scatter of months, the doubt about the curve, and that both are known from few months. Open orders are added as they stand. What you write under demand in workshop.json takes the place of the book’s number: shafts that of the mean, growthPct that of the growth from now on; lostPct says how many of 100 shafts asked for the book does not know of; a big order is added as certain. The level of the last twelve months is a gamma–Poisson posterior, without growth or season. An order’s wish for a mass is turned into a density by the volume of the shaft it wants.",
    formula:
      "ln μ(t) = b₀ + b₁·t + Σₖ (cₖ·cos 2πkt + sₖ·sin 2πkt), t in years, μ shafts a month; demand = recorded ÷ (1 − lostPct/100); λ | x ~ Gamma(a + Σx/φ, b + n/φ); ρ = 10⁶·m ÷ (π·L/12·(D² + D·d + d²))",
    guide: "demand"
  },
  {
    id: "how-back-test",
    heading: "Forecasts of the past",
    text: "For the first day of each selling year and of each quarter from it, the forecast is made anew from the orders known on the day before, and held against what was ordered in the twelve months after. Inside means that the number lies in the 95 % interval. The chance of fewer is what the forecast gave to fewer shafts than came, those as many counting half: if the forecasts are right, such chances are spread evenly from 0 to 1. Forecasts a quarter apart share months, so they do not fail independently. A young book cannot know its growth: in simulated workshops whose orders grew by 18 % a year, 88 of 100 such forecasts held what came; without growth 96. Your own words in workshop.json are left out.",
    formula: "error = (ordered − mean)/mean; chance of fewer = F(x − 1) + P(x)/2, x the number that came",
    guide: "forecasts-of-the-past"
  }
];
