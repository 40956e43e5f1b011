import {type Html, html} from "./html.ts";

/** How one kind of number is worked out. */
export interface Method {
  /** Anchor, small letters, digits and hyphens; figures name it. */
  id: string;
  heading: string;
  /** In plain words: one or more sentences. */
  text: string;
  /** The formula, its symbols explained beside it or in the text. */
  formula?: string;
  /** Anchor in the guide, where source and checks stand. */
  guide: string;
}

/** The part of a page that says how its numbers are worked out, one short part a number. Returns Html. */
export function methods(list: readonly Method[]): Html {
  return html`${list.map(
    ({id, heading, text, formula, guide}) => html`<h3 id="${id}">${heading}</h3>
<p>${text} <a href="guide.html#${guide}">Sources and checks</a></p>
${formula !== undefined && html`<p class="formula">${formula}</p>\n`}`
  )}`;
}
