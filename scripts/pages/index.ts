import {figureHtml} from "../../lib/report/figureHtml.ts";
import {html} from "../../lib/report/html.ts";
import {page, type Section} from "../../lib/report/page.ts";
import type {draw} from "../draw.ts";
import type {NotebookEntry} from "../io/notebookList.ts";
import {pageScript, styleHash} from "../io/policyHash.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {version} from "../version.ts";
import type {Report} from "./compose.ts";
import {type ReportName, reportNames} from "./reportNames.ts";
import {trends} from "./trends.ts";

const decides: Record<ReportName, string> = {
  monthly: "What went wrong this month, and is it getting worse",
  suppliers: "Whose timber is worth the drive",
  season: "How many squares, whose, by when",
  seasoning: "What a rest does and costs",
  rack: "What to turn today, what to weigh first, and which shaft for which order",
  "yard-card": "This square or not: a sheet to print and take along"
};

/** How many sentences say what a report found, where not one: of the season two, as species have a number each; the yard card is to take along. */
const found: Partial<Record<ReportName, number>> = {season: 2, "yard-card": 0};

/** The page that leads to the others: what each found, and its year in one small plot. */
export function indexPage(
  {book, asOf, histories}: BookAsOf,
  reports: readonly Report[],
  notebooks: readonly NotebookEntry[],
  drawn: typeof draw
): string {
  const {currency} = book.settings.money;
  const year = trends(histories);
  return page({
    title: `Reports of ${book.settings.name}`,
    subtitle: `Data to ${asOf}`,
    lang: "en-GB",
    lead: [
      ...new Set(reports.flatMap(({warnings}) => warnings)),
      ...reports.flatMap(({name, warnings, data}) => data.lead.slice(warnings.length).slice(0, found[name] ?? 1))
    ].slice(0, 6),
    sections: [
      ...reports.map(({name, title}, i) => {
        const figure = Object.hasOwn(year, name) ? year[name as keyof typeof year] : undefined;
        const place = {number: i + 1, currency, period: asOf};
        return {
          id: name,
          heading: reportNames[name],
          body: [
            html`<p>${decides[name]}: <a href="${name}.html">${title}</a>, speaks for ${asOf}.</p>\n`,
            html`${figure && (figure.table.rows.length > 0 ? figureHtml(figure, drawn(figure), place) : html`<p>${figure.title}.</p>\n`)}`
          ]
        };
      }),
      ...(notebooks.length > 0 ? [questions(notebooks)] : []),
      {
        id: "how",
        heading: "How the numbers are made",
        body: [
          html`<p>Each figure of the reports leads to its method; <a href="guide.html">the guide</a> tells source, formula and check of every number, and how often the intervals held the truth.</p>\n`
        ]
      }
    ],
    footer: html`<p>Made by square-to-shaft ${version} from the book's own records. Figures are advice, not a promise.</p>\n`,
    styleHash,
    script: pageScript
  });
}

/** The notebooks by their questions; a link where the page has been made. */
function questions(notebooks: readonly NotebookEntry[]): Section {
  const items = notebooks.map(({name, question, made}) =>
    made ? html`<li><a href="notebooks/${name}.html">${question}</a></li>\n` : html`<li>${question}</li>\n`
  );
  const missing = notebooks.some(({made}) => !made)
    ? html`<p>Those without a link are made by <code>npx tsx scripts/notebook.ts --book</code> and the book's folder; then make this page again. Each page says at its top which workshop and day it speaks of.</p>\n`
    : "";
  return {id: "notebooks", heading: "Questions worked out in notebooks", body: [html`<ul>\n${items}</ul>\n${missing}`]};
}
