import {dayNumber, dayText} from "../../lib/book/day.ts";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {leadTimes, nextSeason} from "../../lib/buying/leadTime.ts";
import {type PlanInput, type PurchasePlan, purchasePlan} from "../../lib/buying/purchasePlan.ts";
import {type Supply, supply} from "../../lib/buying/supply.ts";
import {type Influence, whatItHangsOn} from "../../lib/buying/whatItHangsOn.ts";
import {demandMonths} from "../../lib/figures/demandMonths.ts";
import {capital, slug} from "../../lib/figures/densityDots.ts";
import {influences} from "../../lib/figures/influences.ts";
import {profitCurve} from "../../lib/figures/profitCurve.ts";
import {type Html, html} from "../../lib/report/html.ts";
import {type KeyFigure, keyFigures} from "../../lib/report/keyFigures.ts";
import type {Method} from "../../lib/report/methods.ts";
import type {Section} from "../../lib/report/page.ts";
import {shown} from "../../lib/report/quantity.ts";
import {sum} from "../../lib/stats/numbers.ts";
import {quantile} from "../../lib/stats/quantile.ts";
import {finishChance} from "../../lib/yield/finishChance.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {type Beside, type Composer, compose, lead, plain, type Report} from "./compose.ts";
import {howGood, howSure} from "./howSure.ts";

/** One species in the season's plan; `why` says what is missing when there is none. */
interface SpeciesPlan {
  species: string;
  why?: string;
  input?: PlanInput;
  plan?: PurchasePlan;
  stock?: Supply;
  forecast?: NonNullable<ReturnType<typeof demandForecast>>;
  hangs?: Influence[];
  lead: ReturnType<typeof leadTimes>;
  /** Squares the lead times are known from, and how many of them are finished. */
  squares: number;
  finished: number;
}

/** The season's buying report: how many squares of each species, of whom, by when, and what the answer hangs on. */
export function seasonReport(read: BookAsOf, beside: Beside): Report {
  return compose("season", read, beside, (composer) => {
    const {histories: now, book, asOf} = read;
    const season = nextSeason(now);
    const plans = Object.keys(book.settings.species)
      .filter((species) => now.lots.some((lot) => lot.species === species))
      .map((species) => speciesPlan(read, species, season));
    const {currency} = composer;
    return {
      title: `Squares to buy for the season from ${season.startsOn}`,
      subtitle: `${book.settings.name} · from ${dayText(now.asOf + 1)} to the season's last day, ${season.endsOn} · data to ${asOf}`,
      lead: [0, 1, 2].flatMap((k) => plans.flatMap((plan) => points(plan, now.asOf)[k] ?? [])).slice(0, 6),
      summary: summary(plans, composer),
      sections: plans.flatMap((plan) => sectionsOf(plan, composer, season)),
      method,
      limits: [
        "This is advice. It knows the book, not the yard: a change of supplier, a big order or a bad winter is not in it. Money is at stake; decide yourself.",
        "Demand is carried on with the growth and the season of the past; it does not know of customers who did not ask because nothing was on the rack.",
        `Leftover shafts are taken to be worth ${shown(book.settings.money.leftoverValue, "money", {currency})} each at the season's end, a shaft not delivered to cost ${shown(book.settings.money.shortageCost, "money", {currency})} beyond the sale; both are settings.`,
        ...plans.flatMap(({species, input, plan}) =>
          input && plan
            ? [
                `${capital(species)}: a shaft is taken to sell at ${shown(input.money.price, "money", {currency})} (median of the last year's orders, else the setting); the purchase adds ${shown(plan.best.profit - plan.curve[0]!.profit, "money whole", {currency})} to what the stock earns without it.`
              ]
            : []
        ),
        "Orders from now to the season's last day are one sum: customers who ask before new squares are finished are taken to wait, or to be lost as a shortage.",
        "Each lot has its own luck, independent of the others; that all lots could turn out worse together is only shown by the table of what the number hangs on.",
        "A supplier counts with all its years: one that has got worse lately, as the suppliers’ report may say, gives fewer shafts than the plan expects of it.",
        "Pieces outside the density window count as not usable, though some order may take them."
      ]
    };
  });
}

function speciesPlan(
  {histories: now, book}: BookAsOf,
  species: string,
  season: {startsOn: string; endsOn: string}
): SpeciesPlan {
  const pieces = now.pieces.filter((piece) => piece.species === species);
  const lead = leadTimes(now, pieces, season.startsOn);
  const known = {lead, squares: pieces.length, finished: pieces.filter(({fate}) => fate === "finished").length};
  const missing = (why: string): SpeciesPlan => ({species, why, ...known});
  if (known.finished === 0)
    return missing(`no ${species} square has become a finished shaft yet, so nobody can say how many do`);
  const withinDays = dayNumber(season.endsOn) - now.asOf;
  const stock = supply(now, species, finishChance(now, pieces), finishChance(now, pieces, {withinDays}));
  if (stock.offers.length === 0)
    return missing(`no ${species} was bought in the last three years, so there is no price`);
  const forecast = demandForecast(now, species, season.endsOn);
  if (!forecast)
    return missing(`fewer than six whole months or five shafts of ${species} orders, so demand cannot be said`);
  const year = dayText(now.asOf - 365);
  const prices = now.orders
    .filter((order) => order.species === species && order.orderedOn > year)
    .flatMap(({priceEach}) => priceEach ?? []);
  const {shaftPrice, shortageCost, leftoverValue} = book.settings.money;
  const price = quantile(prices, 0.5) ?? shaftPrice;
  const dearest = stock.offers.find(({usableCost}) => leftoverValue >= usableCost);
  if (dearest)
    return missing(
      `a leftover shaft is set to be worth ${leftoverValue}, as much as or more than the ${shown(dearest.usableCost, "money")} a usable one costs from ${dearest.supplier}: then every further square pays, which cannot be meant`
    );
  const input: PlanInput = {
    finished: stock.rack,
    pipeline: stock.pipeline,
    demand: {mean: forecast.mean, known: forecast.open, ...(forecast.size !== undefined && {size: forecast.size})},
    offers: stock.offers,
    money: {price, shortageCost, leftoverValue}
  };
  const plan = purchasePlan(input);
  return {species, input, plan, stock, forecast, ...known, hangs: whatItHangsOn(input, plan.best)};
}

function points({species, why, plan, stock, forecast, lead}: SpeciesPlan, today: number): string[] {
  if (!plan || !stock || !forecast) return [`${capital(species)}: no number can be given, as ${why}.`];
  const {best, band} = plan;
  const [only, second] = best.orders;
  const whom =
    only && !second
      ? `all from ${only.supplier}${isAll(only, stock) ? ", the most it can sell by the settings" : ""}`
      : listed(best.orders.map(({supplier, squares}) => `${shown(squares, "count")} from ${supplier}`));
  const number =
    best.squares === 0
      ? `${capital(species)}: buy none`
      : `${capital(species)}: buy ${shown(best.squares, "count")} squares, ${whom}`;
  const need = forecast.mean + forecast.open;
  return [
    `${number}; ${band.from === band.to ? "no other number tried" : `any number from ${shown(band.from, "count")} to ${shown(band.to, "count")}`} is within 1\u00a0% of the best expected profit.`,
    `${capital(species)}: over the ${shown((dayNumber(forecast.to) - today) / 30.44, "count")} months to ${forecast.to} about ${shown(need, "count")} shafts will be wanted; ${shown(stock.rack, "count")} on the rack fit and the ${shown(stock.pipelinePieces, "count")} pieces on their way should give ${shown(stock.pipelineExpected, "count")} that do.`,
    ...lateness(species, lead, best.squares)
  ];
}

/** "a, b and c". */
function listed(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}

function lateness(species: string, lead: SpeciesPlan["lead"], squares: number): string[] {
  const sure = lead.at(-1);
  if (!sure || squares === 0) return [];
  if (sure.daysLeft >= 0)
    return [
      `${capital(species)}: have them in the store by ${sure.buyBy} (${sure.daysLeft} days from now), so that 9 of 10 shafts are finished when the season begins.`
    ];
  const half = lead[0]!;
  const still =
    half.daysLeft >= 0
      ? `half of the shafts are finished when the season begins if they are bought by ${half.buyBy}`
      : "less than half of the shafts will be finished when the season begins";
  return [
    `${capital(species)}: the day for 9 of 10 shafts to be finished when the season begins, ${sure.buyBy}, is past; ${still}.`
  ];
}

function summary(plans: readonly SpeciesPlan[], {currency}: Composer): Html {
  return keyFigures(
    plans.flatMap(({species, plan, stock, forecast, lead, squares, finished}): KeyFigure[] =>
      plan && stock && forecast
        ? [
            {
              label: `${capital(species)} squares to buy`,
              value: plan.best.squares,
              unit: "count" as const,
              interval: {low: plan.band.from, high: plan.band.to},
              level: "within 1\u00a0% of the best",
              change: `cost ${shown(plan.best.cost, "money whole", {currency})} with the work on them`,
              n: `from ${shown(sum(stock.offers.map(({lots}) => lots)), "count")} lots and ${shown(forecast.monthsKnown, "count")} months of orders`,
              note: `all orders served with a chance of ${shown(plan.best.service, "fraction")}`
            },
            {
              label: `${capital(species)} in the store by`,
              value: lead.at(-1)?.buyBy ?? "–",
              unit: "date" as const,
              n: `from ${shown(squares, "count")} squares, ${shown(finished, "count")} finished`,
              note:
                (lead.at(-1)?.daysLeft ?? 0) < 0
                  ? `past by ${-lead.at(-1)!.daysLeft} days: buy now; more shafts come after the season has begun`
                  : "for 9 of 10 shafts at the season's start"
            }
          ]
        : [{label: `${capital(species)} squares to buy`, value: "cannot say", unit: "text" as const}]
    ),
    {currency}
  );
}

/** A species with all that its sections are made of. */
type Planned = Required<Omit<SpeciesPlan, "why">>;

function isPlanned(plan: SpeciesPlan): plan is Planned {
  return plan.plan !== undefined && plan.hangs !== undefined;
}

type Season = ReturnType<typeof nextSeason>;

/** Of one species: how many, of whom, what they are wanted for, by when; one section where no number can be given. */
function sectionsOf(plan: SpeciesPlan, composer: Composer, season: Season): Section[] {
  if (isPlanned(plan))
    return [
      howMany(plan, composer, season),
      ofWhom(plan, composer),
      wantedFor(plan, composer, season),
      byWhen(plan, composer, season)
    ];
  const {species, why} = plan;
  return [
    {
      id: `plan-${slug(species)}`,
      heading: `${capital(species)}: no number yet`,
      body: [html`<p>No number can be given, as ${why}.</p>\n`]
    }
  ];
}

function howMany({species, plan, hangs}: Planned, {figure, currency}: Composer, {endsOn}: Season): Section {
  const {best, band, curve} = plan;
  const money = (value: number) => shown(value, "money whole", {currency});
  const bought =
    best.squares === 0
      ? "No purchase tried earns more than it costs."
      : `They cost ${money(best.cost)} with the work on them and add ${money(best.profit - curve[0]!.profit)} to what the stock earns without them.`;
  return {
    id: `plan-${slug(species)}`,
    heading:
      best.squares === 0
        ? `${capital(species)}: buy none`
        : `${capital(species)}: buy ${shown(best.squares, "count")} squares${band.from === band.to ? "" : `, ${shown(band.from, "count")} to ${shown(band.to, "count")} nearly as good`}`,
    body: [
      html`<p>${bought} Every order is then served with a chance of ${shown(best.service, "fraction")}; on average ${shown(best.expectedShort, "count")} shafts are short and ${shown(best.expectedLeftover, "count")} left over at the season’s end.</p>\n`,
      figure(profitCurve(plan, {species, currency, season: `until ${endsOn}`})),
      figure(influences(hangs, {species, planned: best.squares}))
    ]
  };
}

function ofWhom({species, plan, stock}: Planned, {table, currency}: Composer): Section {
  const {orders} = plan.best;
  const atMost = orders.filter((order) => isAll(order, stock)).map(({supplier}) => supplier);
  const whom = orders.toSorted((a, b) => b.squares - a.squares);
  const [first, second] = whom;
  const said =
    first === undefined
      ? `the cheapest usable shaft would cost ${shown(stock.offers[0]!.usableCost, "money", {currency})}`
      : second === undefined
        ? `all from ${first.supplier}${atMost.length > 0 ? ", the most it can sell by the settings" : ""}`
        : `${shown(first.squares, "count")} from ${first.supplier}, ${shown(sum(whom.slice(1).map(({squares}) => squares)), "count")} from ${whom.length === 2 ? second.supplier : `${whom.length - 1} others`}`;
  return {
    id: `whom-${slug(species)}`,
    heading: `${capital(species)}: ${said}`,
    body: [
      ...(atMost.length === 0
        ? []
        : [
            html`<p>The plan takes all that ${listed(atMost)} ${atMost.length === 1 ? "is" : "are"} taken to sell. Ask: if more can be had there, the best plan is another.</p>\n`
          ]),
      table({
        id: `offers-${slug(species)}`,
        caption: `What ${species} is to be had, by cost of a usable shaft`,
        columns: [
          {key: "supplier", heading: "Supplier", unit: "text"},
          {key: "planned", heading: "Buy", unit: "count"},
          {key: "usableCost", heading: "A usable shaft", unit: "money"},
          {key: "unitCost", heading: "A square and its work", unit: "money"},
          {key: "usableFraction", heading: "Become usable", unit: "fraction", low: "usableLow", high: "usableHigh"},
          {key: "lots", heading: "Lots", unit: "count"},
          {key: "minimum", heading: "Least", unit: "count"},
          {key: "available", heading: "Most", unit: "count"}
        ],
        rows: plain(stock.offers).map((row) => ({
          ...row,
          planned: orders.find(({supplier}) => supplier === row.supplier)?.squares ?? 0
        })),
        note: "A usable shaft costs what a square and its work cost, divided by the share that become usable: finished, with a density inside the window. In brackets the 95\u00a0% interval. Least and most are settings; without one the most is 100."
      }),
      lead("how-supply")
    ]
  };
}

/** Whether an order takes all that its supplier is taken to sell. */
function isAll(order: PurchasePlan["best"]["orders"][number], stock: Supply): boolean {
  return stock.offers.some(({supplier, available}) => supplier === order.supplier && order.squares === available);
}

function wantedFor({species, plan, stock, forecast}: Planned, {figure, table}: Composer, {endsOn}: Season): Section {
  const need = forecast.mean + forecast.open;
  const there = stock.rack + stock.pipelineExpected;
  return {
    id: `wanted-${slug(species)}`,
    heading: `${capital(species)}: about ${shown(need, "count")} shafts wanted, ${shown(there, "count")} there or on their way`,
    body: [
      html`<p>${shown(stock.rack, "count")} on the rack fit, and the ${shown(stock.pipelinePieces, "count")} pieces on their way should give ${shown(stock.pipelineExpected, "count")} that do: ${shown(Math.max(0, need - there), "count")} are left to cover until ${endsOn}.</p>\n`,
      figure(demandMonths(forecast)),
      table({
        id: `sum-${slug(species)}`,
        caption: `The sum behind the number: ${species} shafts until ${endsOn}`,
        columns: [
          {key: "what", heading: "What", unit: "text"},
          {key: "shafts", heading: "Shafts", unit: "count", low: "low", high: "high"},
          {key: "how", heading: "How known", unit: "text"}
        ],
        rows: [
          {what: "Ordered and not yet served", shafts: forecast.open, how: "orders.csv less pieces allotted"},
          {
            what: "Orders still to come",
            shafts: forecast.mean,
            low: forecast.low,
            high: forecast.high,
            how: `from ${forecast.monthsKnown} whole months; in brackets 95 of 100 cases`
          },
          {
            what: "On the rack, inside the window",
            shafts: stock.rack,
            how: `counted; ${stock.rackOutside} more lie outside`
          },
          {
            what: "On their way",
            shafts: stock.pipelineExpected,
            how: `of ${stock.pipelinePieces} pieces, each with its own chance and density`
          },
          {what: "Left to cover", shafts: Math.max(0, need - there), how: "wanted less stock, on average"},
          {what: "Short after buying", shafts: plan.best.expectedShort, how: "on average"},
          {what: "Left over after buying", shafts: plan.best.expectedLeftover, how: "on average"}
        ]
      }),
      lead("how-supply")
    ]
  };
}

function byWhen({species, lead: times, squares, finished}: Planned, {table}: Composer, {startsOn}: Season): Section {
  const sure = times.at(-1)!;
  const half = times[0]!;
  return {
    id: `when-${slug(species)}`,
    heading:
      sure.daysLeft >= 0
        ? `${capital(species)}: in the store by ${sure.buyBy} for the season’s start`
        : half.daysLeft >= 0
          ? `${capital(species)}: in the store by ${half.buyBy} for half of the shafts`
          : `${capital(species)}: too late for most shafts at the season’s start`,
    body: [
      html`<p>Half of the shafts to come of a purchase are finished within ${shown(half.days, "days")}, nine tenths within ${shown(sure.days, "days")}.</p>\n`,
      table({
        id: `buy-by-${slug(species)}`,
        caption: `By when ${species} must be in the store for the season from ${startsOn}`,
        columns: [
          {key: "shareFraction", heading: "Of the shafts to come", unit: "fraction"},
          {key: "days", heading: "Are finished within", unit: "days"},
          {key: "buyBy", heading: "Buy by", unit: "date"},
          {key: "daysLeft", heading: "Days from now", unit: "count"}
        ],
        rows: plain(times),
        note: `From ${shown(squares, "count")} squares, ${shown(finished, "count")} of them finished. A minus: days past.`
      }),
      lead("how-buy-by")
    ]
  };
}

const method: readonly Method[] = [
  {
    id: "how-demand",
    heading: "Shafts wanted",
    text: "Orders are counted by the month in which they came in, whole months only. Curves with and without growth, with no, one or two waves a year, are fitted to them; each counts by how well the months bear it out for the terms it needs. The orders to come are a negative binomial number about the curve: its variance holds the scatter of months, the doubt about the curve, and that both are known from few months. Open orders are added as they stand.",
    formula: "ln μ(t) = b₀ + b₁·t + Σₖ (cₖ·cos 2πkt + sₖ·sin 2πkt), t in years, μ shafts a month",
    guide: "demand"
  },
  {
    id: "how-supply",
    heading: "Shafts to be had",
    text: "Those on the rack inside the window are counted. A piece on its way has its own chance to be finished in time and its own measured density. Of new squares a supplier’s usable share counts, drawn towards the mean of the species by as much as it is known from little. Squares of one lot share their luck, so the usable number of a lot is beta-binomial; how alike lots are is fitted to the lots that are decided. A purchase comes in lots of the size usual from its supplier, each with a luck of its own; the doubt about the supplier is common to them.",
    formula: "cost of a usable shaft = (price + carriage + work of a square) ÷ share that become usable",
    guide: "plan"
  },
  {
    id: "how-plan",
    heading: "The plan",
    text: "The distributions of shafts wanted and shafts to be had are worked out exactly, without random numbers, for each number of squares; the split over suppliers, within their least and most, is searched step by step from that exact outcome. The number is not (wanted − stock) ÷ yield: that rule forgets what a shortage and a leftover cost, and that both demand and yield are uncertain. The curve is flat near its top, so the range matters more than the best number.",
    formula:
      "expected profit = price · sold + leftover value · left over − shortage cost · short − cost of the squares with the work on them",
    guide: "plan"
  },
  {
    id: "how-hangs",
    heading: "What the number hangs on",
    text: "One input at a time is taken a tenth lower and a tenth higher and the plan made again. What is missed is the profit of that plan less the profit of keeping to this one. A change that would make a leftover worth more than a usable square costs has no best number and is left out.",
    guide: "plan"
  },
  {
    id: "how-buy-by",
    heading: "Buy by",
    text: "From the time squares have really taken from purchase to finished shaft; pieces still resting count for as long as they have been followed.",
    formula:
      "days(q) = smallest t with F(t) ≥ q · F(last), F(t) the share of squares finished within t days; buy by = season’s first day − days(q)",
    guide: "buy-by"
  },
  howSure,
  howGood
];
