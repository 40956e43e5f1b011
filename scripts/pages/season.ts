import {dayNumber, dayText} from "../../lib/book/day.ts";
import {demandRange} from "../../lib/buying/demandRange.ts";
import {costEach, offerShare} from "../../lib/buying/outcomes.ts";
import {seasonPlan} from "../../lib/buying/seasonPlan.ts";
import {planAgain, whatItHangsOn} from "../../lib/buying/whatItHangsOn.ts";
import {worthOfKnowing} from "../../lib/buying/worthOfKnowing.ts";
import {capital, slug} from "../../lib/figures/densityDots.ts";
import {influences} from "../../lib/figures/influences.ts";
import {profitCurve} from "../../lib/figures/profitCurve.ts";
import {type Html, html} from "../../lib/report/html.ts";
import {type KeyFigure, keyFigures} from "../../lib/report/keyFigures.ts";
import type {Method} from "../../lib/report/methods.ts";
import type {Section} from "../../lib/report/page.ts";
import {shown} from "../../lib/report/quantity.ts";
import {sum} from "../../lib/stats/numbers.ts";
import {finishChances} from "../../lib/yield/finishChance.ts";
import {counted} from "../faultLines.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {planSeason, type Season, type SpeciesPlan} from "../season/planSeason.ts";
import {whatIfScript} from "../whatIf/bundle.ts";
import {type Beside, type Composer, compose, lead, plain, type Report} from "./compose.ts";
import {howGood, howSure} from "./howSure.ts";
import {listed} from "./listed.ts";
import {demandMethods, demandParts, speciesDemand} from "./season/demand.ts";
import {followUpParts} from "./season/followUp.ts";
import {whatIfMethods, whatIfParts} from "./season/whatIf.ts";
import {type WhenInput, type WhenParts, whenMethod, whenParts} from "./season/when.ts";

/** A species' plan, and how many of its squares are known. */
export type Planned = SpeciesPlan & {pieces: number; finished: number};

/** The season's buying report: how many squares of each species, of whom, by when, and what the answer hangs on. */
export function seasonReport(read: BookAsOf, beside: Beside): Report {
  return compose("season", read, beside, (composer) => {
    const {histories: now, book, asOf} = read;
    const season = planSeason(read);
    const plans = season.species.map((one): Planned => {
      const pieces = now.pieces.filter((piece) => piece.species === one.species);
      const finished = pieces.filter(({fate}) => fate === "finished").length;
      return {...one, pieces: pieces.length, finished};
    });
    const {currency} = composer;
    const money = (value: number) => shown(value, "money", {currency});
    // Figures are numbered as they are made: the sections first, in their order.
    const when: Record<string, WhenParts> = {};
    const byWhen = (plan: Planned): Section => {
      const parts = whenParts(whenInput(plan, season, read), composer);
      const {heading, body} = parts;
      when[plan.species] = parts;
      return {id: `when-${slug(plan.species)}`, heading, body};
    };
    const tried = whatIf(season, book.settings.buying.serviceGoal, currency);
    const planned = [
      ...purchaseSection(plans, season, composer),
      ...(tried ? [{id: "what-if", heading: tried.heading, body: [...tried.body, lead("how-what-if")]}] : []),
      ...plans.flatMap((plan) => [
        howMany(plan, season, book.settings.scenarios, composer),
        ofWhom(plan, season, composer),
        wantedFor(plan, season, composer),
        ordersOf(plan.species, season, read, composer),
        byWhen(plan)
      ]),
      ...season.missing.flatMap(({species, why}) => [noNumber(species, why), ordersOf(species, season, read, composer)])
    ];
    const followUp = followUpParts(read, composer);
    const sections = [...planned, followUp.section];
    return {
      title: `Squares to buy for the season from ${season.startsOn}`,
      subtitle: `${book.settings.name} · from ${dayText(now.asOf + 1)} to the season's last day, ${season.endsOn} · data to ${asOf}`,
      lead: [
        ...season.missing.map(({species, why}) => `${capital(species)}: no number can be given, as ${why}.`),
        ...[0, 1, 2, 3].flatMap((k) =>
          plans.flatMap((plan) => {
            const [number, wanted] = points(plan, now.asOf);
            return [number, ...when[plan.species]!.sentences, wanted][k] ?? [];
          })
        ),
        ...(followUp.point ? [followUp.point] : [])
      ].slice(0, 6),
      summary: summary(plans, when, season, composer),
      sections,
      method: [...method, ...(tried ? whatIfMethods : []), ...followUp.method],
      ownScript: tried && beside.draw && whatIfScript(),
      limits: [
        "This is advice. It knows the book, not the yard: a change of supplier, a big order or a bad winter is not in it. Money is at stake; decide yourself.",
        "Demand is carried on with the growth and the season of the past, unless workshop.json says otherwise under demand; it does not know of customers who did not ask because nothing was on the rack, unless lost orders are written down.",
        `Leftover shafts are taken to be worth ${money(book.settings.money.leftoverValue)} each at the season's end, a shaft not delivered to cost ${money(book.settings.money.shortageCost)} beyond the sale; both are settings.`,
        ...plans.map(
          ({species, need, plan}) =>
            `${capital(species)}: a shaft is taken to sell at ${money(need.money.price)} (median of the last year's orders, else the setting); the purchase adds ${shown(plan.best.profit - plan.curve[0]!.profit, "money whole", {currency})} to what the stock earns without it.`
        ),
        "Orders from now to the season's last day are one sum for the number: customers who ask before new squares are finished are taken to wait, or to be lost as a shortage. The months are looked at under by when.",
        "Each lot has its own luck, independent of the others; the doubt about the yield of each stage is common to all timber, that all lots could turn out worse together for another reason is only shown by what the number hangs on.",
        "A supplier that has got worse lately, as the suppliers’ report says, is rated by what passes now; any other by all its years.",
        ...followUp.limits,
        "Pieces outside the density window count as not usable, though some order may take them."
      ]
    };
  });
}

/** The panel that works the plan out anew in the page; none where there is no plan. */
function whatIf({input, planner, species, endsOn}: Season, serviceGoal: number, currency: string) {
  const names = species.map((one) => one.species);
  return input && whatIfParts({input, species: names, serviceGoal, currency, endsOn}, planner);
}

export function points({species, plan, stock, need, demand}: Planned, today: number): string[] {
  const {best, band} = plan;
  const number =
    best.squares === 0
      ? `${capital(species)}: buy none`
      : `${capital(species)}: buy ${shown(best.squares, "count")} squares, ${ofWhomWords(plan.best.orders, stock)}`;
  const wanted = need.demand.mean + (need.demand.known ?? 0);
  return [
    `${number}; ${band.from === band.to ? "no other number" : `any number from ${shown(band.from, "count")} to ${shown(band.to, "count")}`} is within 1\u00a0% of the best expected profit.`,
    `${capital(species)}: over the ${shown((dayNumber(demand.to) - today) / 30.44, "count")} months to ${demand.to} about ${shown(wanted, "count")} shafts will be wanted; ${shown(stock.rack, "count")} on the rack fit and are free, and the ${shown(stock.pipelinePieces, "count")} pieces on their way should give ${shown(stock.pipelineExpected, "count")} that do.`
  ];
}

/** "all from A, the most it can sell by the settings" or "20 from A and 30 from B". */
function ofWhomWords(orders: SpeciesPlan["plan"]["best"]["orders"], stock: SpeciesPlan["stock"]): string {
  const whom = orders.toSorted((a, b) => b.squares - a.squares);
  const [only, second] = whom;
  return only && !second
    ? `all from ${only.supplier}${isAll(only, stock) ? ", the most it can sell by the settings" : ""}`
    : listed(whom.map(({supplier, squares}) => `${shown(squares, "count")} from ${supplier}`));
}

function summary(
  plans: readonly Planned[],
  when: Readonly<Record<string, WhenParts>>,
  {missing, endsOn}: Season,
  {currency}: Composer
): Html {
  return keyFigures(
    [
      ...plans.flatMap(({species, plan, stock, demand, pieces, finished}): KeyFigure[] => {
        const {by} = when[species]!;
        return [
          {
            label: `${capital(species)} squares to buy`,
            value: plan.best.squares,
            unit: "count" as const,
            interval: {low: plan.band.from, high: plan.band.to},
            level: "within 1\u00a0% of the best",
            change: `cost ${shown(plan.best.cost, "money whole", {currency})} with the work on them`,
            n: `from ${counted(sum(stock.offers.map(({lots}) => lots)), "lot")}${demand.book ? ` and ${counted(demand.book.monthsKnown, "month")} of orders` : ""}`,
            note: `all orders until ${endsOn} served with a chance of ${shown(plan.best.service, "fraction")}`
          },
          {
            label: `${capital(species)} in the store by`,
            value: by?.day ?? "–",
            unit: "date" as const,
            n: `from ${shown(pieces, "count")} squares, ${shown(finished, "count")} finished`,
            note: by ? `${by.isPast ? "past: buy now; " : ""}${by.note}` : "nothing is to be bought"
          }
        ];
      }),
      ...missing.map(
        ({species}): KeyFigure => ({label: `${capital(species)} squares to buy`, value: "cannot say", unit: "text"})
      )
    ],
    {currency}
  );
}

/** What to bring home, supplier by supplier, all species in one; what it costs, and what it is worth to split it. */
export function purchaseSection(
  plans: readonly Planned[],
  {plan, input}: Season,
  {table, currency}: Composer
): Section[] {
  if (!plan || !input) return [];
  const money = (value: number) => shown(value, "money whole", {currency});
  const rows = plan.visits.flatMap((supplier) =>
    plans.flatMap(({species, stock, plan: own}) => {
      const squares = own.best.orders.find((order) => order.supplier === supplier)?.squares ?? 0;
      const offer = stock.offers.find((one) => one.supplier === supplier);
      if (!offer || squares === 0) return [];
      const priceEach = offer.priceEach + costEach(offer, squares) - offer.unitCost;
      return [{supplier, species, squares, priceEach, pay: squares * priceEach}];
    })
  );
  const trips = plan.visits.map((supplier) => ({supplier, pay: input.tripCosts?.[supplier] ?? 0}));
  const one = seasonPlan({...input, trips: 1});
  const pay = sum(rows.map((row) => row.pay)) + plan.tripCost;
  const gap = plan.profitAtMost - plan.profit;
  const fromOne = sum(one.purchases.map(({squares}) => squares));
  const splitting =
    plan.visits.length > 1
      ? ` From one supplier alone, at best ${shown(fromOne, "count")} from ${one.visits[0] ?? "none"}, ${money(plan.profit - one.profit)} less would be expected: what one can sell is limited, and lots fail independently.`
      : "";
  const bound = [
    ...(input.budget === undefined
      ? []
      : [`Budget: ${money(input.budget)}, of which the purchase takes ${money(plan.cost)} with the work to come.`]),
    ...(input.trips === undefined ? [] : [`At most ${counted(input.trips, "trip")}.`])
  ];
  return [
    {
      id: "purchase",
      heading:
        rows.length === 0
          ? "The purchase: none"
          : `The purchase: ${shown(sum(rows.map(({squares}) => squares)), "count")} squares, ${counted(plan.visits.length, "trip")}, ${money(pay)} to pay`,
      body: [
        html`<p>${bound.join(" ")}${bound.length > 0 && " "}Squares and the work on them come to ${money(plan.cost - plan.tripCost)}, the trips to ${money(plan.tripCost)}.${splitting} ${plan.isProven ? "Every purchase within the limits was tried: none is better." : `No purchase within the limits can be expected to earn more than ${money(gap)} (${shown(gap / Math.abs(plan.profit), "fraction")}) above this one.`}</p>\n`,
        table({
          id: "purchase-table",
          caption: "What to bring home",
          columns: [
            {key: "supplier", heading: "Supplier", unit: "text"},
            {key: "species", heading: "Species", unit: "text"},
            {key: "squares", heading: "Squares", unit: "count"},
            {key: "priceEach", heading: "A square", unit: "money"},
            {key: "pay", heading: "To pay", unit: "money whole"}
          ],
          rows: [...rows, ...trips.map(({supplier, pay}) => ({supplier, species: "the trip", pay}))].sort((a, b) =>
            a.supplier < b.supplier ? -1 : a.supplier > b.supplier ? 1 : 0
          ),
          note: "Prices are the mean of the last three lots, trips that of the last three (tripCost in workshop.json, if given). A trip counts once for all that is brought home: where so much takes several drives, put what they cost together into tripCost. The work on the squares is paid later and not in it."
        }),
        lead("how-plan")
      ]
    }
  ];
}

export function howMany(
  {species, plan, need, alone}: Planned,
  {endsOn, startsOn}: Season,
  scenarios: BookAsOf["book"]["settings"]["scenarios"],
  {figure, table, currency}: Composer
): Section {
  const {best, band, curve, forService, serviceGoal} = plan;
  const money = (value: number) => shown(value, "money whole", {currency});
  const bought =
    best.squares === 0
      ? "No purchase tried earns more than it costs."
      : `They cost ${money(best.cost)} with the work on them and add ${money(best.profit - curve[0]!.profit)} to what the stock earns without them.`;
  const goal =
    forService === undefined
      ? ` No number to be had serves every order with a chance of ${shown(serviceGoal, "fraction")}.`
      : forService > best.squares
        ? ` For a chance of ${shown(serviceGoal, "fraction")} it takes ${shown(forService, "count")} squares: more than profit alone asks for, as the last of them are seldom sold.`
        : "";
  const worth = worthOfKnowing(alone);
  const again = scenarios.flatMap(
    ({name: called, demandPct = 0, usablePct = 0, squareCostPct = 0, shaftPricePct = 0}) => {
      const row = planAgain(alone, best, {
        demand: 1 + demandPct / 100,
        usable: 1 + usablePct / 100,
        squareCost: 1 + squareCostPct / 100,
        shaftPrice: 1 + shaftPricePct / 100
      });
      const changes = [
        ["demand", demandPct],
        ["usable share", usablePct],
        ["squares’ cost", squareCostPct],
        ["shafts’ price", shaftPricePct]
      ] as const;
      const said = changes
        .filter(([, pct]) => pct !== 0)
        .map(([what, pct]) => `${what} ${pct > 0 ? "+" : "−"}${Math.abs(pct)}\u00a0%`);
      const name = said.length === 0 ? called : `${called}: ${said.join(", ")}`;
      return row ? [{name, ...row}] : [];
    }
  );
  return {
    id: `plan-${slug(species)}`,
    heading:
      best.squares === 0
        ? `${capital(species)}: buy none`
        : `${capital(species)}: buy ${shown(best.squares, "count")} squares${band.from === band.to ? "" : `, ${shown(band.from, "count")} to ${shown(band.to, "count")} nearly as good`}`,
    body: [
      html`<p>${bought} Every order is then served with a chance of ${shown(best.service, "fraction")}; on average ${shown(best.expectedShort, "count")} shafts are short and ${shown(best.expectedLeftover, "count")} left over at the season’s end.${goal}</p>\n<p>${ruleSentence({species, plan, need}, currency)}</p>\n`,
      figure(profitCurve(plan, {species, currency, season: `until ${endsOn}`})),
      figure(influences(whatItHangsOn(alone, best), {species, planned: best.squares})),
      table({
        id: `scenarios-${slug(species)}`,
        caption: `If the season from ${startsOn} turns out otherwise: the best number of ${species} squares then`,
        columns: [
          {key: "name", heading: "If", unit: "text"},
          {key: "squares", heading: "Best number", unit: "count"},
          {key: "difference", heading: "Against the plan", unit: "count"},
          {key: "profit", heading: "Expected profit", unit: "money whole"},
          {key: "regret", heading: "Missed by keeping to the plan", unit: "money whole"}
        ],
        rows: again,
        note: `The scenarios are yours to write, under scenarios in workshop.json. To know demand before buying would be worth ${money(worth.demand)} on average, to know the suppliers’ usable shares ${money(worth.usable)}: no more should be spent on finding out.`
      }),
      lead("how-hangs")
    ]
  };
}

/** What the rule (wanted − stock) ÷ yield would buy, and what that would miss. */
function ruleSentence({species, plan, need}: Pick<Planned, "species" | "plan" | "need">, currency: string): string {
  const {best} = plan;
  const bought = best.orders.map(({supplier, squares}) => ({
    squares,
    share: offerShare(need.offers.find((one) => one.supplier === supplier)!)
  }));
  const share =
    best.squares > 0 ? sum(bought.map((one) => one.squares * one.share)) / best.squares : offerShare(need.offers[0]!);
  const coming = sum(need.pipeline.map(({n, alpha, beta}) => (n * alpha) / (alpha + beta)));
  const number = Math.max(0, Math.ceil((need.demand.mean + (need.demand.known ?? 0) - need.finished - coming) / share));
  const near = plan.curve.reduce((a, b) => (Math.abs(b.squares - number) < Math.abs(a.squares - number) ? b : a));
  const missed = best.profit - near.profit;
  if (number > plan.curve.at(-1)!.squares)
    return `The common rule, (wanted − stock) ÷ usable share, would say ${shown(number, "count")} ${species} squares: more than can be had within the limits.`;
  return `The common rule, (wanted − stock) ÷ usable share, would say ${shown(number, "count")} ${species} squares and be expected to earn ${missed < 1 ? "about as much" : `about ${shown(missed, "money whole", {currency})} less`}: it does not ask what a shortage and a leftover cost, nor how uncertain demand and yield are.`;
}

export function ofWhom({species, plan, stock}: Planned, _: Season, {table, currency}: Composer): Section {
  const {orders} = plan.best;
  const atMost = orders.filter((order) => isAll(order, stock)).map(({supplier}) => supplier);
  const worse = stock.offers.filter(({latelyFactor}) => latelyFactor < 1);
  const whom = orders.toSorted((a, b) => b.squares - a.squares);
  const said =
    whom.length === 0
      ? `the cheapest usable shaft would cost ${shown(stock.offers[0]!.usableCost, "money", {currency})}`
      : whom.length > 2
        ? `${shown(whom[0]!.squares, "count")} from ${whom[0]!.supplier}, ${shown(sum(whom.slice(1).map(({squares}) => squares)), "count")} from ${whom.length - 1} others`
        : whom.length === 2
          ? `${shown(whom[0]!.squares, "count")} from ${whom[0]!.supplier}, ${shown(whom[1]!.squares, "count")} from ${whom[1]!.supplier}`
          : ofWhomWords(orders, stock);
  const share = (value: number) => shown(value, "fraction");
  return {
    id: `whom-${slug(species)}`,
    heading: `${capital(species)}: ${said}`,
    body: [
      ...(atMost.length === 0
        ? []
        : [
            html`<p>The plan takes all that ${listed(atMost)} ${atMost.length === 1 ? "is" : "are"} taken to sell. Ask: if more can be had there, the best plan is another.</p>\n`
          ]),
      ...worse.map(
        ({supplier, latelyFactor, usableFraction}) =>
          html`<p>${supplier} may have got worse lately: of what passes over all years, ${share(latelyFactor)} passes now. It is rated by that, at ${share(usableFraction)} usable, not by its better years.</p>\n`
      ),
      table({
        id: `offers-${slug(species)}`,
        caption: `What ${species} is to be had, by cost of a usable shaft with the work on it`,
        columns: [
          {key: "supplier", heading: "Supplier", unit: "text"},
          {key: "planned", heading: "Buy", unit: "count"},
          {key: "usableCost", heading: "A usable shaft, work included", unit: "money"},
          {key: "unitCost", heading: "A square and its work", unit: "money"},
          {key: "usableFraction", heading: "Become usable", unit: "fraction", low: "usableLow", high: "usableHigh"},
          {key: "lots", heading: "Lots", unit: "count"},
          {key: "minimum", heading: "Least", unit: "count"},
          {key: "available", heading: "Most", unit: "count"},
          {key: "tripCost", heading: "A trip", unit: "money"}
        ],
        rows: plain(stock.offers).map((row) => ({
          ...row,
          planned: orders.find(({supplier}) => supplier === row.supplier)?.squares ?? 0
        })),
        note: "A usable shaft costs a square, its work and its part of a trip for a usual lot, divided by the share that become usable: finished, with a density inside the window. That share is the supplier's own drawn towards the mean of the species by as much as it is known from little; in brackets its 95\u00a0% interval. Least, most, trip and discounts are settings; without one the most is 100."
      }),
      lead("how-supply")
    ]
  };
}

/** Whether an order takes all that its supplier is taken to sell. */
function isAll(order: {supplier: string; squares: number}, stock: SpeciesPlan["stock"]): boolean {
  return stock.offers.some(({supplier, available}) => supplier === order.supplier && order.squares === available);
}

export function wantedFor({species, plan, stock, demand, need}: Planned, {endsOn}: Season, {table}: Composer): Section {
  const wanted = need.demand.mean + (need.demand.known ?? 0);
  const there = stock.rack + stock.pipelineExpected;
  return {
    id: `wanted-${slug(species)}`,
    heading: `${capital(species)}: ${shown(there, "count")} shafts there or on their way, ${shown(Math.max(0, wanted - there), "count")} left to cover`,
    body: [
      html`<p>${shown(stock.rack, "count")} on the rack fit and are free, and the ${shown(stock.pipelinePieces, "count")} pieces on their way should give ${shown(stock.pipelineExpected, "count")} that do; about ${shown(wanted, "count")} are wanted until ${endsOn}.</p>\n`,
      table({
        id: `sum-${slug(species)}`,
        caption: `The sum behind the number: ${species} shafts until ${endsOn}`,
        columns: [
          {key: "what", heading: "What", unit: "text"},
          {key: "shafts", heading: "Shafts", unit: "count", low: "low", high: "high"},
          {key: "how", heading: "How known", unit: "text"}
        ],
        rows: [
          {
            what: "Ordered and not yet served",
            shafts: need.demand.known ?? 0,
            how: `orders.csv less pieces allotted${demand.bigOrder > 0 ? `, and a big order of ${demand.bigOrder}` : ""}`
          },
          {
            what: "Orders still to come",
            shafts: need.demand.mean,
            ...demandRange(need.demand.mean, need.demand.size),
            how: demand.overridden.includes("shafts")
              ? "your own number, in workshop.json"
              : `from ${demand.book?.monthsKnown ?? 0} whole months, those that a shaft in the window can serve; in brackets 95 of 100 cases`
          },
          {
            what: "On the rack, inside the window",
            shafts: stock.rack,
            how: `counted; ${stock.rackOutside} more lie outside, ${stock.rackAllotted} are promised to orders`
          },
          {
            what: "On their way",
            shafts: stock.pipelineExpected,
            how: `of ${stock.pipelinePieces} pieces, each with its own chance and density`
          },
          {what: "Left to cover", shafts: Math.max(0, wanted - there), how: "wanted less stock, on average"},
          {what: "Short after buying", shafts: plan.best.expectedShort, how: "on average"},
          {what: "Left over after buying", shafts: plan.best.expectedLeftover, how: "on average"}
        ]
      }),
      lead("how-supply")
    ]
  };
}

/** What “by when” needs of a species' plan: the trips that no other species pays for are its own. */
function whenInput({species, need, stock, plan}: Planned, season: Season, {histories, book}: BookAsOf): WhenInput {
  const pieces = histories.pieces.filter((piece) => piece.species === species);
  const {orders, squares, cost} = plan.best;
  // A trip for several species is shared by their squares.
  const all = season.species.flatMap((one) => one.plan.best.orders);
  const trips = sum(
    orders.map((order) => {
      const together = sum(all.filter(({supplier}) => supplier === order.supplier).map((one) => one.squares));
      return ((season.input?.tripCosts?.[order.supplier] ?? 0) * order.squares) / together;
    })
  );
  return {
    histories,
    species,
    season,
    rack: stock.rack,
    pipeline: need.pipeline,
    offers: need.offers,
    chanceWithin: finishChances(histories, pieces),
    demand: need.demand,
    orders,
    squaresCost: cost - squares * book.settings.money.turningCostPerSquare + trips,
    price: need.money.price,
    serviceGoal: plan.serviceGoal
  };
}

export function noNumber(species: string, why: string): Section {
  return {
    id: `plan-${slug(species)}`,
    heading: `${capital(species)}: no number yet`,
    body: [html`<p>No number can be given, as ${why}.</p>\n`]
  };
}

function ordersOf(species: string, {endsOn}: Season, {histories}: BookAsOf, composer: Composer): Section {
  const {heading, parts} = demandParts(speciesDemand(histories, species, endsOn), composer);
  return {id: `orders-${slug(species)}`, heading, body: parts};
}

export const method: readonly Method[] = [
  ...demandMethods,
  {
    id: "how-supply",
    heading: "Shafts to be had",
    text: "Those on the rack inside the window, and free, are counted. A piece on its way has its own chance to be finished in time and its own measured density. Of new squares a supplier’s usable share counts, drawn towards the mean of the species by as much as it is known from little. Squares of one lot share their luck, so the usable number of a lot is beta-binomial; how alike lots are is fitted to the lots that are decided. A purchase comes in lots of the size usual from its supplier, each with a luck of its own; the doubt about the supplier is common to them. How well the yield of each stage is known moves pieces on their way and new squares together, by as many stages as they both have before them. A supplier that has got worse lately is rated by what passes now.",
    formula: "cost of a usable shaft = (price + carriage + work of a square) ÷ share that become usable",
    guide: "plan"
  },
  {
    id: "how-plan",
    heading: "The plan",
    text: "The distributions of shafts wanted and shafts to be had are worked out exactly, without random numbers, for each number of squares. All species are bought in one: within the least and most of each supplier, its discounts, the cost of each trip (paid once for all species), the budget and the number of trips, the purchase is searched by steps and exchanges until none helps; how much better any other could be is bounded by letting each square give its mean share for certain. The number is not (wanted − stock) ÷ yield: that rule forgets what a shortage and a leftover cost, and that both demand and yield are uncertain. The curve is flat near its top, so the range matters more than the best number.",
    formula:
      "expected profit = price · sold + leftover value · left over − shortage cost · short − cost of the squares with the work on them",
    guide: "plan"
  },
  {
    id: "how-hangs",
    heading: "What the number hangs on",
    text: "For one species, with the money and the trips that the others leave: one input at a time is taken a tenth lower and a tenth higher and the plan made again. What is missed is the profit of that plan less the profit of keeping to this one. A change that would make a leftover worth more than a usable square costs has no best number and is left out. What knowing would be worth is the profit with the best number for each case, on average over the cases, less that of the one best number.",
    guide: "plan"
  },
  ...whenMethod,
  howSure,
  howGood
];
