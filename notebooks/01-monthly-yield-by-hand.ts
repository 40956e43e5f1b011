// %% [markdown]
// # What is the monthly yield, by hand?
//
// The yard is paid for squares and the customers pay for shafts, so the first sum anyone does at the end of a month is
// _shafts finished ÷ squares bought_. This page does that sum, looks at why it cannot be trusted, and follows the
// squares instead. If the yield were much lower than we think, we would buy more squares for the same orders.
//
// ## The sum everyone does

// %% Twelve months, counted
import * as Plot from "@observablehq/plot";
import {dayText, monthIndex, monthOf, months, monthText} from "../lib/book/day.ts";
import {shown, shownInterval} from "../lib/report/quantity.ts";
import {open} from "../scripts/notebook/book.ts";
import {show} from "../scripts/notebook/show.ts";

const {histories, book, asOf} = open();
const {pieces} = histories;
const thisMonth = monthIndex(monthOf(asOf));

const year = months(monthText(thisMonth - 11), monthText(thisMonth)).map((month) => {
  const inMonth = (day: number | undefined) => day !== undefined && monthOf(dayText(day)) === month;
  const bought = pieces.filter((piece) => inMonth(piece.boughtOn)).length;
  const finished = pieces.filter((piece) => piece.fate === "finished" && inMonth(piece.fateOn)).length;
  const discarded = pieces.filter((piece) => piece.fate === "discarded" && inMonth(piece.fateOn)).length;
  return {month, bought, finished, discarded, ratioFraction: bought > 0 ? finished / bought : undefined};
});

show(year, {
  caption: "What went in and what came out, by month",
  columns: [
    "month",
    {key: "bought", heading: "Squares bought"},
    {key: "finished", heading: "Shafts finished"},
    {key: "discarded", heading: "Thrown out"},
    {key: "ratioFraction", heading: "Finished ÷ bought"}
  ]
});

// %% [markdown]
// ## Why it misleads
//
// A shaft finished this month was not bought this month. Bought and finished are different squares, months apart, so the
// ratio says more about when we went to the yard than about the timber.

// %% The same squares are months apart
import {quantile} from "../lib/stats/quantile.ts";

const ratios = year.flatMap(({ratioFraction}) => ratioFraction ?? []);
const swing = {low: Math.min(...ratios), high: Math.max(...ratios)};
const lately = pieces.filter(({fate, fateOn}) => fate === "finished" && histories.asOf - fateOn! < 365);
const weeks = lately.map(({boughtOn, fateOn}) => (fateOn! - boughtOn) / 7);
const [early, middle, late] = [0.1, 0.5, 0.9].map((share) => shown(quantile(weeks, share), "weeks", {bare: true}));

show(
  `The ${lately.length} shafts finished in the last 365 days had been bought ${middle} weeks before (the middle one; four in five between ${early} and ${late} weeks).`
);

const points = year.flatMap(({month, bought, finished}) => [
  {month, name: "squares bought", color: "var(--c4)", count: bought},
  {month, name: "shafts finished", color: "var(--c1)", count: finished}
]);

show({
  title: `Finished ÷ bought says anything from ${shown(swing.low, "fraction")} to ${shown(swing.high, "fraction")}`,
  subtitle: `Squares bought and shafts finished, by month; all species, ${year[0]!.month} to ${year.at(-1)!.month}`,
  ariaDescription: `Two lines by month. ${points.map(({month, name, count}) => `${month}: ${count} ${name}`).join("; ")}.`,
  height: 260,
  x: {
    type: "point",
    ticks: year.flatMap(({month}, i) => (i % 3 === 2 ? month : [])),
    label: null
  },
  y: {label: "↑ pieces", zero: true, nice: true, grid: true, ticks: 5},
  marks: [
    Plot.ruleY([0]),
    Plot.line(points, {x: "month", y: "count", z: "name", stroke: "color", strokeWidth: 2}),
    Plot.dot(points, {x: "month", y: "count", fill: "color", r: 3}),
    Plot.text(points.slice(-2), {x: "month", y: "count", text: "name", fill: "var(--ink)", textAnchor: "start", dx: 8})
  ]
});

// %% [markdown]
// _All ever finished ÷ all ever bought_ is no better: it counts every square that still rests as lost.

// %% Resting squares counted as lost
const finishedSoFar = pieces.filter(({fate}) => fate === "finished").length / pieces.length;
const resting = pieces.filter(({fate}) => fate === "in stock").length;

show(
  `Finished so far ÷ bought: ${shown(finishedSoFar, "fraction")}, with ${shown(resting, "count")} of ${shown(pieces.length, "count")} squares still on their way.`
);

// %% [markdown]
// ## Following the squares
//
// Each stage on its own clock: of the pieces that reach it, which share passes on? A piece that still rests has not been
// decided; it counts for as long as it has been watched, and no longer. The yield from square to shaft is then the
// product of the stages.

// %% Where a hundred squares are
import {squaresFlow} from "../lib/figures/squaresFlow.ts";
import {whereSquaresGo} from "../lib/yield/whereSquaresGo.ts";

const firstDay = histories.lots.map(({boughtOn}) => boughtOn).sort()[0]!;
show(squaresFlow(whereSquaresGo(histories, pieces), book.settings, {period: `${firstDay} to ${asOf}`}));

// %% Stage by stage
import {stageYields} from "../lib/yield/stageYields.ts";

const yields = stageYields(histories, pieces);

show(yields.stages, {
  caption: "What becomes of the pieces that reach each stage",
  columns: [
    "stage",
    {key: "entered", heading: "Reached it"},
    "passed",
    "discarded",
    "diverted",
    {key: "inStage", heading: "Still there"},
    ...(yields.stages.some(({yieldFraction}) => yieldFraction !== undefined) ? ["yieldFraction"] : [])
  ],
  note: "Yield with its 95 % interval, from how lots differ. Passed ÷ reached would be lower, as pieces still there would count as lost."
});

// %% The product, by hand
const shares = yields.stages.flatMap(({yieldFraction}) => yieldFraction ?? []);
const product = shares.reduce((all, share) => all * share, 1);

show(
  shares.length === yields.stages.length
    ? `${shares.map((share) => shown(share, "fraction")).join(" × ")} = ${shown(product, "fraction")}`
    : "Not every stage has been left by a piece, so there is no product yet."
);

// %% [markdown]
// ## Answer

// %%
const {rolledFraction, rolledLow, rolledHigh} = yields;
const range =
  rolledLow !== undefined && rolledHigh !== undefined
    ? `95 % interval ${shownInterval({low: 100 * rolledLow, high: 100 * rolledHigh}, "count")}`
    : "too few lots for an interval";

show(
  rolledFraction === undefined
    ? "It is too early to say: not every stage has been left by a piece."
    : `Of 100 squares ${shown(100 * rolledFraction, "count")} become finished shafts (${range}); the month's own ratio, anywhere from ${shown(swing.low, "fraction")} to ${shown(swing.high, "fraction")} within a year, is no yield.`
);
