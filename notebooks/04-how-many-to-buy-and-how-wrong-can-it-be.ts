// %% [markdown]
// # How many squares to buy, and how wrong can it be?
//
// Too few squares and customers go without; too many and shafts lie about that nobody asked for. The plan weighs both and
// names a number. This page shows what the number rests on, and then lets the season happen a few thousand times to see
// what may come of it. It is advice from past records: timber, orders and prices change, and the money is yours.
//
// ## What will be wanted, what there is

// %% Orders to come
import {dayText} from "../lib/book/day.ts";
import {nextSeason} from "../lib/buying/leadTime.ts";
import {demandForecast} from "../lib/buying/demandForecast.ts";
import {demandMonths} from "../lib/figures/demandMonths.ts";
import {groupBy} from "../lib/book/spells.ts";
import {shown} from "../lib/report/quantity.ts";
import {open} from "../scripts/notebook/book.ts";
import {show} from "../scripts/notebook/show.ts";

const read = open();
const {histories, book} = read;
const {currency} = book.settings.money;
const bySpecies = [...groupBy(histories.pieces, (piece) => piece.species)].sort((a, b) => b[1].length - a[1].length);
/** The species to ask about: the one with most squares. Put another name here. */
const species = bySpecies[0]?.[0] ?? "ash";
const {endsOn} = nextSeason(histories);
const forecast = demandForecast(histories, species, endsOn);
const money = (value: number | undefined) => shown(value, "money whole", {currency});

if (forecast) show(demandMonths(forecast));
else show(`There are fewer than six whole months or five shafts of ${species} orders, so demand cannot be said.`);

// %% The sum, up to the season's last day
import {planSeason} from "../scripts/season/planSeason.ts";

// As the season's report makes it: all species in one, so that money and trips are shared.
const season = planSeason(read);
const own = season.species.find((one) => one.species === species);
const stock = own?.stock;
const why = season.missing.find((one) => one.species === species)?.why ?? "there are no squares";
const missing = `No number can be given yet: ${why}.`;

if (stock)
  show(
    [
      {what: "Ordered, not yet served", shafts: forecast?.open},
      {what: "Orders still to come", shafts: forecast?.mean, low: forecast?.low, high: forecast?.high},
      {what: "On the rack, inside the window", shafts: stock.rack},
      {what: `Of the ${stock.pipelinePieces} pieces on their way`, shafts: stock.pipelineExpected}
    ],
    {
      caption: `${species} shafts until ${endsOn}`,
      columns: [{key: "what"}, {key: "shafts", unit: "count", low: "low", high: "high"}],
      note: "Orders to come with the range of 95 cases in 100."
    }
  );
else show(missing);

// %% Whose squares
const columns = [
  "supplier",
  "lots",
  "squares",
  {key: "usableFraction", heading: "Become usable shafts", low: "usableLow", high: "usableHigh"},
  {key: "unitCost", heading: "A square and its work", unit: "money" as const},
  {key: "usableCost", heading: "A usable shaft", unit: "money" as const},
  {key: "available", heading: "Most to be had"}
];
if (stock)
  show(stock.offers, {
    caption: `What ${species} is to be had, cheapest usable shaft first`,
    columns,
    note: "Usable: finished, and inside the density window. 95 % intervals, drawn towards the mean of all suppliers."
  });
else show(missing);

// %% [markdown]
// ## The number, and how flat it is about it

// %% Profit by number of squares
import {profitCurve} from "../lib/figures/profitCurve.ts";
import type {Need} from "../lib/buying/outcomes.ts";

const input = own?.need;
const plan = own?.plan;

if (plan) show(profitCurve(plan, {species, currency, season: `until ${endsOn}`}));
else show(missing);

// %% [markdown]
// ## If the yield or the demand is a tenth off
//
// The sums take yield and demand from the past. Here each is a tenth lower and a tenth higher; the plan is made again, and
// we ask what it would cost to have bought the first number all the same.

// %% The plan again, with each a tenth off
import {whatItHangsOn} from "../lib/buying/whatItHangsOn.ts";

const wanted = ["usable share", "demand"];
const hangs = own && plan ? whatItHangsOn(own.alone, plan.best).filter(({input: name}) => wanted.includes(name)) : [];

if (hangs.length > 0)
  show(hangs, {
    caption: `The best number when one thing is a tenth off (plan: ${plan!.best.squares} squares)`,
    columns: [
      {key: "input", heading: "What"},
      {key: "change", heading: "By"},
      {key: "squares", heading: "Best number then"},
      {key: "difference", heading: "Against the plan"},
      {key: "profit", heading: "Profit then", unit: "money whole"},
      {key: "regret", heading: "Missed by keeping the plan", unit: "money whole"}
    ]
  });
else show(missing);

// %% [markdown]
// ## A few thousand seasons
//
// The curve above is an average. A season happens once: each supplier is a little better or worse than we think, each
// lot has luck of its own, and orders come or stay away. So draw them all, by a seeded stream that gives everyone the same
// seasons, and count what is left over or short when the recommended number is bought.

// %% The seasons drawn
import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import standardQuantile from "@stdlib/stats-base-dists-normal-quantile";
import {betaBinomialPmf} from "../lib/stats/betaBinomial.ts";
import {betaByMoments, betaMoments} from "../lib/stats/betaMoments.ts";
import {countQuantile} from "../lib/stats/countQuantile.ts";
import {deviation} from "../lib/stats/deviation.ts";
import {quantile} from "../lib/stats/quantile.ts";
import {mean} from "../lib/stats/mean.ts";
import {negativeBinomialPmf} from "../lib/stats/negativeBinomial.ts";
import {sum} from "../lib/stats/numbers.ts";
import {randomStream} from "../lib/stats/random.ts";

/** How many seasons to draw, each from a seed of its own, so that every purchase meets the same seasons. */
const seasons = 3000;
const seedOf = randomStream(4);
const seeds = Array.from({length: seasons}, () => Math.floor(seedOf() * 2 ** 32));

/** Usable shafts of squares of one supplier: its true share is drawn, then each lot's, then the squares'; z moves all timber together. */
function drawPurchase(offer: Need["offers"][number], squares: number, z: number, random: () => number): number {
  const {mean: usual, variance} = betaMoments(offer);
  const share = Math.min(0.999, usual * (1 + (offer.common ?? 0) * z));
  const {doubt = 0, lotSize = squares} = offer;
  const own = doubt > 0 ? betaByMoments({mean: share, variance: doubt}) : undefined;
  const truth = Math.min(0.999, Math.max(0.001, own ? betaQuantile(random(), own.alpha, own.beta) : share));
  // How alike the squares of a lot are, as the offer has it.
  const alike = Math.min(0.95, Math.max(1e-4, (variance - doubt) / (share * (1 - share))));
  const precision = 1 / alike - 1;
  let shafts = 0;
  for (let left = squares; left > 0; left -= Math.round(lotSize)) {
    const pmf = betaBinomialPmf(Math.min(left, Math.round(lotSize)), truth * precision, (1 - truth) * precision);
    shafts += countQuantile(pmf, random()) ?? 0;
  }
  return shafts;
}

/** What comes of buying these squares, season by season; orders and pieces on their way are the same for every purchase. */
function drawn({finished, pipeline, demand, offers, money: m}: Need, orders: NonNullable<typeof plan>["best"]) {
  const known = demand.known ?? 0;
  const spread = Math.sqrt(demand.mean + demand.mean ** 2 / (demand.size ?? Infinity));
  const demandPmf = negativeBinomialPmf(
    demand.size ?? Infinity,
    demand.mean,
    Math.ceil(demand.mean + 12 * spread + 40)
  );
  return seeds.map((seed) => {
    const random = randomStream(seed);
    const wanted = known + (countQuantile(demandPmf, random()) ?? 0);
    const z = standardQuantile(random(), 0, 1);
    const coming = sum(
      pipeline.map(({n, alpha, beta, common = 0}) => {
        const share = Math.min(0.999, (alpha / (alpha + beta)) * (1 + common * z));
        const pmf = betaBinomialPmf(n, (alpha + beta) * share, (alpha + beta) * (1 - share));
        return countQuantile(pmf, random()) ?? 0;
      })
    );
    const bought = sum(
      orders.orders.map(({supplier, squares}) =>
        drawPurchase(offers.find((offer) => offer.supplier === supplier)!, squares, z, random)
      )
    );
    const there = finished + coming + bought;
    const [short, left] = [Math.max(0, wanted - there), Math.max(0, there - wanted)];
    const profit = m.price * Math.min(wanted, there) + m.leftoverValue * left - m.shortageCost * short - orders.cost;
    return {profit, short, left};
  });
}

const outcomes = input && plan ? drawn(input, plan.best) : [];
const range = (key: "profit" | "short" | "left") => {
  const values = outcomes.map((one) => one[key]);
  const [low = 0, middle = 0, high = 0] = [0.025, 0.5, 0.975].map((share) => quantile(values, share));
  return {low, middle, high, mean: mean(values) ?? 0};
};
const profits = outcomes.map(({profit}) => profit);
const error = (deviation(profits) ?? 0) / Math.sqrt(seasons);

show(
  plan
    ? `Expected profit by the exact sum: ${money(plan.best.profit)}; mean of ${shown(seasons, "count")} drawn seasons: ${money(mean(profits))}, give or take ${money(1.96 * error)}. The draw is there to show the scatter, the exact sum decides.`
    : missing
);

// %% What the seasons bring
import * as Plot from "@observablehq/plot";

if (plan) {
  const {low, middle, high} = range("profit");
  show({
    title: `Profit: ${money(low)} to ${money(high)} in 95 of 100 seasons`,
    subtitle: `Drawn seasons by profit in ${currency}, ${plan.best.squares} squares of ${species} bought; ${dayText(histories.asOf + 1)} to ${endsOn}`,
    caption:
      "Shaded: the middle 95 of 100 seasons. Line: the middle one. Shafts on the rack and on their way are sold in it too.",
    ariaDescription: `Histogram of ${seasons} seasons. Middle one ${money(middle)}; 95 of 100 between ${money(low)} and ${money(high)}; worst ${money(Math.min(...profits))}, best ${money(Math.max(...profits))}.`,
    height: 240,
    x: {label: `profit, ${currency} →`, ticks: 5, tickFormat: (value: number) => shown(value, "count")},
    y: {label: "↑ seasons", grid: true, ticks: 4},
    marks: [
      Plot.rectX([{low, high}], {x1: "low", x2: "high", fill: "var(--c2)", fillOpacity: 0.18}),
      Plot.rectY(outcomes, {...Plot.binX({y: "count"}, {x: {value: "profit", thresholds: 30}}), fill: "var(--c1)"}),
      Plot.ruleX([middle], {stroke: "var(--c4)", strokeWidth: 2}),
      Plot.ruleY([0])
    ]
  });
} else show(missing);

// %% A smaller or larger number in the same seasons
if (plan && input) {
  const {best, band, curve} = plan;
  const beside = [
    curve[0]!,
    ...[band.from, band.to].flatMap((n) => curve.find(({squares}) => squares === n) ?? []),
    best
  ];
  const rows = [...new Map(beside.map((row) => [row.squares, row])).values()].sort((a, b) => a.squares - b.squares);
  show(
    rows.map((row) => {
      const own = drawn(input, row);
      const at = (key: "profit" | "short" | "left", share: number) =>
        quantile(
          own.map((one) => one[key]),
          share
        );
      return {
        squares: row.squares,
        profit: mean(own.map(({profit}) => profit)),
        profitLow: at("profit", 0.025),
        profitHigh: at("profit", 0.975),
        shortageFraction: own.filter(({short}) => short > 0).length / seasons,
        short: mean(own.map(({short}) => short)),
        shortLow: at("short", 0.025),
        shortHigh: at("short", 0.975),
        left: mean(own.map(({left}) => left)),
        leftLow: at("left", 0.025),
        leftHigh: at("left", 0.975)
      };
    }),
    {
      caption: "Nothing, the ends of the flat band, and the plan",
      columns: [
        {key: "squares", heading: "Squares bought"},
        {key: "profit", unit: "money whole"},
        {key: "shortageFraction", heading: "Seasons with a shortage"},
        {key: "short", heading: "Shafts short", unit: "count"},
        {key: "left", heading: "Shafts left over", unit: "count"}
      ],
      note: "Mean, and in brackets the middle 95 of 100 seasons."
    }
  );
} else show(missing);

// %% [markdown]
// ## Answer

// %%
const worst = hangs.toSorted((a, b) => (b.regret ?? 0) - (a.regret ?? 0))[0];

show(
  plan
    ? `Buy ${plan.best.squares} squares of ${species}, or any number from ${plan.band.from} to ${plan.band.to} at nearly the same profit; one season may bring from ${money(range("profit").low)} to ${money(range("profit").high)} (95 of 100 drawn), from ${shown(range("short").low, "count")} to ${shown(range("short").high, "count")} shafts short and from ${shown(range("left").low, "count")} to ${shown(range("left").high, "count")} left over${worst ? `, and were yield or demand a tenth off, keeping to ${plan.best.squares} would miss ${money(worst.regret)} at most` : ""}.`
    : `The data cannot tell how many ${species} squares to buy: ${why}.`
);
