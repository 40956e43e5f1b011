import {csvLink} from "./csvLink.ts";
import {type Html, html, raw} from "./html.ts";
import {kept} from "./kept.ts";
import type {Table} from "./table.ts";
import {tableHtml} from "./tableHtml.ts";

/** What a page says about a figure; every Figure of lib/figures has it. */
export interface FigureText {
  id: string;
  title: string;
  subtitle: string;
  alt: string;
  note?: string;
  method?: string;
  notebook?: string;
  key?: readonly {label: string; color: string}[];
  table: Table;
}

/** A figure drawn twice, as SVG text: for a desk and paper, and for a phone. */
export interface Drawings {
  wide: string;
  narrow: string;
}

/** How a figure stands in its page: its number there, the workshop's currency, and what ends the name of its CSV file. */
export interface FigurePlace {
  number: number;
  currency?: string;
  period?: string;
  /** The page of the figure's notebook, if it has been made, and what it asks. */
  notebook?: {href?: string; question: string};
}

/**
 * A figure in a page: number and finding, what is measured, the key in the order of the marks, the drawing that suits the
 * width at hand, the note, and the numbers drawn as a table that opens and as a CSV file. Who cannot see the drawing hears
 * `alt` in its place. The data stand outside the figure, so that an opened table may break over pages in print. Returns Html.
 */
export function figureHtml(figure: FigureText, {wide, narrow}: Drawings, place: FigurePlace): Html {
  const headingId = `${figure.id}-title`;
  return html`<section class="figure" id="${figure.id}" aria-labelledby="${headingId}">
<h3 id="${headingId}"><span class="number">Figure ${place.number}</span> ${figure.title}</h3>
<p class="subtitle">${kept(figure.subtitle)}</p>
${figure.key && html`<ul class="key">${figure.key.map(keyEntry)}</ul>\n`}<figure>
<div class="drawing" role="img" aria-label="${figure.alt}">
<div class="wide">${raw(wide)}</div>
<div class="narrow">${raw(narrow)}</div>
</div>
${figure.note !== undefined && html`<figcaption class="note">${kept(figure.note)}</figcaption>\n`}</figure>
${leads(figure, place)}<details>
<summary>Data for figure ${place.number}</summary>
${tableHtml(figure.table, place)}<p class="csv">Save as CSV: ${csvLink(figure.table, place)}</p>
</details>
</section>
`;
}

/** Where a figure leads on to: the method further down the page, and the notebook that goes through it. */
function leads({method}: FigureText, {notebook}: FigurePlace): Html | false {
  if (method === undefined && !notebook) return false;
  const how = method !== undefined && html`<a href="#${method}">How it is worked out</a>`;
  const asked =
    notebook?.href === undefined ? notebook?.question : html`<a href="${notebook.href}">${notebook.question}</a>`;
  return html`<p class="leads">${how}${how && notebook && html` · `}${notebook && html`In a notebook: ${asked}`}</p>\n`;
}

function keyEntry({label, color}: {label: string; color: string}): Html {
  return html`<li><svg viewBox="0 0 10 10" aria-hidden="true"><rect width="10" height="10" fill="${color}"></rect></svg>${label}</li>`;
}
