import {check} from "../check.ts";
import {contents} from "./contents.ts";
import {type Html, html, htmlText, raw} from "./html.ts";
import {kept} from "./kept.ts";
import {security} from "./security.ts";
import {style} from "./style.ts";

/** One part of a page under its own heading. */
export interface Section {
  /** Small letters, digits and hyphens: the anchor. */
  id: string;
  heading: string;
  body: readonly Html[];
  /** Anchors within the section that the contents list names too, such as its figures. */
  parts?: readonly {id: string; heading: string}[];
}

/** A link to another page of the same run, by file name. */
export interface OtherPage {
  href: string;
  label: string;
}

/** All of a page. */
export interface Page {
  title: string;
  /** What period and which book. */
  subtitle: string;
  /** As in BCP 47: "en-GB". */
  lang: string;
  /** The main points, most important first, one finding each in a sentence or two, at most six. */
  lead: readonly string[];
  /** Stands under the main points: the key figures. */
  summary?: Html | undefined;
  sections: readonly Section[];
  footer: Html;
  others?: readonly OtherPage[];
  /** Of the text of `style`, as "sha256-…". */
  styleHash: string;
  /** A script that adds to the page; the page is whole without it. */
  script?: PageScript | undefined;
  /** A second one, for a page that has more to do than the others. */
  ownScript?: PageScript | undefined;
}

/** A script's text and its hash, "sha256-…". */
export interface PageScript {
  code: string;
  hash: string;
}

/**
 * A whole page, ready to be written as UTF-8: one file that needs nothing else, works without scripts, and forbids itself to
 * load anything. Returns the document's text; the same parts give the same bytes.
 *
 * @throws RangeError if there are more than six main points, an anchor is ill-formed or taken, or the script could end itself
 */
export function page({
  title,
  subtitle,
  lang,
  lead,
  summary,
  sections,
  footer,
  others = [],
  styleHash,
  script,
  ownScript
}: Page): string {
  check(lead.length <= 6, "page: lead", "at most six sentences", lead.length);
  checkAnchors(sections);
  const scripts = [script, ownScript].filter((one) => one !== undefined);
  for (const {code} of scripts)
    check(
      !/<\/script|<!--/i.test(code),
      "page: script",
      "free of </script and <!--",
      code.match(/<\/script|<!--/i)?.[0]
    );
  return htmlText(html`<!doctype html>
<html lang="${lang}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${security({styleHash, scriptHashes: scripts.map(({hash}) => hash)})}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>${raw(style)}</style>
</head>
<body>
<a class="skip" href="#main">Skip to the main points</a>
${others.length > 0 && otherPages(others)}<header>
<h1>${title}</h1>
<p>${kept(subtitle)}</p>
</header>
${contents(sections)}<main id="main" tabindex="-1">
<section aria-labelledby="main-points">
<h2 id="main-points">Main points</h2>
<ul class="lead">
${lead.map((sentence) => html`<li>${kept(sentence)}</li>\n`)}</ul>
${summary}</section>
${sections.map(sectionHtml)}</main>
<footer>
${footer}</footer>
${scripts.map(({code}) => html`<script>${raw(code)}</script>\n`)}</body>
</html>
`);
}

function otherPages(others: readonly OtherPage[]): Html {
  const entries = others.map(({href, label}) => html`<li><a href="${href}">${label}</a></li>`);
  return html`<nav class="others" aria-label="Other reports"><ul>${entries}</ul></nav>\n`;
}

function sectionHtml({id, heading, body}: Section): Html {
  return html`<section aria-labelledby="${id}">
<h2 id="${id}">${heading}</h2>
${body}</section>
`;
}

function checkAnchors(sections: readonly Section[]): void {
  const taken = new Set(["main", "main-points", "provenance", "files-read-caption"]);
  for (const {id} of sections) {
    check(/^[a-z][a-z0-9-]*$/.test(id), "page: section id", "small letters, digits and hyphens", id);
    check(!taken.has(id), "page: section id", "used once", id);
    taken.add(id);
  }
}
