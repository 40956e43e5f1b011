import {html} from "../../lib/report/html.ts";
import {page} from "../../lib/report/page.ts";
import {styleHash} from "../io/policyHash.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {version} from "../version.ts";
import {type Report, type ReportName, reportNames} from "./compose.ts";

const decides: Record<ReportName, string> = {
  monthly: "What went wrong this month, and is it getting worse",
  suppliers: "Whose timber is worth the drive",
  season: "How many squares, whose, by when"
};

/** The page that leads to the others, with the first of each report's main points and two of the season's, as species have a number each. */
export function indexPage({book, asOf}: BookAsOf, reports: readonly Report[]): string {
  return page({
    title: `Reports of ${book.settings.name}`,
    subtitle: `Data to ${asOf}`,
    lang: "en-GB",
    lead: reports.flatMap(({name, data}) => (data as {lead: string[]}).lead.slice(0, name === "season" ? 2 : 1)),
    sections: reports.map(({name, title}) => ({
      id: name,
      heading: reportNames[name as ReportName],
      body: [
        html`<p><a href="${name}.html">${title}</a>: ${decides[name as ReportName]}. Every number: <a href="${name}.json">${name}.json</a>.</p>\n`
      ]
    })),
    footer: html`<p>Made by square-to-shaft ${version} from the book's own records. Figures are advice, not a promise.</p>\n`,
    styleHash
  });
}
