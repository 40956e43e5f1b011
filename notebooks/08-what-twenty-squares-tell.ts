// %% [markdown]
// # What can we know from our first twenty squares?
//
// A new workshop buys its first squares, waits, turns, and after a year wants to know its yield, because the next cheque to
// the yard hangs on it. This page takes the first twenty squares of the book as they stood in their first year, says what
// they tell, and then looks at what the whole book says now. If twenty tell too little, the next order should be small.
//
// ## Their first year

// %% What had become of them
import {dayNumber, dayText} from "../lib/book/day.ts";
import {histories as replay} from "../lib/book/histories.ts";
import {shown, shownInterval} from "../lib/report/quantity.ts";
import type {Interval} from "../lib/stats/interval.ts";
import {wilson} from "../lib/stats/wilson.ts";
import {open} from "../scripts/notebook/book.ts";
import {show} from "../scripts/notebook/show.ts";

const {book, histories, asOf} = open();
const firstLot = [...histories.lots].sort((a, b) => (a.boughtOn < b.boughtOn ? -1 : 1))[0]!;
const {species, boughtOn} = firstLot;
const ofSpecies = histories.pieces.filter((piece) => piece.species === species);
const names = new Set(
  [...ofSpecies]
    .sort((a, b) => a.boughtOn - b.boughtOn)
    .slice(0, 20)
    .map(({square}) => square)
);
/** The twenty as they stood so many days after the first purchase. */
const twentyAfter = (days: number) => {
  const day = Math.min(dayNumber(boughtOn) + days, histories.asOf);
  const then = replay(book, dayText(day));
  return {...then, pieces: then.pieces.filter(({square}) => names.has(square))};
};

type Limits = (successes: number, trials: number) => Interval | undefined;
/** Share finished, with room for every square still under way: the low limit takes them as lost, the high one as finished. */
const yieldOf = (pieces: typeof ofSpecies, limits: Limits) => {
  const count = (fate: string) => pieces.filter((piece) => piece.fate === fate).length;
  const [squares, finished, underWay] = [pieces.length, count("finished"), count("in stock")];
  const decided = squares - underWay;
  return {
    squares,
    finished,
    out: decided - finished,
    underWay,
    ratioFraction: decided > 0 ? finished / decided : undefined,
    low: limits(finished, squares)?.low,
    high: limits(finished + underWay, squares)?.high
  };
};

const stands = [120, 180, 240, 300, 365]
  .filter((days) => days === 120 || dayNumber(boughtOn) + days <= histories.asOf)
  .map((days) => {
    const then = twentyAfter(days);
    const {low, high, ...counts} = yieldOf(then.pieces, wilson);
    const between = low === undefined || high === undefined ? "–" : shownInterval({low, high}, "fraction");
    return {day: dayText(then.asOf), ...counts, between};
  });
show(stands, {
  caption: `The first ${names.size} squares of ${species}, bought from ${boughtOn} on`,
  columns: [
    "day",
    "squares",
    "finished",
    {key: "out", heading: "Thrown out or diverted"},
    {key: "underWay", heading: "Under way"},
    {key: "ratioFraction", heading: "Finished ÷ decided"},
    {key: "between", heading: "The yield lies between"}
  ],
  note: "Bad squares are out early and good ones finish late, so finished ÷ decided tends to begin too low. The last column leaves room for what is under way: Wilson’s 95 % limits, taking it as lost at the low end and as finished at the high one."
});

// %% [markdown]
// ## After a year
//
// Three ways to put limits on a share, each from a different school. If they disagreed we would have to choose; with twenty
// squares the choice of method matters less than the twenty.

// %% Three intervals side by side
import {clopperPearson} from "../lib/stats/clopperPearson.ts";
import {jeffreys} from "../lib/stats/jeffreys.ts";

const year = twentyAfter(365);
const yearDay = dayText(year.asOf);
const methods = (
  [
    ["Wilson", wilson],
    ["Clopper–Pearson", clopperPearson],
    ["Jeffreys", jeffreys]
  ] as [string, Limits][]
).map(([method, limits]) => ({method, ...yieldOf(year.pieces, limits)}));
const [ofWilson] = methods;

show(
  methods.map(({method, squares, finished, underWay, low, high}) => {
    return {
      method,
      squares,
      finished,
      underWay,
      lowFraction: low,
      highFraction: high,
      widthPoints: 100 * ((high ?? Number.NaN) - (low ?? Number.NaN))
    };
  }),
  {
    caption: `Yield of the first ${names.size} squares on ${yearDay}: 95 % limits`,
    columns: [
      "method",
      "squares",
      "finished",
      {key: "underWay", heading: "Under way"},
      {key: "lowFraction", heading: "From"},
      {key: "highFraction", heading: "To"},
      {key: "widthPoints", heading: "Width in points", unit: "count"}
    ],
    note: "Wilson holds 95 % on average, Clopper–Pearson at least 95 % always and is wider for it, Jeffreys begins from knowing nothing. All three take squares as independent, and these few come from the same trees and the same day."
  }
);

// %% How many squares for a yield to ±10 and ±5 points
import * as Plot from "@observablehq/plot";
import {normalFactor, studentFactor} from "../lib/stats/interval.ts";
import {wilsonLimits} from "../lib/stats/wilson.ts";

const share = ofWilson!.squares > 0 ? (ofWilson!.finished + ofWilson!.underWay / 2) / ofWilson!.squares : 0.5;
/** Half the width of Wilson's interval, in points, were this share found among n squares. */
const halfWidth = (n: number) => {
  const {low, high} = wilsonLimits(share, n, normalFactor(0.95, "halfWidth"));
  return 50 * (high - low);
};
const needed = (points: number) => Array.from({length: 2000}, (_, i) => i + 1).find((n) => halfWidth(n) <= points)!;
const [for10, for5] = [needed(10), needed(5)];
const curve = Array.from({length: 60}, (_, i) => Math.round(5 * 1.08 ** i)).map((n) => ({n, points: halfWidth(n)}));

show({
  title: `To ±10 points: ${for10} squares; to ±5: ${for5}`,
  subtitle: `Half the width of the 95 % interval of the yield, points, by number of squares; share of ${shown(share, "fraction")} as far as known on ${yearDay}`,
  ariaDescription: `A falling curve: ±${shown(halfWidth(20), "count")} points at 20 squares, ±10 at ${for10}, ±5 at ${for5}.`,
  caption:
    "Wilson, as if each square came from a tree of its own. Squares of one lot are alike, so more are needed: see below.",
  height: 260,
  x: {type: "log", label: "squares, all decided →", ticks: [5, 10, 20, 50, 100, 200, 400], tickFormat: String},
  y: {label: "↑ ± points", zero: true, grid: true, ticks: 6},
  marks: [
    Plot.ruleY([0]),
    Plot.line(curve, {x: "n", y: "points", stroke: "var(--c1)", strokeWidth: 2}),
    Plot.dot([20, for10, for5], {x: (n: number) => n, y: halfWidth, r: 5, fill: "var(--c4)"}),
    Plot.text([20, for10, for5], {
      x: (n: number) => n,
      y: halfWidth,
      text: (n: number) => `${n} squares`,
      textAnchor: "start",
      dx: 8,
      dy: -8,
      fill: "var(--ink)"
    })
  ]
});

// %% [markdown]
// ## How heavy they are
//
// Density is known on the day of purchase, and a mean needs fewer squares than a share. How far single squares lie apart is
// harder: the tolerance interval says between which densities nine squares in ten lie, and that we are 95 % sure of it.

// %% Mean, spread and tolerance interval
import chiSquareQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import {deviation} from "../lib/stats/deviation.ts";
import {mean} from "../lib/stats/mean.ts";
import {toleranceFactor} from "../lib/stats/toleranceFactor.ts";

const densities = year.pieces.map(({densityAt12KgM3}) => densityAt12KgM3);
const [n, m, s] = [densities.length, mean(densities), deviation(densities)];
/** Limits m ∓ factor·s. */
const around = (factor: number) => ({low: m! - factor * s!, high: m! + factor * s!});
const known =
  m === undefined || s === undefined
    ? undefined
    : {
        m,
        mean: around(studentFactor(0.95, n - 1, "mean") / Math.sqrt(n)),
        // A sum of n − 1 squares of normal deviations follows the chi-squared law.
        sd: {
          low: s * Math.sqrt((n - 1) / chiSquareQuantile(0.975, n - 1)),
          high: s * Math.sqrt((n - 1) / chiSquareQuantile(0.025, n - 1))
        },
        nineInTen: around(toleranceFactor({n, coverage: 0.9}))
      };

if (!known) show("Two squares are the least for a spread.");
else
  show(
    [
      {what: "Mean", squares: n, foundKgM3: m, foundLow: known.mean.low, foundHigh: known.mean.high},
      {what: "Standard deviation", squares: n, foundKgM3: s, foundLow: known.sd.low, foundHigh: known.sd.high},
      {
        what: "Nine squares in ten",
        squares: n,
        foundKgM3: undefined,
        foundLow: known.nineInTen.low,
        foundHigh: known.nineInTen.high
      }
    ],
    {
      caption: `Density of the first ${n} squares at 12 % moisture`,
      columns: [
        {key: "what", heading: "Of the density"},
        "squares",
        {key: "foundKgM3", heading: "Found, and 95 % limits"}
      ],
      note: "As if the squares were independent and their densities a bell curve."
    }
  );

// %% [markdown]
// ## What the whole book says now

// %% The yield, then and now
import {intervalDots} from "../lib/figures/intervalDots.ts";
import {stageYields} from "../lib/yield/stageYields.ts";

const now = stageYields(histories, ofSpecies);
const points = ({low, high}: {low: number | undefined; high: number | undefined}) =>
  low === undefined || high === undefined ? "–" : shown(100 * (high - low), "count");
const lots = new Set(ofSpecies.map(({lot}) => lot)).size;
const rows = [
  ...methods.map(({method, low, high, squares}) => ({
    name: `first ${squares}, ${method}`,
    squares,
    lots: new Set(year.pieces.map(({lot}) => lot)).size,
    yieldFraction: low === undefined ? undefined : share,
    yieldLow: low,
    yieldHigh: high
  })),
  {
    name: "whole book",
    squares: ofSpecies.length,
    lots,
    yieldFraction: now.rolledFraction,
    yieldLow: now.rolledLow,
    yieldHigh: now.rolledHigh
  }
];
const widthNow =
  now.rolledHigh === undefined || now.rolledLow === undefined ? undefined : now.rolledHigh - now.rolledLow;
show(
  intervalDots({
    id: "then-and-now",
    title:
      widthNow === undefined
        ? "The whole book has no interval of its yield yet"
        : `The first ${ofWilson!.squares}: ${points(ofWilson!)} points wide; whole book: ${shown(100 * widthNow, "count")}`,
    subtitle: `Yield from square to finished shaft, %, with its 95 % interval; ${species}, ${yearDay} and ${asOf}`,
    alt: rows
      .map(
        ({name, yieldLow, yieldHigh}) =>
          `${name}: ${yieldLow === undefined || yieldHigh === undefined ? "no interval" : shownInterval({low: yieldLow, high: yieldHigh}, "fraction")}`
      )
      .join("; "),
    note: "Whole book: squares under way followed, interval from how lots differ; none while fewer than four lots have reached every stage.",
    unit: "fraction",
    axis: "yield, %",
    dots: rows.map(({name, yieldFraction, yieldLow, yieldHigh}) => ({
      label: name,
      value: yieldFraction,
      low: yieldLow,
      high: yieldHigh
    })),
    table: {
      id: "then-and-now-data",
      caption: "Yield from square to finished shaft, then and now",
      columns: [
        {key: "name", heading: "From", unit: "text"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "lots", heading: "Lots", unit: "count"},
        {key: "yieldFraction", heading: "Yield", unit: "fraction", low: "yieldLow", high: "yieldHigh"}
      ],
      rows
    }
  })
);

// %% What twenty squares of few lots could not tell
import {groupBy} from "../lib/book/spells.ts";
import {withinCorrelation} from "../lib/stats/withinCorrelation.ts";

const groupsOf = (pieces: typeof ofSpecies) =>
  [...groupBy(pieces, ({supplier}) => supplier).values()].map((own) => [...groupBy(own, ({lot}) => lot).values()]);
/** How alike the squares of one lot are, of lots in which all is decided. */
const alike = (pieces: typeof ofSpecies) =>
  withinCorrelation(
    groupsOf(pieces).map((own) =>
      own
        .filter((lot) => lot.every(({fate}) => fate !== "in stock"))
        .map((lot) => ({successes: lot.filter(({fate}) => fate === "finished").length, trials: lot.length}))
    )
  );
const inReach = (pieces: typeof ofSpecies) =>
  known && mean(pieces.map(({densityAt12KgM3: x}) => Number(x >= known.nineInTen.low && x <= known.nineInTen.high)));
const later = ofSpecies.filter(({square}) => !names.has(square));
const describe = (pieces: typeof ofSpecies) => {
  const groups = groupsOf(pieces);
  const rho = alike(pieces);
  return {
    squares: shown(pieces.length, "count"),
    lots: shown(groups.flat().length, "count"),
    suppliers: shown(groups.length, "count"),
    comparable: shown(groups.filter((own) => own.length >= 4).length, "count"),
    rho: rho === undefined ? "cannot be known" : shown(rho, "number")
  };
};
const [then, today] = [describe(year.pieces), describe(ofSpecies)];
const rho = alike(ofSpecies);
const perLot = ofSpecies.length / Math.max(1, lots);
/** How many more squares the same certainty takes when they come in lots of alike squares. */
const factor = rho === undefined ? undefined : 1 + (perLot - 1) * rho;

show(
  [
    {what: "Squares", first: then.squares, today: today.squares},
    {what: "Lots", first: then.lots, today: today.lots},
    {what: "Suppliers", first: then.suppliers, today: today.suppliers},
    {what: "Suppliers with four lots, enough to compare", first: then.comparable, today: today.comparable},
    {what: "How alike the fates of one lot's squares are (0 to 1)", first: then.rho, today: today.rho},
    {
      what: "Later squares inside “nine in ten” of the first",
      first: "–",
      today: shown(later.length > 0 ? inReach(later) : undefined, "fraction")
    }
  ],
  {
    caption: `What the first ${names.size} squares could not tell`,
    columns: [
      {key: "what", heading: `Of ${species}`},
      {key: "first", heading: yearDay},
      {key: "today", heading: asOf}
    ]
  }
);
const met = later.length > 0 ? inReach(later) : undefined;
if (met !== undefined) {
  // Taken as independent, which is too short where lots differ: a verdict needs many squares.
  const most = wilson(Math.round(met * later.length), later.length)!.high;
  const verdict =
    most < 0.9 && later.length >= 100
      ? "fewer than promised: few lots cannot stand for all"
      : "not clearly fewer than promised";
  show(
    `Of the ${later.length} squares that came later ${shown(met, "fraction")} lie where nine in ten were to lie, ${verdict}.`
  );
}
show(
  factor === undefined
    ? "How unlike lots are cannot be known yet: it takes two lots of one supplier, decided to the last square."
    : `With lots of ${shown(perLot, "count")} squares the same certainty takes ${shown(factor, "number")} times as many squares: about ${shown(for10 * factor, "count")} for ±10 points, ${shown(for5 * factor, "count")} for ±5.`
);

// %% [markdown]
// ## Answer

// %%
const {low, high, squares, finished, underWay} = ofWilson!;
const ofNow =
  now.rolledFraction === undefined || now.rolledLow === undefined || now.rolledHigh === undefined
    ? "the whole book cannot say better yet"
    : `the whole book, ${shown(ofSpecies.length, "count")} squares of ${lots} lots, says ${shown(now.rolledFraction, "fraction")} (${shownInterval({low: now.rolledLow, high: now.rolledHigh}, "fraction")})`;

show(
  low === undefined || high === undefined || !known
    ? "There are too few squares to say anything."
    : `By ${yearDay} the first ${squares} squares (${finished} finished, ${underWay} under way) put the yield anywhere from ${shownInterval({low, high}, "fraction")} (95 % interval, too narrow as they come from ${then.lots === "1" ? "one lot" : `${then.lots} lots`}) and the mean density at ${shown(known.m, "kg/m³")}, ±${shown(known.mean.high - known.m, "count")}, and say nothing of other lots; ${ofNow}.`
);
