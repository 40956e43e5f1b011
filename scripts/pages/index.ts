import {html} from "../../lib/report/html.ts";
import {page, type Section} from "../../lib/report/page.ts";
import type {NotebookEntry} from "../io/notebookList.ts";
import {styleHash} from "../io/policyHash.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {version} from "../version.ts";
import type {Report} from "./compose.ts";
import {type ReportName, reportNames} from "./reportNames.ts";

const decides: Record<ReportName, string> = {
  monthly: "What went wrong this month, and is it getting worse",
  suppliers: "Whose timber is worth the drive",
  season: "How many squares, whose, by when"
};

/** The page that leads to the others, with the first of each report's main points and two of the season's, as species have a number each. */
export function indexPage(
  {book, asOf}: BookAsOf,
  reports: readonly Report[],
  notebooks: readonly NotebookEntry[]
): string {
  return page({
    title: `Reports of ${book.settings.name}`,
    subtitle: `Data to ${asOf}`,
    lang: "en-GB",
    lead: reports.flatMap(({name, data}) => (data as {lead: string[]}).lead.slice(0, name === "season" ? 2 : 1)),
    sections: [
      ...reports.map(({name, title}) => ({
        id: name,
        heading: reportNames[name as ReportName],
        body: [
          html`<p><a href="${name}.html">${title}</a>: ${decides[name as ReportName]}. Every number: <a href="${name}.json">${name}.json</a>.</p>\n`
        ]
      })),
      ...(notebooks.length > 0 ? [questions(notebooks)] : [])
    ],
    footer: html`<p>Made by square-to-shaft ${version} from the book's own records. Figures are advice, not a promise.</p>\n`,
    styleHash
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
