import {dayNumber, dayText} from "../../../lib/book/day.ts";
import {textOrder} from "../../../lib/book/textOrder.ts";
import {readyAhead} from "../../../lib/figures/readyAhead.ts";
import {html} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import type {Section} from "../../../lib/report/page.ts";
import {shown} from "../../../lib/report/quantity.ts";
import type {ReadyRow} from "../../../lib/seasoning/readyToTurn.ts";
import {counted} from "../../faultLines.ts";
import type {BookAsOf} from "../../io/readBook.ts";
import type {RackToday} from "../../rack/rackToday.ts";
import {type Composer, lead, plain} from "../compose.ts";

export const isToWeigh = ({verdict, weigh}: ReadyRow) => verdict !== "ready" && weigh;
export const isReady = ({verdict}: ReadyRow) => verdict === "ready";

/** What every table of pieces begins with. */
const pieceColumns = [
  {key: "square", heading: "Square", unit: "text"},
  {key: "species", heading: "Species", unit: "text"},
  {key: "stage", heading: "Stage", unit: "text"},
  {key: "restedDays", heading: "Rested", unit: "days"}
] as const;

const moistureColumns = [
  {key: "meterPct", heading: "By meter", unit: "percent"},
  {key: "massPct", heading: "By mass", unit: "percent"},
  {key: "expectedPct", heading: "Expected", unit: "percent"},
  {key: "gapPct", heading: "Above store", unit: "percent"}
] as const;

/** What is said of every piece; too long for a page, it lies beside it. */
const allColumns = [
  ...pieceColumns,
  {key: "lot", heading: "Lot", unit: "text"},
  {key: "nextStage", heading: "Next", unit: "text"},
  {key: "restDays", heading: "Least rest", unit: "days"},
  {key: "list", heading: "Today", unit: "text"},
  {key: "verdict", heading: "Verdict", unit: "text"},
  {key: "reason", heading: "Why", unit: "text"},
  {key: "until", heading: "Ready about", unit: "date"},
  {key: "untilLow", heading: "Earliest", unit: "date"},
  {key: "untilHigh", heading: "Latest", unit: "date"},
  {key: "meterPct", heading: "By meter", unit: "percent", low: "meterLow", high: "meterHigh"},
  {key: "meterOn", heading: "Meter read on", unit: "date"},
  {key: "massPct", heading: "By mass", unit: "percent", low: "massLow", high: "massHigh"},
  {key: "weighedOn", heading: "Weighed last", unit: "date"},
  {key: "expectedPct", heading: "Expected", unit: "percent", low: "expectedLow", high: "expectedHigh"},
  {key: "expectedBy", heading: "Expected from", unit: "text"},
  {key: "storePct", heading: "The store", unit: "percent"},
  {key: "gapPct", heading: "Above store", unit: "percent"},
  {key: "lostG", heading: "Lost between weighings", unit: "number"},
  {key: "lostDays", heading: "Days between", unit: "days"},
  {key: "limitG", heading: "Steady up to", unit: "number"},
  {key: "scaleG", heading: "Scale", unit: "number"},
  {key: "expectedLossG", heading: "Should lose till steady is asked", unit: "number"},
  {key: "marginMm", heading: "To spare", unit: "mm"},
  {key: "clearsFraction", heading: "Clears", unit: "fraction"}
] as const;

/** What may be turned today, and the picture of what comes. */
export function turnSection({ready, oversize, store}: RackToday, read: BookAsOf, {figure, table}: Composer): Section {
  const turn = ready.filter(isReady);
  const told = (some: readonly ReadyRow[]) =>
    plain(some).map((row) => {
      const size = oversize.get(String(row.square));
      return {...row, marginMm: size?.marginMm, clearsFraction: size?.clearsFraction};
    });
  const lists = ready.map((row) => (isReady(row) ? "turn" : isToWeigh(row) ? "weigh" : "not yet"));
  table({
    id: "all-pieces",
    caption: "Every piece in stock",
    columns: allColumns,
    rows: told(ready).map((row, i) => ({...row, list: lists[i]}))
  });
  const stages = read.book.settings.stages.slice(0, -1).map(({name}) => name);
  const list = table({
    id: "ready-now",
    caption: "Pieces that may be turned today",
    columns: [
      ...pieceColumns,
      {key: "change", heading: "Between weighings", unit: "text"},
      ...moistureColumns,
      {key: "marginMm", heading: "To spare", unit: "mm"},
      {key: "clearsFraction", heading: "Clears", unit: "fraction"}
    ],
    rows: told(turn).map((row, i) => {
      const isTight = (oversize.get(turn[i]!.square)?.verdict ?? "clears") !== "clears";
      const {square} = turn[i]!;
      return {...row, ...seen(turn[i]!, read.asOf), square: `${square}${isTight ? ", measure first" : ""}`};
    }),
    note: "Between weighings: the two that tell that it is steady. Moisture in %: by the meter where it was read at this stage, by the last weighing, and as it should be today from meter, losses and lot (the CSV says from which). To spare: what the next diameter leaves to turn off, after what the piece still shrinks, ovals and bows; clears: the chance that it is as much as the settings want."
  });
  return {
    id: "turn",
    heading: turn.length === 0 ? "Nothing is known to be ready" : `Turn today: ${counted(turn.length, "piece")}`,
    body: [
      html`<p>Ready means: the least rest is served, two weighings of this stage say that the mass is steady${store ? ", and the piece is near the moisture of the store" : ". Whether a piece is near the moisture of the store cannot be told, as that is not known: write its air into climate.csv, or store.moisturePct into workshop.json"}. These are the shop's own rules (<code>ready</code> in <code>workshop.json</code>): common practice, no source. Look at each piece before it goes on the lathe. Labels for them: <code>npx tsx scripts/labels.ts --book my-book --ready</code> (with the folder of this book for my-book).</p>\n`,
      figure(readyAhead(ready, {asOf: read.asOf, stages})),
      turn.length > 0 && list,
      html`<div class="leads"><a href="tables/rack-all-pieces.csv">Every piece in stock with all that is known of it, as CSV</a></div>\n${lead("how-ready")}`
    ].filter((part) => part !== false)
  };
}

/** "lost 1 g, 28 days"; and the meter only where it was read at this stage. */
function seen({lostG, lostDays, meterPct, meterOn, restedDays}: ReadyRow, asOf: string) {
  const change =
    lostG === undefined
      ? "never weighed twice"
      : `${lostG < 0 ? "gained" : "lost"} ${shown(Math.abs(lostG), "g")}, ${lostDays} days`;
  const isHere = meterOn !== undefined && meterOn >= dayText(dayNumber(asOf) - restedDays);
  return {change, meterPct: isHere ? meterPct : undefined};
}

/** What a weighing today would tell. */
export function weighSection({ready}: RackToday, asOf: string, {table}: Composer): Section {
  const weigh = ready.filter(isToWeigh);
  return {
    id: "weigh",
    heading: weigh.length === 0 ? "Nothing to weigh today" : `Weigh today: ${counted(weigh.length, "piece")}`,
    body: [
      weigh.length === 0
        ? html`<p>No piece has rested long enough and waits for a weighing only.</p>\n`
        : html`<p>These have rested, and where the course of drying is known they should be steady by now; but they were not weighed twice here far enough apart, or changed too much the last time. Put them on the scale, write it into <code>events.csv</code>, and make this page again.</p>
${table({
  id: "to-weigh",
  caption: "Pieces for which a weighing today would tell",
  columns: [
    ...pieceColumns,
    {key: "weighedOn", heading: "Weighed last", unit: "date"},
    {key: "change", heading: "Between weighings", unit: "text"},
    ...moistureColumns
  ],
  rows: plain(weigh).map((row, i) => ({...row, ...seen(weigh[i]!, asOf)}))
})}${lead("how-ready")}`
    ]
  };
}

/** What is not ready, by when it should be. */
export function waitSection({ready}: RackToday, {table}: Composer): Section {
  const wait = ready
    .filter((row) => !isReady(row) && !isToWeigh(row))
    .toSorted((a, b) => textOrder(a.until ?? "~", b.until ?? "~") || textOrder(a.square, b.square));
  return {
    id: "wait",
    heading: wait.length === 0 ? "Nothing else is resting" : `Not yet: ${counted(wait.length, "piece")}`,
    body:
      wait.length === 0
        ? []
        : [
            html`<p>By when each should be ready, soonest first: the latest of the end of its rest, the day its mass should be steady and the day it should be near the store's moisture, by the fitted course of drying. The latest day is what the time constant and the moisture leave open; the store is taken to stay as it is.</p>
<details>\n<summary>All ${counted(wait.length, "piece")}</summary>
${table({
  id: "not-yet",
  caption: "Pieces that are not ready, by when they should be",
  columns: [
    ...pieceColumns,
    {key: "until", heading: "Ready about", unit: "date"},
    {key: "untilHigh", heading: "At the latest", unit: "date"},
    {key: "reason", heading: "Why not now", unit: "text"}
  ],
  rows: plain(wait)
})}</details>\n`
          ]
  };
}

/** Whether the next diameter clears. */
export function oversizeSection({oversize}: RackToday, {book}: BookAsOf, {table}: Composer): Section {
  const all = [...oversize.values()];
  const tight = all.filter(({verdict}) => verdict !== "clears");
  const {clearanceMm, clearanceFraction} = book.settings.ready;
  const stages = book.settings.stages.flatMap(({name}) => {
    const own = all.filter(({stage}) => stage === name).toSorted((a, b) => a.marginMm - b.marginMm);
    const [least, middle] = [own[0], own[Math.floor(own.length / 2)]];
    if (!least || !middle) return [];
    return [
      {
        stage: name,
        nextStage: least.nextStage,
        pieces: own.length,
        leastMm: least.marginMm,
        middleMm: middle.marginMm,
        sdMm: middle.sdMm,
        shrinkMm: middle.shrinkMm,
        ovalMm: middle.ovalMm,
        bowMm: middle.bowMm,
        leastFraction: Math.min(...own.map(({clearsFraction}) => clearsFraction)),
        doubtful: own.filter(({verdict}) => verdict !== "clears").length
      }
    ];
  });
  return {
    id: "oversize",
    heading:
      all.length === 0
        ? "Whether the next diameter clears cannot be told"
        : tight.length === 0
          ? "Every piece clears its next diameter"
          : `${counted(tight.length, "piece")} may be too small for the next diameter`,
    body: [
      all.length === 0
        ? html`<p>For that the settings must give the stages their diameters, and the store's moisture must be known.</p>\n`
        : html`<p>Wanted: at least ${shown(clearanceMm, "mm")} left to turn off the diameter, with a chance of ${shown(clearanceFraction, "fraction")}. Reckoned at the end where it is tighter, on the smaller diameter of the oval that a round dries to.</p>
${table({
  id: "oversize-stages",
  caption: "What is left to turn off at the next pass, by stage",
  columns: [
    {key: "stage", heading: "Stage", unit: "text"},
    {key: "nextStage", heading: "Turn to", unit: "text"},
    {key: "pieces", heading: "Pieces", unit: "count"},
    {key: "leastMm", heading: "Least to spare", unit: "mm"},
    {key: "middleMm", heading: "Middle piece", unit: "mm"},
    {key: "sdMm", heading: "Its standard deviation", unit: "mm"},
    {key: "shrinkMm", heading: "Shrinks", unit: "mm"},
    {key: "ovalMm", heading: "Ovals", unit: "mm"},
    {key: "bowMm", heading: "Bows", unit: "mm"},
    {key: "leastFraction", heading: "Lowest chance", unit: "fraction"},
    {key: "doubtful", heading: "Doubtful", unit: "count"}
  ],
  rows: stages
})}${
  tight.length > 0 &&
  table({
    id: "oversize-doubtful",
    caption: "Pieces that may be too small",
    columns: [
      {key: "square", heading: "Square", unit: "text"},
      {key: "stage", heading: "Stage", unit: "text"},
      {key: "end", heading: "End", unit: "text"},
      {key: "sizeMm", heading: "Diameter", unit: "mm"},
      {key: "sizeBy", heading: "Known by", unit: "text"},
      {key: "targetMm", heading: "Next", unit: "mm"},
      {key: "shrinkMm", heading: "Shrinks", unit: "mm"},
      {key: "bowMm", heading: "Bows", unit: "mm"},
      {key: "marginMm", heading: "To spare", unit: "mm"},
      {key: "clearsFraction", heading: "Clears", unit: "fraction"},
      {key: "verdict", heading: "Verdict", unit: "text"}
    ],
    rows: plain(tight)
  })
}${lead("how-oversize")}`
    ]
  };
}

export const readyMethods: readonly Method[] = [
  {
    id: "how-ready",
    heading: "Ready to turn",
    text: "A piece is ready when its least rest is served, two weighings at its stage some days apart differ by no more than the scale or a thousandth can hide, and its moisture is near the store's. By mass a change of moisture is seen some ten times finer than by the meter. The course of drying is fitted to pieces weighed twice, the store followed day by day; what is expected by it says when to weigh, and calls no piece ready.",
    formula: "dM/dt = (E(t) − M) ÷ τ;  loss in d days = gap · dry mass · e^(−t/τ) · (1 − e^(−d/τ))",
    guide: "ready-to-turn"
  },
  {
    id: "how-oversize",
    heading: "The next diameter",
    text: "What is left to turn off at the next stage: the smaller diameter, less what it still shrinks along the rings and an allowance for bow, less the next target, at the end where the chance is smaller. The bow is an assumption; the book records none.",
    formula: "margin = size − shrinkage − bow − next target",
    guide: "ready-to-turn"
  }
];
