import {readFileSync} from "node:fs";
import {fileURLToPath} from "node:url";
import type {Token} from "markdown-it";
import MarkdownIt from "markdown-it";
import {html, raw} from "../../lib/report/html.ts";
import {page, type Section} from "../../lib/report/page.ts";
import {styleHash} from "../io/policyHash.ts";
import {version} from "../version.ts";

/** The parts of the contributor's guide that tell how the numbers come about, in its order. */
const parts = ["How the main numbers are made", "How far the numbers can be trusted"];

const markdown = new MarkdownIt({html: false}).disable("image");

/** The contributor's guide as it lies in the repository. */
export const guideText = (): string =>
  readFileSync(fileURLToPath(new URL("../../DEVELOPERS.md", import.meta.url)), "utf8");

/** The guide's parts about the numbers as a page beside the reports, so that a figure can lead to its formula without a network. */
export function guidePage(text: string): string {
  return page({
    title: "How the numbers are made",
    subtitle: `From the contributor's guide of square-to-shaft ${version}`,
    lang: "en-GB",
    lead: [
      "For each number of the reports: what it is, its formula, where that comes from, the file that computes it and what it was checked against.",
      "Then how often the intervals held the truth in simulated workshops, and what following the advice earned there."
    ],
    sections: sections(text),
    others: [{href: "index.html", label: "All reports"}],
    footer: html`<p>Paths are those of the repository. Figures are advice, not a promise.</p>\n`,
    styleHash
  });
}

function sections(text: string): Section[] {
  const tokens = markdown.parse(text, {});
  const starts = tokens.flatMap(({type, tag}, i) => (type === "heading_open" && tag === "h2" ? [i] : []));
  return starts.flatMap((start, k) => {
    const heading = words(tokens[start + 1]!);
    if (!parts.includes(heading)) return [];
    const body = tokens.slice(start + 3, starts[k + 1]).map(fitting);
    return [
      {
        id: anchor(heading),
        heading,
        body: [raw(markdown.renderer.render(withAnchors(body), markdown.options, {}))],
        parts: body.flatMap((token, i) =>
          token.type === "heading_open" ? [{id: anchor(words(body[i + 1]!)), heading: words(body[i + 1]!)}] : []
        )
      }
    ];
  });
}

/** Headings at anchors made of their words, as figures name them. */
function withAnchors(tokens: readonly Token[]): Token[] {
  for (const [i, token] of tokens.entries())
    if (token.type === "heading_open") token.attrSet("id", anchor(words(tokens[i + 1]!)));
  return [...tokens];
}

/** A token as the style sheet wants it: columns by what they hold; tables have their scroller from the renderer. */
function fitting(token: Token): Token {
  const isNumber = token.attrGet("style") === "text-align:right";
  token.attrs = token.attrs?.filter(([name]) => name !== "style") ?? null;
  if (token.type === "th_open")
    token.attrs = [["scope", "col"], ...(isNumber ? [["class", "num"] as [string, string]] : [])];
  if (token.type === "td_open" && !isNumber) token.attrSet("class", "text");
  return token;
}

markdown.renderer.rules.table_open = () =>
  '<div class="table" role="group" aria-label="Table" tabindex="0">\n<table>\n';
markdown.renderer.rules.table_close = () => "</table>\n</div>\n";

const words = (inline: Token): string => (inline.children ?? []).map(({content}) => content).join("");

const anchor = (heading: string): string => heading.toLowerCase().replace(/[^a-z0-9]+/g, "-");
