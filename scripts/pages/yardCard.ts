import {discardRates} from "../../lib/defects/discardRates.ts";
import {usualSize, type YardWeight, yardWeight} from "../../lib/density/yardCard.ts";
import {capital, slug} from "../../lib/figures/densityDots.ts";
import {type Html, html, htmlText, raw} from "../../lib/report/html.ts";
import {shown} from "../../lib/report/quantity.ts";
import {security} from "../../lib/report/security.ts";
import {style} from "../../lib/report/style.ts";
import type {Table} from "../../lib/report/table.ts";
import {tableData} from "../../lib/report/tableData.ts";
import {grainStrength} from "../../lib/wood/grainStrength.ts";
import {gPerOunce, mmPerInch} from "../../lib/wood/units.ts";
import {policyHash} from "../io/policyHash.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {version} from "../version.ts";
import type {Report} from "./compose.ts";
import {reportNames} from "./reportNames.ts";
import {reportFormat} from "./reportSchema.ts";
import {yardCardStyle} from "./yardCardStyle.ts";

const sheet = style + yardCardStyle;

/** Moisture readings that the card has a row for, %. */
const moistures = [8, 10, 12, 14, 16, 18, 20];
/** Sides beside the usual one, mm. */
const sides = [-1, 0, 1];
/** Slopes of grain that are told by their strength: one in so many. */
const slopes = [25, 20, 15, 10];
/** A shaft's grain may be no steeper: one in so many. Common practice, no source. */
const steepest = 15;
/** Species whose panels one sheet holds: with how to use it and what to look for they fill the first. */
const perSheet = 2;

/** What one species' panel needs. */
interface SpeciesCard {
  species: string;
  window: {low: number; high: number};
  lengthMm: number;
  sidesMm: number[];
  /** By moisture, then by side. */
  weights: YardWeight[][];
  squares: number;
}

/** The yard card: between which weights a square of each species is worth buying, what to look for and what to refuse, on one A4 sheet for every two species. */
export function yardCardReport(read: BookAsOf): Report {
  const {book, asOf} = read;
  const cards = Object.keys(book.settings.species).flatMap((species) => speciesCard(read, species) ?? []);
  const lead = cards.map(sentence);
  const title = "Yard card";
  const tables = cards.map(weightTable);
  return {
    name: "yard-card",
    title,
    figures: [],
    tables,
    warnings: [],
    html: cardHtml(read, cards, title),
    data: {
      $schema: "report.schema.json",
      report: "yard-card",
      format: reportFormat,
      version,
      asOf,
      title,
      lead,
      tables: Object.fromEntries(tables.map((table) => [table.id, tableData(table)])),
      problems: [],
      sources: read.sources.map((source) => ({...source}))
    }
  };
}

function speciesCard({histories: now, book}: BookAsOf, species: string): SpeciesCard | undefined {
  const usual = usualSize(now, species);
  const {windowKgM3: window, wood} = book.settings.species[species]!;
  if (!usual) return undefined;
  const lengthMm = Math.round(usual.lengthMm / 10) * 10;
  const sidesMm = sides.map((more) => Math.round(usual.sideMm) + more);
  const {accuracy} = book.settings;
  return {
    species,
    window,
    lengthMm,
    sidesMm,
    weights: moistures.map((moisturePct) =>
      sidesMm.map((sideMm) => yardWeight({sideMm, lengthMm, moisturePct, window, wood, accuracy}))
    ),
    squares: now.pieces.filter((piece) => piece.species === species).length
  };
}

/** The row and column that stand for a card in a sentence: 12 % and the usual side. */
function sentence({species, lengthMm, sidesMm, weights}: SpeciesCard): string {
  const {sureLowG, sureHighG} = weights[moistures.indexOf(12)]![sides.indexOf(0)]!;
  const sure = inward(sureLowG, sureHighG);
  if (!sure) return `${capital(species)}: the instruments, as set, cannot tell whether a square lies in the window.`;
  return `${capital(species)} of ${sidesMm[sides.indexOf(0)]} × ${sidesMm[sides.indexOf(0)]} × ${shown(lengthMm, "count")} mm at 12 % moisture is worth buying between ${shown(sure[0], "count")} and ${shown(sure[1], "g")}.`;
}

/** The sure band in whole grams, never wider than it is; undefined where there is none, or no whole gram lies in it. */
function inward(low: number | undefined, high: number | undefined): [low: number, high: number] | undefined {
  if (low === undefined || high === undefined) return undefined;
  const [from, to] = [Math.ceil(low), Math.floor(high)];
  return from <= to ? [from, to] : undefined;
}

function cardHtml({book, asOf, histories: now}: BookAsOf, cards: readonly SpeciesCard[], title: string): string {
  const {accuracy, name} = book.settings;
  const others = Object.entries({index: "All reports", ...reportNames}).filter(([page]) => page !== "yard-card");
  const sheets = Math.max(1, Math.ceil(cards.length / perSheet));
  const more = Array.from({length: sheets - 1}, (_, k) => cards.slice(perSheet * (k + 1), perSheet * (k + 2)));
  return htmlText(html`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${security({styleHash: policyHash(sheet)})}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>${raw(sheet)}</style>
</head>
<body class="card">
<a class="skip" href="#main">Skip to the card</a>
<nav class="others" aria-label="Other reports"><ul>${others.map(([page, label]) => html`<li><a href="${page}.html">${label}</a></li>`)}</ul></nav>
<main id="main" tabindex="-1">
<div class="sheet">
<section class="panel" aria-labelledby="card">
<h1 id="card">${title}</h1>
<p>${name} · ${asOf}</p>
<ol>
<li>Measure the side at the middle, both ways, and the length. Read the meter at three places away from the ends.</li>
<li>Find the panel of the wood, the row of the moisture, the column of the side.</li>
<li>Weigh. <b>Bold</b>: in the window at that side and moisture, whatever the instruments' error (95\u00a0%). Maybe: there the meter's error decides; take such a square only if its grain is the better. Outside: leave it.</li>
<li>A length or side between those of the panel: weight · (panel's length ÷ length) · (column's side ÷ side)², then look it up. Moisture between two rows: the weight must hold in both.</li>
<li>Unequal sides: use the root of width · thickness (39.5 and 40.5 count as 40.0).</li>
</ol>
<p class="note">Instruments as set: scale ${accuracy.scaleG} g, calliper ${accuracy.calliperMm} mm, tape ${accuracy.tapeMm} mm, meter ${accuracy.meterPct}\u00a0%. Density at 12\u00a0%; windows from workshop.json. Above 25 % no meter can be trusted.</p>
<p class="note">Timber is heavy and sharp: lift it with help, mind the stack, wear gloves. Some woods are protected: ask for papers where your country wants them.</p>
</section>
${cards.slice(0, perSheet).map((card, i) => speciesPanel(card, i))}${lookPanel(now)}</div>
${more.map(
  (own, k) => html`<div class="sheet">
${own.map((card, i) => speciesPanel(card, perSheet * (k + 1) + i))}</div>
`
)}</main>
<footer>
<p class="note">Prints on ${sheets === 1 ? "one A4 sheet" : `${sheets} A4 sheets, two species a sheet, how to use it on the first`}, without scaling and margins; fold twice. Weights: <a href="yard-card.xlsx">yard-card.xlsx</a>. Made by square-to-shaft ${version}. Advice, not a promise.</p>
</footer>
</body>
</html>
`);
}

function speciesPanel({species, window, lengthMm, sidesMm, weights}: SpeciesCard, i: number): Html {
  const inches = (mm: number) => (mm / mmPerInch).toFixed(2);
  return html`<section class="panel" aria-labelledby="wood-${i}">
<h2 id="wood-${i}">${capital(species)}</h2>
<p>${shown(lengthMm, "count")} mm (${(lengthMm / mmPerInch).toFixed(1)} in) long; window ${window.low} to ${window.high} kg/m³ at 12 %. Weights in g and oz.</p>
<div class="table" role="group" aria-labelledby="wood-${i}" tabindex="0">
<table>
<thead><tr><th scope="col">Meter</th>${sidesMm.map((side) => html`<th scope="col" class="num">${side} mm <span class="unit">${inches(side)} in</span></th>`)}</tr></thead>
<tbody>
${weights.map((row, k) => html`<tr><th scope="row">${moistures[k]}\u00a0%</th>${row.map(weightCell)}</tr>\n`)}</tbody>
</table>
</div>
</section>
`;
}

function weightCell({sureLowG, sureHighG, maybeLowG, maybeHighG}: YardWeight): Html {
  const band = inward(sureLowG, sureHighG);
  // Sure is rounded inwards and maybe outwards: no rounding moves a square into a better band.
  const ounce = 10 / gPerOunce;
  const ounces = (tenths: number) => (tenths / 10).toFixed(1);
  const sure = band
    ? html`<b>${band[0]}–${band[1]}</b><small>${ounces(Math.ceil(sureLowG! * ounce))}–${ounces(Math.floor(sureHighG! * ounce))} oz</small>`
    : html`<b>–</b>`;
  return html`<td>${sure}<small class="maybe">maybe ${Math.floor(maybeLowG)}–${Math.ceil(maybeHighG)}</small></td>`;
}

function lookPanel(now: BookAsOf["histories"]): Html {
  const growth = discardRates(now, now.pieces).filter(({group}) => group === "growth");
  const percent = (share: number) => `${shown(100 * share, "count")}\u00a0%`;
  const run = (slope: number) => `${(300 / slope).toFixed(0)} mm`;
  return html`<section class="panel" aria-labelledby="look">
<h2 id="look">Look, then refuse</h2>
<p>Grain first: the line a fibre takes, seen on a split, a run of ink or the pores, not the rings on a flat face. <b>Refuse for a shaft what is steeper than 1 in ${steepest}</b>: what leaves the edge by more than ${run(steepest)} over 300 mm (12 in). <i>Common practice, no source.</i></p>
<table>
<caption>How far grain leaves the edge over 300 mm, and what the wood keeps</caption>
<thead><tr><th scope="col">Slope</th><th scope="col" class="num">Leaves by</th><th scope="col" class="num">Strength kept</th><th scope="col" class="num">Toughness kept</th></tr></thead>
<tbody>
${slopes.map((one) => html`<tr><th scope="row">1 in ${one}${one < steepest && html` <small>refuse</small>`}</th><td>${run(one)}</td><td>${percent(grainStrength({slope: 1 / one, property: "rupture"}))}</td><td>${percent(grainStrength({slope: 1 / one, property: "impact"}))}</td></tr>\n`)}</tbody>
</table>
<p class="note">Means of clear wood after the Wood Handbook (FPL-GTR-190, 2010), table 5-12, its figures from memory. Two faces add up: 1 in 20 on one and 1 in 15 on the other is 1 in 12: refuse.</p>
${growth.length > 0 && html`<p>What was thrown out here for faults that a square is bought with, per 100 squares:</p>\n<ul>${growth.map(({defect, per100}) => html`<li>${defect}: ${shown(per100, "per 100", {bare: true})}</li>\n`)}</ul>\n`}<p>Refuse: a knot in the middle third, a split or check that runs in from the end, a bow of more than 5 mm over the length, dull or crumbling wood, stain that a shaving does not take off. <i>Common practice, no source.</i></p>
</section>
`;
}

function weightTable({species, weights}: SpeciesCard): Table {
  return {
    id: `yard-weights-${slug(species)}`,
    caption: `Weights between which a square of ${species} lies in the window, by moisture and side`,
    columns: [
      {key: "moisturePct", heading: "Moisture", unit: "percent"},
      {key: "sideMm", heading: "Side", unit: "mm"},
      {key: "lengthMm", heading: "Length", unit: "mm"},
      {key: "lowG", heading: "From", unit: "g"},
      {key: "highG", heading: "To", unit: "g"},
      {key: "sureLowG", heading: "Sure from", unit: "g"},
      {key: "sureHighG", heading: "Sure to", unit: "g"},
      {key: "maybeLowG", heading: "Maybe from", unit: "g"},
      {key: "maybeHighG", heading: "Maybe to", unit: "g"}
    ],
    rows: weights.flat().map((row) => ({...row}))
  };
}
