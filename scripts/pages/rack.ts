import {dayNumber, dayText} from "../../lib/book/day.ts";
import {readyAhead} from "../../lib/figures/readyAhead.ts";
import {shaftsForOrders} from "../../lib/figures/shaftsForOrders.ts";
import type {OpenOrder} from "../../lib/rack/openOrders.ts";
import type {OrderShafts} from "../../lib/rack/rankShafts.ts";
import type {ShaftFit, ShaftWish, WishFit} from "../../lib/rack/shaftFit.ts";
import {type Html, html} from "../../lib/report/html.ts";
import {keyFigures} from "../../lib/report/keyFigures.ts";
import type {Method} from "../../lib/report/methods.ts";
import type {Section} from "../../lib/report/page.ts";
import {shown} from "../../lib/report/quantity.ts";
import type {ReadyRow} from "../../lib/seasoning/readyToTurn.ts";
import {quantile} from "../../lib/stats/quantile.ts";
import {counted} from "../faultLines.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {type RackToday, rackToday} from "../rack/rackToday.ts";
import {type Beside, type Composer, compose, lead, plain, type Report} from "./compose.ts";

/** The day's list: what may be turned, what to weigh first, and which shaft goes to which order. */
export function rackReport(read: BookAsOf, beside: Beside): Report {
  const today = rackToday(read);
  return compose("rack", read, beside, (composer) => {
    const {asOf, book} = read;
    return {
      title: `The rack on ${asOf}`,
      subtitle: `${book.settings.name} · what may be turned, what to weigh first, and which shaft for which order`,
      lead: mainPoints(today, read),
      summary: summary(today, composer),
      sections: [
        turnSection(today, read, composer),
        weighSection(today, asOf, composer),
        waitSection(today, composer),
        oversizeSection(today, read, composer),
        ordersSection(today, asOf, composer),
        withoutSection(today, composer),
        competingSection(today, composer)
      ],
      method,
      limits: limits(today, read)
    };
  });
}

const isToWeigh = ({verdict, weigh}: ReadyRow) => verdict !== "ready" && weigh;
const isReady = ({verdict}: ReadyRow) => verdict === "ready";

/** "20 rough-round and 4 proud-round", by the stages of the settings. */
function byStage(rows: readonly ReadyRow[], {book}: Pick<BookAsOf, "book">): string {
  const parts = book.settings.stages.flatMap(({name}) => {
    const n = rows.filter(({stage}) => stage === name).length;
    return n > 0 ? [`${n} at ${name}`] : [];
  });
  return listed(parts);
}

/** "a, b and c". */
function listed(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}

/** The main points of the day; the terminal prints them too. */
export function mainPoints(today: RackToday, read: Pick<BookAsOf, "book" | "asOf" | "problems">): string[] {
  const {ready, oversize, assignment, ranked} = today;
  const turn = ready.filter(isReady);
  const weigh = ready.filter(isToWeigh);
  const within = (days: number) =>
    ready.filter(({verdict, weigh: now, until}) => {
      const ahead = until === undefined ? undefined : dayNumber(until) - dayNumber(read.asOf);
      return verdict !== "ready" && !now && ahead !== undefined && ahead <= days;
    }).length;
  const points: string[] = [];
  if (ready.length === 0) points.push("Nothing is waiting to be turned: every piece is finished or out.");
  else if (turn.length === 0)
    points.push(`None of ${counted(ready.length, "piece")} waiting is known to be ready today.`);
  else {
    const blind = today.store ? "" : ", by rest and steady mass alone, as the store's moisture is not known";
    points.push(`${counted(turn.length, "piece")} may be turned today${blind}: ${byStage(turn, read)}.`);
  }
  if (weigh.length > 0)
    points.push(
      `${weigh.length} more ${weigh.length === 1 ? "has" : "have"} rested, but no two weighings say that ${weigh.length === 1 ? "it is" : "they are"} steady: weigh ${weigh.length === 1 ? "it" : "them"} today (${byStage(weigh, read)}).`
    );
  if (ready.length > turn.length + weigh.length)
    points.push(`In the next 7 days ${within(7)} more should be ready, in the next 30 days ${within(30)}.`);
  const tight = turn.filter(({square}) => oversize.get(square) && oversize.get(square)!.verdict !== "clears");
  if (tight.length > 0)
    points.push(
      `Of those ready ${tight.length} may be too small for the next diameter, measure first: ${listed(tight.slice(0, 5).map(({square}) => square))}${tight.length > 5 ? " and more" : ""}.`
    );
  if (ranked.length === 0) points.push(`No order lacks a shaft.${setAside(read)}`);
  else {
    const {owed, served, toLookAt} = assignment;
    const rest = owed - served - toLookAt;
    const late = ranked.filter(({order}) => order.wantedBy !== undefined && order.wantedBy < read.asOf);
    const lateNames = listed(late.slice(0, 3).map(({order}) => order.order));
    const more = late.length > 3 ? ` and ${late.length - 3} more` : "";
    const overdue = late.length === 0 ? "" : `${lateNames}${more} ${late.length === 1 ? "is" : "are"} overdue. `;
    const look = toLookAt > 0 ? `; for ${toLookAt} more a shaft must be looked at first` : "";
    points.push(
      `${overdue}Of ${counted(owed, "shaft")} owed on ${counted(ranked.length, "order")} the rack serves ${served}${look}; ${rest === 0 ? "none goes" : rest === 1 ? "1 goes" : `${rest} go`} without.${setAside(read)}`
    );
  }
  const first = today.unserved[0];
  if (first) points.push(withoutWords(first, today));
  return points.slice(0, 6);
}

/** That orders are missing, as their rows were set aside. */
function setAside({problems}: Pick<BookAsOf, "problems">): string {
  const refused = problems.filter(({file, severity}) => severity === "refused" && file.startsWith("orders"));
  const rows = new Set(refused.map(({row}) => row)).size;
  return rows === 0
    ? ""
    : ` ${counted(rows, "row")} of the orders could not be read and ${rows === 1 ? "is" : "are"} not counted: see the faults.`;
}

/** Why an order goes without, what would serve it, and what may still come. */
function withoutWords(one: RackToday["unserved"][number], {coming}: RackToday): string {
  const by = one.wantedBy === undefined ? "" : ` for ${one.wantedBy}`;
  const why =
    one.cause === "no shaft fits"
      ? "no shaft on the rack fits"
      : one.cause === "all that fit go to others"
        ? `all ${one.fitting} that fit go to ${listed(one.goTo)}, promised earlier`
        : one.cause === "too few fit"
          ? `${one.without} more than fit on the rack are wanted`
          : one.cause === "those that may fit are to be looked at for others"
            ? "no shaft is known to fit, and those that may are to be looked at for others"
            : "there is no free shaft of its species";
  return `${one.order}${by}: ${why}; ${comingWords(coming.find(({order}) => order === one.order))}.`;
}

/** Which one wish given up would do, and what stands in the way. */
function giveUpWords({giveUp, inTheWay, shafts}: RackToday["unserved"][number]): string {
  const way = inTheWay.map(({wish, shafts: n}) => `${wishNames[wish]} of ${n}`);
  const why = way.length > 0 ? `Of ${counted(shafts, "free shaft")} of its species do not suit: ${listed(way)}.` : "";
  const without = giveUp.map(({wish, square}) => `${wishNames[wish]} (then ${square})`);
  return without.length > 0 ? `${why} It could be served if it gave up one wish: ${without.join(" or ")}.` : why;
}

function comingWords(coming: RackToday["coming"][number] | undefined): string {
  if (!coming || coming.pieces.length === 0) return "of no piece on its way is it known that it may fit";
  const {byPromiseFraction, chanceFraction, pieces} = coming;
  const best = pieces[0]!;
  const day = best.expectedOn === undefined ? "" : `, ${best.square} most likely, about ${best.expectedOn}`;
  const intime = byPromiseFraction === undefined ? "" : `, in time with ${shown(byPromiseFraction, "fraction")}`;
  return `of ${counted(pieces.length, "piece")} on the way that may fit, at least one comes with a chance of ${shown(chanceFraction, "fraction")}${intime}${day}`;
}

function summary({ready, store, assignment}: RackToday, {currency}: Composer): Html {
  const {owed, served, toLookAt} = assignment;
  return keyFigures(
    [
      {
        label: "Ready to turn",
        value: ready.filter(isReady).length,
        unit: "count",
        n: `of ${counted(ready.length, "piece")} not finished`
      },
      {
        label: "To weigh today",
        value: ready.filter(isToWeigh).length,
        unit: "count",
        n: "rested, not seen to be steady"
      },
      {
        label: "Shafts owed",
        value: owed,
        unit: "count",
        n: `${served} served from the rack`,
        ...(toLookAt > 0 && {note: `${toLookAt} to be looked at first`})
      },
      {
        label: "The store's moisture",
        value: store?.equilibriumPct,
        unit: "percent",
        ...(store && {
          n: store.source === "climate.csv" ? `${counted(store.readings, "reading")} to ${store.to}` : "by the settings"
        })
      }
    ],
    {currency}
  );
}

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

function turnSection({ready, oversize, store}: RackToday, read: BookAsOf, {figure, table}: Composer): Section {
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
      html`<p>Ready means: the least rest is served, two weighings of this stage say that the mass is steady${store ? ", and the piece is near the moisture of the store" : ". Whether a piece is near the moisture of the store cannot be told, as that is not known: write its air into climate.csv, or store.moisturePct into workshop.json"}. These are the shop's own rules (<code>ready</code> in <code>workshop.json</code>): common practice, no source. Look at each piece before it goes on the lathe. Labels for them: <code>npm run labels -- --ready</code>.</p>\n`,
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

function weighSection({ready}: RackToday, asOf: string, {table}: Composer): Section {
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

function waitSection({ready}: RackToday, {table}: Composer): Section {
  const wait = ready
    .filter((row) => !isReady(row) && !isToWeigh(row))
    .toSorted((a, b) => compare(a.until ?? "~", b.until ?? "~") || compare(a.square, b.square));
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

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

function oversizeSection({oversize}: RackToday, {book}: BookAsOf, {table}: Composer): Section {
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

const wishNames: Record<ShaftWish, string> = {
  species: "species",
  length: "length",
  tip: "tip",
  mass: "weight",
  stiffness: "bend",
  grain: "grain",
  colour: "colour"
};

const wishUnits = {length: "mm", tip: "mm", mass: "g", stiffness: "mm", grain: "count"} as const;

/** "318 g of 310 to 330", "white", "1 in 20 of 15". */
function wishWords({wish, state, value, low, high, wanted, why}: WishFit): string {
  const name = wishNames[wish];
  if (value === undefined) return `${name} not known (${why})`;
  if (wish === "colour" || wish === "species") return state === "fits" ? `${value}` : `${value}, not ${wanted}`;
  const number = (one: number) => (wish === "grain" ? `1 in ${one}` : shown(one, wishUnits[wish], {bare: true}));
  const asked =
    low === undefined
      ? `at most ${number(high!)}`
      : high === undefined
        ? `at least ${number(low)}`
        : `${number(low)} to ${number(high)}`;
  const unit = wish === "grain" ? "" : ` ${wishUnits[wish]}`;
  const unsure = state === "not known" ? ` (${why})` : "";
  return `${name} ${number(Number(value))}${unit}${unsure}, asked ${asked}`;
}

/** The wishes beyond species, length and tip, or all that stand in the way. */
function wishesWords({wishes, state}: ShaftFit): string {
  const own = wishes.filter(({wish, state: one}) =>
    state === "does not fit"
      ? one === "does not fit"
      : one === "not known" || !["length", "tip", "species"].includes(wish)
  );
  return own.length === 0 ? "no wish beyond its size" : own.map(wishWords).join("; ");
}

function fitOf(ranked: readonly OrderShafts[], order: string, square: string): ShaftFit {
  return ranked.find((one) => one.order.order === order)!.shafts.find((one) => one.square === square)!;
}

/** "310 to 330", "at least 310"; a dash where nothing is asked. */
function askedWords(low: number | undefined, high: number | undefined, unit: "g" | "mm"): string {
  const number = (value: number) => shown(value, unit, {bare: true});
  if (low === undefined) return high === undefined ? "–" : `at most ${number(high)}`;
  return high === undefined ? `at least ${number(low)}` : `${number(low)} to ${number(high)}`;
}

/** Grain, one in so many, and colour as far as asked for: "20, asked 15; white". */
function lookWords({grainOneIn, colour}: OpenOrder, fit: ShaftFit | undefined): string {
  const value = (wish: ShaftWish) => fit?.wishes.find((one) => one.wish === wish)?.value;
  const grain = value("grain");
  const asked = [
    grainOneIn !== undefined && `${grain === undefined ? "" : `${grain}, `}asked ${grainOneIn}`,
    colour !== undefined && (value("colour") === undefined ? `asked ${colour}` : `${value("colour")}`)
  ].filter((part) => part !== false);
  return asked.length === 0 ? "–" : asked.join("; ");
}

function ordersSection(today: RackToday, asOf: string, composer: Composer): Section {
  const {ranked, assignment, free} = today;
  const {figure, table} = composer;
  const heading =
    ranked.length === 0
      ? "No order lacks a shaft"
      : assignment.served === assignment.owed
        ? "A shaft for every order"
        : `A shaft for ${assignment.served} of ${assignment.owed} owed`;
  const allotted = allottedBody(today, composer);
  if (ranked.length === 0) return {id: "orders", heading, body: [allotted]};
  const given = assignment.given.map(({order, wantedBy, square, look}) => {
    const {order: asked} = ranked.find((one) => one.order.order === order)!;
    const fit = square === undefined ? undefined : fitOf(ranked, order, square);
    const bend = typeof fit?.bend === "object" ? fit.bend : undefined;
    const bent = bend?.modulus.basis === "bent" ? bend : undefined;
    return {
      order,
      wantedBy,
      square: square === undefined ? "none" : look ? `${square} ?` : square,
      cut: sizeWords(asked),
      massG: fit?.mass?.massG,
      massLow: fit?.mass?.lowG,
      massHigh: fit?.mass?.highG,
      massAsked: askedWords(asked.massMinG, asked.massMaxG, "g"),
      bendMm: bent?.deflectionMm,
      bendAsked: askedWords(asked.deflectionMinMm, asked.deflectionMaxMm, "mm"),
      look: lookWords(asked, fit),
      fit: fit?.fit
    };
  });
  const halves = assignment.given.flatMap(({order, square}) => {
    const bend = square === undefined ? "" : fitOf(ranked, order, square).bend;
    return typeof bend === "object" && bend.modulus.basis === "bent" ? [(bend.highMm - bend.lowMm) / 2] : [];
  });
  const bendHalf = quantile(halves, 0.5);
  const pairs = ranked.flatMap(({order, shafts}) =>
    shafts.map((one) => ({
      order: order.order,
      square: one.square,
      state: one.state,
      fit: one.fit,
      chance: one.chance,
      massG: one.mass?.massG,
      massLow: one.mass?.lowG,
      massHigh: one.mass?.highG,
      bendMm: typeof one.bend === "object" ? one.bend.deflectionMm : undefined,
      bendLow: typeof one.bend === "object" ? one.bend.lowMm : undefined,
      bendHigh: typeof one.bend === "object" ? one.bend.highMm : undefined,
      bendBy:
        typeof one.bend === "object" ? (one.bend.modulus.basis === "bent" ? "its test" : "its species") : one.bend,
      modulusMPa: typeof one.bend === "object" ? one.bend.modulus.modulusMPa : undefined,
      modulusLow: typeof one.bend === "object" ? one.bend.modulus.lowMPa : undefined,
      modulusHigh: typeof one.bend === "object" ? one.bend.modulus.highMPa : undefined,
      wishes: wishesWords(one)
    }))
  );
  // Too long for a page: beside it, in its workbook, CSV and JSON.
  table({
    id: "order-shafts",
    caption: "Every open order against every free shaft of its species",
    columns: [
      {key: "order", heading: "Order", unit: "text"},
      {key: "square", heading: "Shaft", unit: "text"},
      {key: "state", heading: "Fits", unit: "text"},
      {key: "fit", heading: "How well", unit: "fraction"},
      {key: "chance", heading: "Chance inside weight and bend", unit: "fraction"},
      {key: "massG", heading: "Weight", unit: "g", low: "massLow", high: "massHigh"},
      {key: "bendMm", heading: "Bend", unit: "mm", low: "bendLow", high: "bendHigh"},
      {key: "bendBy", heading: "Bend by", unit: "text"},
      {key: "modulusMPa", heading: "Modulus, MPa", unit: "count", low: "modulusLow", high: "modulusHigh"},
      {key: "wishes", heading: "Wishes", unit: "text"}
    ],
    rows: pairs
  });
  return {
    id: "orders",
    heading,
    body: [
      html`<p>Of all ways to give the free shafts out, this one serves most of the shafts owed, then the earliest promised, then fits best. It is a proposal: nothing is allotted until you write it into <code>events.csv</code>. Shafts allotted already are not touched.</p>
${ranked.some(({order}) => order.massMinG !== undefined || order.massMaxG !== undefined) && figure(shaftsForOrders(ranked, assignment, free, {asOf}))}${table(
  {
    id: "orders-served",
    caption: "Shafts owed and what each gets, earliest promised first",
    columns: [
      {key: "order", heading: "Order", unit: "text"},
      {key: "wantedBy", heading: "Promised", unit: "date"},
      {key: "square", heading: "Shaft", unit: "text"},
      {key: "cut", heading: "Cut to, mm", unit: "text"},
      {key: "massG", heading: "Weight", unit: "g", low: "massLow", high: "massHigh"},
      {key: "massAsked", heading: "Asked, g", unit: "text"},
      {key: "bendMm", heading: "Bend", unit: "mm"},
      {key: "bendAsked", heading: "Asked, mm", unit: "text"},
      {key: "look", heading: "Grain 1 in, colour", unit: "text"},
      {key: "fit", heading: "How well", unit: "fraction"}
    ],
    rows: given,
    note: `Cut to: length × tip. Weight and bend: of the shaft cut to the order, with what they lie between in 95 of 100 cases. A bend is given where the shaft was bent, good to some ${shown(bendHalf, "mm")}; for others only the spread of its species is known, which is no knowledge of this one (the CSV has it). A question mark: bend or look first, as something the order asks for was not written down of it. Every order against every free shaft of its species is in the workbook and in the CSV file beside this page.`
  }
)}${lead("how-orders")}<div class="leads"><a href="tables/rack-order-shafts.csv">Every order against every shaft, as CSV</a></div>\n`,
      allotted
    ]
  };
}

/** "1470 × 9.5": length and tip. */
function sizeWords({lengthMm, tipMm}: {lengthMm?: number | undefined; tipMm?: number | undefined}): string {
  const parts = [
    lengthMm !== undefined && String(Math.round(lengthMm)),
    tipMm !== undefined && shown(tipMm, "mm", {bare: true})
  ].filter((part) => part !== false);
  return parts.length === 0 ? "as it is" : parts.join(" × ");
}

const comingColumns = [
  {key: "order", heading: "Order", unit: "text"},
  {key: "square", heading: "Square", unit: "text"},
  {key: "stage", heading: "Stage", unit: "text"},
  {key: "finishFraction", heading: "Becomes a shaft", unit: "fraction"},
  {key: "fitFraction", heading: "Then fits", unit: "fraction"},
  {key: "chanceFraction", heading: "Both", unit: "fraction"},
  {key: "byPromiseFraction", heading: "In time", unit: "fraction"},
  {key: "massG", heading: "Weight", unit: "g"},
  {key: "expectedOn", heading: "About", unit: "date"},
  {key: "earliestOn", heading: "Earliest", unit: "date"},
  {key: "latestOn", heading: "Latest", unit: "date"}
] as const;

/** Shafts that are allotted and not delivered, and whether they suit. */
function allottedBody({allotted}: RackToday, {table}: Composer): Html {
  const misfits = allotted.filter(({fit}) => fit.state !== "fits");
  if (allotted.length === 0) return html`<p>No shaft is allotted and waits for delivery.</p>\n`;
  return html`<h3>Allotted</h3>\n<p>${counted(allotted.length, "shaft")} ${allotted.length === 1 ? "is" : "are"} allotted and not delivered; ${misfits.length === 0 ? "all suit their orders" : `${misfits.length} ${misfits.length === 1 ? "does" : "do"} not suit, or it is not known`}.</p>
<details>\n<summary>${misfits.length === 0 ? "Allotted shafts" : "Allotted shafts, those in doubt first"}</summary>
${table({
  id: "allotted",
  caption: "Shafts allotted and not delivered",
  columns: [
    {key: "order", heading: "Order", unit: "text"},
    {key: "wantedBy", heading: "Promised", unit: "date"},
    {key: "square", heading: "Shaft", unit: "text"},
    {key: "massG", heading: "Weight", unit: "g"},
    {key: "state", heading: "Suits", unit: "text"},
    {key: "wishes", heading: "Wishes", unit: "text"}
  ],
  rows: [...misfits, ...allotted.filter(({fit}) => fit.state === "fits")].map(({order, wantedBy, fit}) => ({
    order,
    wantedBy: wantedBy ?? "–",
    square: fit.square,
    massG: fit.mass?.massG,
    state: fit.state === "fits" ? "yes" : fit.state === "not known" ? "not known" : "no",
    wishes: wishesWords(fit)
  }))
})}</details>\n`;
}

function withoutSection(today: RackToday, {table}: Composer): Section {
  const {unserved, coming, assignment} = today;
  const looks = assignment.given.filter(({look}) => look);
  const heading =
    unserved.length === 0
      ? "No order goes without"
      : `${counted(unserved.length, "order")} cannot be served from the rack`;
  const rowsOf = (most: number) =>
    coming.flatMap(({order, pieces: some}) => some.slice(0, most).map(({unsure, ...piece}) => ({order, ...piece})));
  const pieces = rowsOf(8);
  if (pieces.length > 0)
    table({
      id: "coming-all",
      caption: "Every piece on its way that may fit",
      columns: comingColumns,
      rows: plain(rowsOf(Infinity))
    });
  return {
    id: "without",
    heading,
    body: [
      unserved.length > 0 &&
        html`<ul>${unserved.map((one) => html`<li>${withoutWords(one, today)} ${giveUpWords(one)}</li>\n`)}</ul>\n`,
      looks.length > 0 &&
        html`<p>${counted(looks.length, "shaft")} to be looked at first: ${looks.map(({order, square}) => `${square} for ${order}`).join(", ")}. What is not written down of ${looks.length === 1 ? "it" : "them"} may fit or not.</p>\n`,
      pieces.length > 0 &&
        html`${table({
          id: "coming",
          caption: "Pieces on their way that may fit an order that is not served, the eight likeliest of each",
          columns: comingColumns,
          rows: plain(pieces),
          note: "Each order is looked at alone, as if no other took the piece. Earliest and latest: nine of ten are finished between them, of those that are; pieces of a lot are taken up together, so on one day it may be fewer."
        })}${lead("how-coming")}`,
      unserved.length === 0 && looks.length === 0 && html`<p>Every shaft owed has one on the rack that fits.</p>\n`
    ].filter((part) => part !== false)
  };
}

function competingSection({competing}: RackToday, {table}: Composer): Section {
  return {
    id: "competing",
    heading: competing.length === 0 ? "No orders compete for a shaft" : "Orders that compete for one shaft",
    body: [
      competing.length === 0
        ? html`<p>No order goes without, or gets a clearly worse shaft, because another has the one it would like.</p>\n`
        : html`${table({
            id: "competing-orders",
            caption: "Shafts that two orders want, where it matters",
            columns: [
              {key: "square", heading: "Shaft", unit: "text"},
              {key: "goesTo", heading: "Goes to", unit: "text"},
              {key: "fit", heading: "Fits it", unit: "fraction"},
              {key: "order", heading: "Also wanted for", unit: "text"},
              {key: "fitOther", heading: "Would fit that", unit: "fraction"},
              {key: "gets", heading: "Which gets", unit: "text"},
              {key: "fitGets", heading: "Fits it so", unit: "fraction"}
            ],
            rows: plain(competing).map((row) => ({...row, gets: row.gets ?? "none"})),
            note: "Named where the other order goes without, or gets one that fits worse by five points or more. Overrule it by allotting the shaft in events.csv."
          })}${lead("how-orders")}`
    ]
  };
}

function limits({store}: RackToday, {book}: BookAsOf): string[] {
  const {settings} = book;
  const {rack, bendTest, ready} = settings;
  return [
    "This list is advice from records. A piece is looked at before it goes on the lathe: splits, loose knots and run-out do not show in a weight. A long thin shaft whips; follow the lathe's manual and local rules, extract the dust at the source.",
    `Shop rules, common practice, no source: mass steady within ${shown(ready.steadyPct, "number")} % or ${shown(ready.scaleSteps, "number")} times the scale's uncertainty over ${counted(ready.steadyDays, "day")}, moisture at most ${shown(ready.nearPct, "percent", {bare: true})} points above the store. Laboratory rules of constant mass are for small pieces and do not hold here; steady in damp air is not dry.`,
    store
      ? `The store's moisture is what its air would bring wood to in the end (Wood Handbook, FPL-GTR-190, eq. 4-5), good to about a point.`
      : "The store's moisture is not known: write its air into climate.csv, or store.moisturePct into workshop.json. Until then a piece counts as ready by rest and steady mass alone, and when others will be ready is told by their rest only.",
    "No bow is written down in the book: what a piece still bows is an allowance of a quarter of a millimetre a metre, common practice, no source.",
    `An order's weight is taken to be that of ${rack.handleMassG > 0 ? `shaft and handle, of ${shown(rack.handleMassG, "g")}` : "the bare shaft"}; a shaft must be ${shown(rack.spliceMarginMm, "mm")} longer and ${shown(rack.tipMarginMm, "mm")} thicker at the tip than ordered (rack in workshop.json). The large end is kept; what is too long comes off the tip.`,
    bendTest
      ? `Bend: in the workshop's test, ${shown(bendTest.loadKg, "number")} kg ${bendTest.support === "simple" ? "in the middle of" : "at the end of"} ${shown(bendTest.spanMm, "count")} mm. Shear is left out.`
      : "The settings name no bending test, so nothing is said of stiffness."
  ];
}

const method: readonly Method[] = [
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
  },
  {
    id: "how-orders",
    heading: "Shafts for orders",
    text: "A shaft is cut to the order in thought: the large end stays, the rest becomes a straight taper to the ordered tip. Its weight follows from the two volumes, its bend from the shape and its own test. Of all ways to give the shafts out, the one that serves most, then the earliest promised, then fits best. What was not written down of a shaft is not known: such shafts are offered last, to be looked at.",
    formula: "weight = weight now · volume cut ÷ volume now;  bend = bend read · shape cut ÷ shape bent",
    guide: "shafts-for-orders"
  },
  {
    id: "how-coming",
    heading: "What may still come",
    text: "For each piece on its way: the chance that it becomes a shaft, as pieces like it did; that the shaft then fits, by its density and its species' spread of stiffness; and when, from the days pieces took at each stage.",
    formula: "at least one = 1 − Π (1 − chance to finish · chance to fit)",
    guide: "shafts-for-orders"
  }
];
