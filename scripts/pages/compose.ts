import {type BalanceRow, balance} from "../../lib/book/balance.ts";
import type {Day} from "../../lib/book/day.ts";
import {byImportance, problemSentence} from "../../lib/book/problem.ts";
import {filesCounted} from "../../lib/book/rowAccount.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {faultList} from "../../lib/report/faultList.ts";
import {type FigurePlace, figureHtml} from "../../lib/report/figureHtml.ts";
import {type Html, html} from "../../lib/report/html.ts";
import {type Method, methods} from "../../lib/report/methods.ts";
import {type Page, page, type Section} from "../../lib/report/page.ts";
import {provenance} from "../../lib/report/provenance.ts";
import {shown} from "../../lib/report/quantity.ts";
import type {Table} from "../../lib/report/table.ts";
import {tableData} from "../../lib/report/tableData.ts";
import {tableHtml} from "../../lib/report/tableHtml.ts";
import {tableSection} from "../../lib/report/tableSection.ts";
import type {draw} from "../draw.ts";
import type {KeptReport} from "../io/keptReports.ts";
import type {NotebookEntry} from "../io/notebookList.ts";
import {pageScript, styleHash} from "../io/policyHash.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {version} from "../version.ts";
import {glossary} from "./glossary.ts";
import {missing} from "./missing.ts";
import {type ReportName, recordsOf, reportNames} from "./reportNames.ts";
import {type ReportData, reportFormat} from "./reportSchema.ts";

/** A finished report: the page, its figures, its tables for CSV files, and every number for the JSON file. */
export interface Report {
  name: ReportName;
  title: string;
  html: string;
  figures: Figure[];
  tables: Table[];
  /** What is missing of the book, said before what the report found: first of the main points. */
  warnings: string[];
  data: ReportData;
  /** What the next month's report is compared with. */
  kept?: KeptReport;
  /** Further pages that belong to it. */
  extra?: readonly {file: string; html: string}[];
}

/** What a page's author needs: figures and tables that number and collect themselves. */
export interface Composer {
  figure: (figure: Figure) => Html;
  table: (table: Table) => Html;
  currency: string;
}

/** What a report is made with, beside the book. */
export interface Beside {
  /** Draws its figures; left out where only the numbers are wanted: then there are none in its page. */
  draw?: typeof draw;
  /** Those in the folder of the reports, by their questions. */
  notebooks: readonly NotebookEntry[];
  /** The last report kept of a workshop before a day. */
  keptBefore: (workshop: string, day: Day) => KeptReport | undefined;
}

/** A composer, and what it collects. */
export function makeComposer(
  {currency, asOf}: {currency: string; asOf: Day},
  beside: Pick<Beside, "notebooks" | "draw">
): {composer: Composer; figures: Figure[]; tables: Table[]} {
  const figures: Figure[] = [];
  const tables: Table[] = [];
  const composer: Composer = {
    currency,
    figure: (figure) => {
      figures.push(figure);
      tables.push(figure.table);
      const place = {number: figures.length, currency, period: asOf, ...notebookOf(figure, beside)};
      const drawings = figure.table.rows.length > 0 ? beside.draw?.(figure) : undefined;
      return drawings && hasMarks(drawings.wide) ? figureHtml(figure, drawings, place) : nothingToDraw(figure, place);
    },
    table: (table) => {
      tables.push(table);
      return tableSection(table, {currency, period: asOf});
    }
  };
  return {composer, figures, tables};
}

/** A report from its parts; balance, faults and provenance are added to every one. */
export function compose(
  name: ReportName,
  read: BookAsOf,
  beside: Beside,
  parts: (composer: Composer) => Pick<Page, "title" | "subtitle" | "lead" | "summary" | "ownScript"> & {
    sections: Section[];
    method: readonly Method[];
    limits: readonly string[];
  }
): Report {
  const {composer, figures, tables} = makeComposer(
    {currency: read.book.settings.money.currency, asOf: read.asOf},
    beside
  );
  const {currency} = composer;
  const {sections, method, limits, lead: points, ...rest} = parts(composer);
  const warnings = missing([{entered: read.entered, files: filesCounted(read.accounts, recordsOf[name])}], read.asOf);
  const head = {...rest, lead: [...warnings, ...points].slice(0, 6)};
  const closing: Section[] = [
    {id: "balance", heading: "Where every square is", body: [balanceTable(balance(read.histories), composer)]},
    {id: "faults", heading: "Faults of the book", body: [faults(read)]},
    {id: "method", heading: "How this is worked out", body: [methods(method)]},
    {
      id: "limits",
      heading: "Things to know",
      body: [html`<ul>${limits.map((limit) => html`<li>${limit}</li>\n`)}</ul>`]
    },
    {id: "words", heading: "Words used here", body: [glossary()]}
  ];
  const text = page({
    lang: "en-GB",
    ...head,
    sections: [...sections, ...closing],
    footer: footer(name, read),
    others: [
      {href: "index.html", label: "All reports"},
      ...Object.entries(reportNames)
        .filter(([other]) => other !== name)
        .map(([other, label]) => ({href: `${other}.html`, label}))
    ],
    styleHash,
    script: pageScript
  });
  const data: ReportData = {
    $schema: "report.schema.json",
    report: name,
    format: reportFormat,
    version,
    asOf: read.asOf,
    title: head.title,
    lead: [...head.lead],
    tables: Object.fromEntries(tables.map((table) => [table.id, tableData(table, {currency})])),
    problems: read.problems.map((problem) => ({...problem, sentence: problemSentence(problem)})),
    sources: read.sources.map((source) => ({...source}))
  };
  return {name, title: head.title, html: text, figures, tables, warnings, data};
}

/** The notebook that goes through a figure: its question, with a link, once its page has been made. */
function notebookOf({notebook}: Figure, {notebooks}: Pick<Beside, "notebooks">): Pick<FigurePlace, "notebook"> {
  const entry = notebook === undefined ? undefined : notebooks.find(({name}) => name.startsWith(`${notebook}-`));
  // A page that is not there leads nowhere.
  return entry?.made ? {notebook: {question: entry.question, href: `notebooks/${entry.name}.html`}} : {};
}

/** Whether a drawing shows more than axes: a dot, a bar, or a line that is no tick of an axis. */
function hasMarks(svg: string): boolean {
  const lines = [...svg.matchAll(/<path[^>]* d="([^"]*)"/g)].map(([, line]) => line!);
  return /<(circle|rect)\b/.test(svg) || lines.some((line) => !/^M0,0L-?\d+,-?\d+$/.test(line));
}

/** In the place of a figure without data: that there is none, instead of empty axes. */
function nothingToDraw(
  {id, title, alt, table}: Figure,
  place: {number: number; currency: string; period: string}
): Html {
  return html`<section class="figure" id="${id}" aria-labelledby="${id}-title">
<h3 id="${id}-title"><span class="number">Figure ${place.number}</span> ${title}</h3>
<p>${table.rows.length === 0 ? alt : "There are no data to draw yet."}</p>
${table.rows.length > 0 && html`<details>\n<summary>Data for figure ${place.number}</summary>\n${tableHtml(table, place)}</details>\n`}</section>
`;
}

/** Where every square is, by species, and whether that adds up. */
export function balanceTable(rows: readonly BalanceRow[], {table}: Pick<Composer, "table">): Html {
  const closes = rows.every((row) => row.closes);
  const unlisted = rows.reduce((total, {unaccounted}) => total + Math.abs(unaccounted), 0);
  const said = !closes
    ? "The balance does not close: look at the faults of the book."
    : unlisted === 0
      ? "The balance closes: every square bought is in one place."
      : `The balance closes, but for ${shown(unlisted, "count")} ${unlisted === 1 ? "square that is" : "squares that are"} in the lots’ own counts and not in squares.csv, or the other way round: nothing is known of ${unlisted === 1 ? "it" : "them"}.`;
  return html`<p>${said} Sold shafts count as finished.</p>
${table({
  id: "balance-table",
  caption: "Bought = finished + discarded + diverted + in stock + unaccounted",
  columns: [
    {key: "species", heading: "Species", unit: "text"},
    {key: "bought", heading: "Bought", unit: "count"},
    {key: "finished", heading: "Finished", unit: "count"},
    {key: "discarded", heading: "Discarded", unit: "count"},
    {key: "diverted", heading: "Diverted", unit: "count"},
    {key: "inStock", heading: "In stock", unit: "count"},
    {key: "unaccounted", heading: "Unaccounted", unit: "count"},
    {key: "closes", heading: "Closes", unit: "text"}
  ],
  rows: rows.map((row) => ({...row, closes: row.closes ? "yes" : "no"}))
})}`;
}

function faults({problems}: BookAsOf): Html {
  const real = byImportance(problems.filter(({severity}) => severity !== "note"));
  const refused = real.filter(({severity}) => severity === "refused").length;
  const doubts = real.length - refused;
  const counted = html`<p>${refused} ${refused === 1 ? "fault" : "faults"} for which a row was set aside, ${doubts} to look at. The refused rows are written out whole to the files refused-….csv beside this page.</p>`;
  const notes = problems.filter(({severity}) => severity === "note");
  const asRead = html`<h3>How the files were read</h3>
<ul>\n${notes.map(({file, wanted}) => html`<li><code>${file}</code> is ${wanted}.</li>\n`)}</ul>
<p>If that is wrong, say what is right under <code>reading</code> in <code>workshop.json</code>.</p>\n`;
  return html`${real.length > 0 && counted}${faultList(real)}${notes.length > 0 && asRead}`;
}

function footer(name: ReportName, {sources, asOf, book}: BookAsOf): Html {
  const {season, accuracy} = book.settings;
  return html`<p>Figures are advice from past records, not a promise; timber and orders change. Wood dust harms: extract it at the source and follow the local rules. See the README for cautions on lathes, finishes and protected species.</p>
<p>Beside this page: all its tables in one workbook, <a href="${name}.xlsx">${name}.xlsx</a>, and as data, <a href="${name}.json">${name}.json</a> (<a href="report.schema.json">its form</a>).</p>
${provenance({
  files: sources,
  asOf,
  version: `square-to-shaft ${version}`,
  command: `npm run ${name}`,
  settings: [
    {name: "Season begins", value: season.startsOn},
    {
      name: "Accuracy",
      value: `scale ${accuracy.scaleG} g, calliper ${accuracy.calliperMm} mm, tape ${accuracy.tapeMm} mm, meter ${accuracy.meterPct} %`
    }
  ]
})}`;
}

/** Rows of results as rows of a table. */
export const plain = <T extends object>(rows: readonly T[]) =>
  rows.map((row) => ({...row}) as Record<string, string | number | undefined>);

/** Leads from a table to how it is worked out, as figures do. */
export function lead(method: string): Html {
  return html`<div class="leads"><a href="#${method}">How it is worked out</a></div>\n`;
}
