import {discardRates} from "../../lib/defects/discardRates.ts";
import {supplierDiscards, supplierDiscardsOf} from "../../lib/defects/supplierDiscards.ts";
import type {SupplierDensity} from "../../lib/density/densityBySupplier.ts";
import type {DensityDrift} from "../../lib/density/densityDrift.ts";
import type {DensityRange} from "../../lib/density/densityRange.ts";
import type {LotDensity} from "../../lib/density/lotDensities.ts";
import {capital, slug} from "../../lib/figures/densityDots.ts";
import {supplierLots} from "../../lib/figures/supplierLots.ts";
import {html} from "../../lib/report/html.ts";
import {type KeyFigure, keyFigures} from "../../lib/report/keyFigures.ts";
import {page, type Section} from "../../lib/report/page.ts";
import {shown, shownInterval} from "../../lib/report/quantity.ts";
import type {CostRank} from "../../lib/yield/costRank.ts";
import type {LotRow} from "../../lib/yield/lotTable.ts";
import type {ShaftCost} from "../../lib/yield/shaftCost.ts";
import {counted} from "../faultLines.ts";
import {pageScript, styleHash} from "../io/policyHash.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {version} from "../version.ts";
import {recentDays} from "./clearlyMore.ts";
import {type Beside, makeComposer, plain} from "./compose.ts";

/** With fewer lots how they differ says nothing: no interval is given, and nobody leads. */
export const fewLots = 4;

/** What the suppliers' report has worked out of all suppliers already. */
export interface SupplierFacts {
  densities: readonly SupplierDensity[];
  lots: readonly LotDensity[];
  ranges: readonly DensityRange[];
  drifts: readonly DensityDrift[];
  costs: readonly ShaftCost[];
  ranks: readonly CostRank[];
  lately: readonly {supplier: string; sentence: string}[];
  lotRows: readonly LotRow[];
}

/** A page beside the report. */
export interface ExtraPage {
  file: string;
  label: string;
  html: string;
}

/** The file of a supplier's own page; a name longer than a disk may take keeps its beginning and its end, which tells it apart. */
export function supplierFile(supplier: string): string {
  const name = slug(supplier);
  return `supplier-${name.length > 80 ? `${name.slice(0, 60)}-${name.slice(-12)}` : name}.html`;
}

/** A page for each supplier, to take along: its density, its discards, its lots, and what its squares are worth. */
export function supplierPages(read: BookAsOf, beside: Beside, facts: SupplierFacts): ExtraPage[] {
  const names = [...new Set(read.histories.lots.map(({supplier}) => supplier))].sort();
  const discards = discardsOf(read);
  return names.map((supplier) => ({
    file: supplierFile(supplier),
    label: supplier,
    html: supplierPage(read, beside, facts, supplier, discards)
  }));
}

type Discards = ReturnType<typeof discardsOf>;

/** Discards of every supplier by defect and by stage, of all years and lately, as the drawing needs all suppliers at once. */
function discardsOf({histories: now, book}: BookAsOf) {
  const since = now.asOf - recentDays;
  const defects = discardRates(now, now.pieces).map(({defect}) => defect);
  const stages = book.settings.stages.slice(0, -1).map(({name}) => name);
  const [always, lately] = [supplierDiscardsOf(now), supplierDiscardsOf(now, {since})];
  return {
    byDefect: defects.map((defect) => ({name: defect, all: always(defect), lately: lately(defect)})),
    byStage: stages.map((stage) => ({
      name: stage,
      all: supplierDiscards(now, {stage}),
      lately: supplierDiscards(now, {stage, since})
    }))
  };
}

function supplierPage(
  read: BookAsOf,
  beside: Beside,
  facts: SupplierFacts,
  supplier: string,
  discards: Discards
): string {
  const {book, asOf, histories: now} = read;
  const {composer} = makeComposer({currency: read.book.settings.money.currency, asOf: read.asOf}, beside);
  const {figure, table, currency} = composer;
  const own = <T extends {supplier: string}>(rows: readonly T[]) => rows.filter((row) => row.supplier === supplier);
  const densities = own(facts.densities);
  const species = [...new Set(own(now.lots).map((lot) => lot.species))].sort();
  const bought = own(now.lots)
    .map(({boughtOn}) => boughtOn)
    .sort();
  const period = `${bought[0]} to ${bought.at(-1)}`;
  const discardRows = (parts: Discards["byDefect"]) =>
    parts.flatMap(({name, all, lately}) =>
      species.flatMap((one) => {
        const row = own(all).find((each) => each.species === one);
        if (!row) return [];
        const recent = own(lately).find((each) => each.species === one && each.undecidedPer100 < 20);
        return [
          {...row, name, latelyPer100: recent?.drawnPer100, latelyLow: recent?.drawnLow, latelyHigh: recent?.drawnHigh}
        ];
      })
    );
  const discardTable = (id: string, caption: string, heading: string, parts: Discards["byDefect"]) =>
    table({
      id,
      caption,
      columns: [
        {key: "name", heading, unit: "text"},
        {key: "species", heading: "Species", unit: "text"},
        {key: "squares", heading: "Pieces", unit: "count"},
        {key: "discarded", heading: "Thrown out", unit: "count"},
        {key: "per100", heading: "Raw", unit: "per 100", low: "per100Low", high: "per100High"},
        {key: "drawnPer100", heading: "Drawn to the mean", unit: "per 100", low: "drawnLow", high: "drawnHigh"},
        {key: "latelyPer100", heading: "Drawn, lately", unit: "per 100", low: "latelyLow", high: "latelyHigh"}
      ],
      rows: plain(discardRows(parts)),
      note: `In brackets: 95 % intervals. Lately: the last ${recentDays} days, where enough is decided.`
    });
  const lots = own(facts.lotRows);
  const sections: Section[] = [
    {
      id: "density",
      heading: "Density of its lots",
      body: species.flatMap((name) => {
        const lotsOf = facts.lots.filter((lot) => lot.supplier === supplier && lot.species === name);
        const window = book.settings.species[name]!.windowKgM3;
        if (lotsOf.length === 0) return [];
        // How it is worked out stands on the page of all suppliers.
        const {method: _, ...own} = supplierLots(facts.lots, {
          species: name,
          suppliers: [supplier],
          window,
          period,
          drifts: facts.drifts
        });
        return [figure(own)];
      })
    },
    {
      id: "discards",
      heading: "What was thrown out of it",
      body: [
        discardTable("by-defect", "Thrown out per 100 squares, by defect", "Defect", discards.byDefect),
        discardTable("by-stage", "Thrown out at each stage, per 100 pieces that reach it", "Stage", discards.byStage)
      ]
    },
    {
      id: "lots",
      heading: "Its lots",
      body: [
        table({
          id: "lots-table",
          caption: "Every lot, newest first",
          columns: [
            {key: "lot", heading: "Lot", unit: "text"},
            {key: "boughtOn", heading: "Bought on", unit: "date"},
            {key: "species", heading: "Species", unit: "text"},
            {key: "lookedAt", heading: "Looked at", unit: "count"},
            {key: "bought", heading: "Bought", unit: "count"},
            {key: "finished", heading: "Finished", unit: "count"},
            {key: "discarded", heading: "Discarded", unit: "count"},
            {key: "inStock", heading: "In stock", unit: "count"},
            {key: "meanKgM3", heading: "Mean density", unit: "kg/m³"},
            {
              key: "expectedFraction",
              heading: "Yield to expect",
              unit: "fraction",
              low: "expectedLow",
              high: "expectedHigh"
            }
          ],
          rows: plain(
            lots.map((lot) => ({
              ...lot,
              meanKgM3: facts.lots.find((one) => one.lot === lot.lot)?.meanKgM3,
              ...(lot.inStock === 0 && {expectedLow: undefined, expectedHigh: undefined})
            }))
          )
        })
      ]
    }
  ];
  return page({
    title: supplier,
    subtitle: `${book.settings.name} · ${counted(lots.length, "lot")} bought ${period} · data to ${asOf}`,
    lang: "en-GB",
    lead: leadOf(facts, supplier, species, currency),
    summary: keyFigures(
      densities.flatMap((row): KeyFigure[] => [
        {
          label: `${capital(row.species)} in the window`,
          value: row.insideFraction,
          unit: "fraction",
          ...(row.insideLow !== undefined &&
            row.lots >= fewLots && {interval: {low: row.insideLow, high: row.insideHigh!}}),
          n: `${shown(row.squares, "count")} squares, ${counted(row.lots, "lot")}${row.lots < fewLots ? ": too few to say how sure" : ""}`
        },
        ...own(facts.ranks)
          .filter((rank) => rank.species === row.species)
          .map((rank) => ({
            label: `A square of ${row.species} is worth up to`,
            value: rank.worthEach,
            unit: "money" as const,
            interval: {low: rank.worthLow, high: rank.worthHigh},
            note: `${shown(rank.priceEach, "money", {currency})} was paid, without carriage`
          }))
      ]),
      {currency}
    ),
    sections,
    others: [
      {href: "index.html", label: "All reports"},
      {href: "suppliers.html", label: "Suppliers compared"},
      {href: "yard-card.html", label: "Yard card"}
    ],
    footer: html`<p>How it is worked out: <a href="suppliers.html#method">Suppliers compared</a>. Speaks for ${asOf}. Made by square-to-shaft ${version}. Advice, not a promise.</p>\n`,
    styleHash,
    script: pageScript
  });
}

/** At most six sentences: density, range and change species by species, cost, and whether it has got worse. */
function leadOf(
  {densities, ranges, drifts, ranks, lately}: SupplierFacts,
  supplier: string,
  species: readonly string[],
  currency: string
): string[] {
  const of = <T extends {supplier: string; species: string}>(rows: readonly T[], name: string) =>
    rows.find((row) => row.supplier === supplier && row.species === name);
  const sentences = species.flatMap((name) => {
    const [density, range, drift, rank] = [of(densities, name), of(ranges, name), of(drifts, name), of(ranks, name)];
    const wood = capital(name);
    return [
      density &&
        `${wood}: mean ${shown(density.meanKgM3, "kg/m³")}${range ? `; 19 of 20 of its squares lie between ${shown(range.lowKgM3, "count")} and ${shown(range.highKgM3, "kg/m³")}` : ""}.`,
      rank &&
        `${wood}: the chance that no other supplier's usable shaft is cheaper is ${shown(rank.chanceCheapest, "fraction")}; beside ${rank.against} a square is worth up to ${shown(rank.worthEach, "money", {currency})} (${shownInterval({low: rank.worthLow, high: rank.worthHigh}, "money", {currency})}).`,
      drift &&
        drift.chance < 0.05 &&
        `${wood}: from lot ${drift.fromLot} (${drift.fromDay}) on its density changed from ${shown(drift.beforeKgM3, "count")} to ${shown(drift.afterKgM3, "kg/m³")}.`
    ].filter((sentence) => typeof sentence === "string");
  });
  const worse = lately.filter((row) => row.supplier === supplier).map(({sentence}) => sentence);
  return [...worse, ...sentences].slice(0, 6);
}
