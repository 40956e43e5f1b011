import {type Html, html} from "./html.ts";

/** What the contents list needs to know of a section. */
export interface ContentsEntry {
  id: string;
  heading: string;
  parts?: readonly {id: string; heading: string}[];
}

/**
 * The contents list of a page: main points first, then each section with the parts it names. Open; the page's script folds it where it would
 * stand before the main points, as on a phone. Returns Html.
 */
export function contents(sections: readonly ContentsEntry[]): Html {
  return html`<nav class="contents" aria-label="Contents">
<details open>
<summary>Contents</summary>
<ol>
${[{id: "main-points", heading: "Main points"}, ...sections].map(entry)}</ol>
</details>
</nav>
`;
}

function entry({id, heading, parts = []}: ContentsEntry): Html {
  const inner = parts.length > 0 && html`<ol>${parts.map((part) => entry(part))}</ol>`;
  return html`<li><a href="#${id}">${heading}</a>${inner}</li>\n`;
}
