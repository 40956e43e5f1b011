import type {PlotOptions} from "@observablehq/plot";
import type {Figure} from "../../lib/figures/figure.ts";
import {figureHtml} from "../../lib/report/figureHtml.ts";
import {type Html, html, raw} from "../../lib/report/html.ts";
import {kept} from "../../lib/report/kept.ts";
import {tableSection} from "../../lib/report/tableSection.ts";
import {draw} from "../draw.ts";
import {type ShowOptions, shown} from "./shown.ts";

/** Makes what a notebook shows into pieces of its page; figures and tables are numbered in the order they come. */
export interface Outputs {
  html(value: unknown, options: ShowOptions): Html;
  /** The book's, once it is known. */
  currency: string;
}

export function outputs(): Outputs {
  const taken = new Set<string>();
  let [figures, tables] = [0, 0];
  /** An anchor that the page does not have yet. */
  const anchor = (wish: string): string => {
    const name = [wish, ...Array.from({length: taken.size + 1}, (_, i) => `${wish}-${i + 2}`)].find(
      (one) => !taken.has(one)
    )!;
    taken.add(name);
    return name;
  };
  return {
    currency: "",
    html(value, options) {
      const what = shown(value, options, this.currency);
      const place = {number: figures + 1, currency: this.currency};
      if (what.kind === "text") return html`<p class="text">${kept(what.text)}</p>\n`;
      if (what.kind === "printed") return html`<pre class="printed">${what.text}</pre>\n`;
      if (what.kind === "table") return tableSection({...what.table, id: anchor(`table-${++tables}`)}, place);
      if (what.kind === "figure") {
        const id = anchor(what.figure.id);
        const figure = {...what.figure, id, table: {...what.figure.table, id: `${id}-data`}};
        if (figure.table.rows.length === 0) return html`<p class="text">${figure.title}. ${figure.alt}</p>\n`;
        const drawings = draw(figure);
        figures++;
        return figureHtml(figure, drawings, place);
      }
      const drawn = plotHtml(what.options, anchor(`plot-${place.number}`), place.number);
      figures++;
      return drawn;
    }
  };
}

/** A plot that is no Figure: its title, subtitle and caption are those of its options, its words for who cannot see it `ariaDescription`. */
function plotHtml(options: PlotOptions, id: string, number: number): Html {
  const {title, subtitle, caption, ariaLabel, ariaDescription, width: _, ...own} = options;
  const words = [title, subtitle, caption].map((one) => (one === undefined || one === null ? undefined : textOf(one)));
  const [heading, measure, note] = words;
  const alt = ariaDescription ?? ariaLabel ?? heading ?? "A plot without a description.";
  const figure: Figure = {
    id,
    title: heading ?? "",
    subtitle: "",
    alt,
    table: {id: `${id}-data`, caption: "", columns: [], rows: []},
    plot: () => own
  };
  const {wide, narrow} = draw(figure);
  return html`<section class="figure" id="${id}" aria-labelledby="${id}-title">
<h3 id="${id}-title"><span class="number">Figure ${number}</span> ${heading}</h3>
${measure !== undefined && html`<p class="subtitle">${kept(measure)}</p>\n`}<figure>
<div class="drawing" role="img" aria-label="${alt}">
<div class="wide">${raw(wide)}</div>
<div class="narrow">${raw(narrow)}</div>
</div>
${note !== undefined && html`<figcaption class="note">${kept(note)}</figcaption>\n`}</figure>
</section>
`;
}

function textOf(words: string | Node): string {
  return typeof words === "string" ? words : (words.textContent ?? "");
}
