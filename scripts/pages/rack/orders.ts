import {shaftsForOrders} from "../../../lib/figures/shaftsForOrders.ts";
import type {ComingForOrder} from "../../../lib/rack/comingForOrder.ts";
import type {OpenOrder} from "../../../lib/rack/openOrders.ts";
import type {OrderShafts} from "../../../lib/rack/rankShafts.ts";
import type {ShaftFit, ShaftWish, WishFit} from "../../../lib/rack/shaftFit.ts";
import type {UnservedOrder} from "../../../lib/rack/unservedOrders.ts";
import {type Html, html} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import type {Section} from "../../../lib/report/page.ts";
import {shown} from "../../../lib/report/quantity.ts";
import {quantile} from "../../../lib/stats/quantile.ts";
import {counted} from "../../faultLines.ts";
import type {RackToday} from "../../rack/rackToday.ts";
import {type Composer, lead, plain} from "../compose.ts";
import {listed} from "../listed.ts";

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
  const asked = askedWords(low, high, number);
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
function askedWords(low: number | undefined, high: number | undefined, number: (value: number) => string): string {
  if (low === undefined) return high === undefined ? "–" : `at most ${number(high)}`;
  return high === undefined ? `at least ${number(low)}` : `${number(low)} to ${number(high)}`;
}

const bare = (unit: "g" | "mm") => (value: number) => shown(value, unit, {bare: true});

/** What is known of a shaft's bend; nothing where there is only a reason why not. */
const bendOf = (fit: ShaftFit | undefined) => (typeof fit?.bend === "object" ? fit.bend : undefined);

/** The same of a shaft that was bent itself. */
function bentOf(fit: ShaftFit | undefined) {
  const bend = bendOf(fit);
  return bend?.modulus.basis === "bent" ? bend : undefined;
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

/** Which shaft goes to which order, and what is allotted. */
export function ordersSection(today: RackToday, asOf: string, composer: Composer): Section {
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
    return {
      order,
      wantedBy,
      square: square === undefined ? "none" : look ? `${square} ?` : square,
      cut: sizeWords(asked),
      massG: fit?.mass?.massG,
      massLow: fit?.mass?.lowG,
      massHigh: fit?.mass?.highG,
      massAsked: askedWords(asked.massMinG, asked.massMaxG, bare("g")),
      bendMm: bentOf(fit)?.deflectionMm,
      bendAsked: askedWords(asked.deflectionMinMm, asked.deflectionMaxMm, bare("mm")),
      look: lookWords(asked, fit),
      fit: fit?.fit
    };
  });
  const bends = assignment.given.flatMap(({order, square}) =>
    square === undefined ? [] : (bentOf(fitOf(ranked, order, square)) ?? [])
  );
  const bendHalf = quantile(
    bends.map(({lowMm, highMm}) => (highMm - lowMm) / 2),
    0.5
  );
  const pairs = ranked.flatMap(({order, shafts}) =>
    shafts.map((one) => {
      const bend = bendOf(one);
      return {
        order: order.order,
        square: one.square,
        state: one.state,
        fit: one.fit,
        chance: one.chance,
        massG: one.mass?.massG,
        massLow: one.mass?.lowG,
        massHigh: one.mass?.highG,
        bendMm: bend?.deflectionMm,
        bendLow: bend?.lowMm,
        bendHigh: bend?.highMm,
        bendBy: bentOf(one) ? "its test" : bend ? "its species" : String(one.bend),
        modulusMPa: bend?.modulus.modulusMPa,
        modulusLow: bend?.modulus.lowMPa,
        modulusHigh: bend?.modulus.highMPa,
        wishes: wishesWords(one)
      };
    })
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
    note: `Cut to: length × tip. Weight and bend: of the shaft cut to the order, with what they lie between in 95 of 100 cases. A bend is given where the shaft was bent${bendHalf === undefined ? "" : `, good to some ${shown(bendHalf, "mm")}`}; for others only the spread of its species is known, which is no knowledge of this one (the CSV has it). A question mark: bend or look first, as something the order asks for was not written down of it. Every order against every free shaft of its species is in the workbook and in the CSV file beside this page.`
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

/** What is said of a piece on its way. */
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
    wantedBy,
    square: fit.square,
    massG: fit.mass?.massG,
    state: fit.state === "fits" ? "yes" : fit.state === "not known" ? "not known" : "no",
    wishes: wishesWords(fit)
  }))
})}</details>\n`;
}

/** Who goes without, why, and what may still come. */
export function withoutSection(today: RackToday, {table}: Composer): Section {
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

/** Orders that compete for one shaft. */
export function competingSection({competing}: RackToday, {table}: Composer): Section {
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

const causeWords: Record<UnservedOrder["cause"], (one: UnservedOrder) => string> = {
  "no free shaft of the species": () => "there is no free shaft of its species",
  "no shaft fits": () => "no shaft on the rack fits",
  "those that may fit are to be looked at for others": () =>
    "no shaft is known to fit, and those that may are to be looked at for others",
  "too few fit": ({without}) => `${without} more than fit on the rack are wanted`,
  "all that fit go to others": ({fitting, goTo}) => `all ${fitting} that fit go to ${listed(goTo)}, promised earlier`
};

/** Why an order goes without, what would serve it, and what may still come. */
export function withoutWords(one: UnservedOrder, {coming}: RackToday): string {
  const by = one.wantedBy === undefined ? "" : ` for ${one.wantedBy}`;
  return `${one.order}${by}: ${causeWords[one.cause](one)}; ${comingWords(coming.find(({order}) => order === one.order))}.`;
}

/** Which one wish given up would do, and what stands in the way. */
function giveUpWords({giveUp, inTheWay, shafts}: UnservedOrder): string {
  const way = inTheWay.map(({wish, shafts: n}) => `${wishNames[wish]} of ${n}`);
  const why = way.length > 0 ? `Of ${counted(shafts, "free shaft")} of its species do not suit: ${listed(way)}.` : "";
  const without = giveUp.map(({wish, square}) => `${wishNames[wish]} (then ${square})`);
  return without.length > 0 ? `${why} It could be served if it gave up one wish: ${without.join(" or ")}.` : why;
}

function comingWords(coming: ComingForOrder | undefined): string {
  if (!coming || coming.pieces.length === 0) return "of no piece on its way is it known that it may fit";
  const {byPromiseFraction, chanceFraction, pieces} = coming;
  const best = pieces[0]!;
  const day = best.expectedOn === undefined ? "" : `, ${best.square} most likely, about ${best.expectedOn}`;
  const intime = byPromiseFraction === undefined ? "" : `, in time with ${shown(byPromiseFraction, "fraction")}`;
  return `of ${counted(pieces.length, "piece")} on the way that may fit, at least one comes with a chance of ${shown(chanceFraction, "fraction")}${intime}${day}`;
}

export const orderMethods: readonly Method[] = [
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
